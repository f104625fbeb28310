// npm run bench:jobs [EDGE in mm]: a line-up of 24 runs (4 options, 2 stances, 3 ends of the band) by one thread and by two; needs dist/lib (npm run build).
// A clock on a shared machine says little: CPU seconds are told beside it, and what threads cost in CPU is a bound on what they can gain.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { availableParallelism, cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const root = process.cwd();
const entry = (name: string) => import(/* @vite-ignore */ pathToFileURL(join(root, `dist/lib/public/${name}.js`)).href);
const { parseBag, preview } = await entry('slumpline');
const { resultsJson } = await entry('report');
const { startWorkers } = await entry('worker');

const file = JSON.parse(readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8'));
file.stances = { standing: { kind: 'standing' }, 'with 1 kg': { kind: 'standing', load: '1 kg' } };
const bag = parseBag(file);
const edgeLength = Number(process.argv[2] ?? 20) / 1000;
const runs = bag.options.flatMap((o: { name: string }) => bag.stances.map((s: { name: string }) => ({ option: o.name, stance: s.name, edgeLength })));

async function lineUp(count: number) {
  const workers = startWorkers({ count });
  const [from, cpu] = [performance.now(), process.cpuUsage()];
  const results = await Promise.all(runs.map((run: object) => preview(bag, { ...run, executor: workers.executor })));
  const used = process.cpuUsage(cpu);
  const rss = process.memoryUsage().rss / 1e6;
  workers.end();
  return {
    count,
    wall: (performance.now() - from) / 1000,
    cpu: (used.user + used.system) / 1e6,
    rss,
    digest: createHash('sha256').update(resultsJson(results)).digest('hex').slice(0, 16),
  };
}

const before = process.memoryUsage().rss / 1e6;
console.log(
  `${runs.length * 3} runs at ${edgeLength * 1000} mm; ${availableParallelism()} cores seen (${cpus()[0]?.model ?? '?'}; hyperthreads of one core count as two), load ${loadavg()
    .map((l) => l.toFixed(1))
    .join(' ')}; ${before.toFixed(0)} MB before`,
);
const one = await lineUp(1);
const two = await lineUp(2);
for (const r of [one, two])
  console.log(
    `${r.count} thread${r.count > 1 ? 's' : ''}: ${r.wall.toFixed(1)} s, ${r.cpu.toFixed(1)} CPU s, ${r.rss.toFixed(0)} MB at the end, SHA-256 ${r.digest}`,
  );
console.log(`same bytes: ${one.digest === two.digest ? 'yes' : 'NO'}`);
console.log(
  `efficiency by the clock ${((100 * one.wall) / (2 * two.wall)).toFixed(0)} %; bound by CPU (what two threads use for it) ${((100 * one.cpu) / two.cpu).toFixed(0)} %`,
);
