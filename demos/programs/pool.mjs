// In how many hides does it hold? Fifty draws by all cores:  node pool.mjs my.bag.json "material.veg20.band=low..high" 50
// Runs that ended are printed as they come, whichever is first; the table is in order.
import { readFile } from 'node:fs/promises';
import { planRuns, runPlan, runsText } from 'slumpline/sweep';
import { startWorkers } from 'slumpline/worker';

const [file, vary, samples = '50', edge = '0.02'] = process.argv.slice(2);
const text = await readFile(file, 'utf8');
const plan = planRuns(text, { vary, samples: Number(samples), edgeLength: Number(edge) });
const workers = startWorkers(); // one thread for each core
const runs = [];
try {
  await runPlan(text, plan, {
    executor: workers.executor,
    lanes: workers.count,
    onRun: (run) => {
      runs.push(run);
      console.error(`${runs.length} of ${plan.runs}: run ${run.run} ${run.word ?? 'cannot be made'}`);
    },
  });
} finally {
  workers.end();
}
runs.sort((a, b) => a.run - b.run);
console.log(runsText(plan, runs));
