import type { Command } from 'commander';
import type { Plan, PlannedRun } from '../index.ts';
import { readSewable } from './check.ts';
import type { Core } from './core.ts';
import { guarded } from './faults.ts';
import { assertWritable, EXIT, Failure, type Io, readText } from './io.ts';
import { JOBS, readJobs, withWorkers } from './jobs.ts';
import { createMeter } from './progress.ts';
import { readBands, readMesh } from './settle.ts';
import { openFolder, type Shard, writeTables } from './sweep-folder.ts';

interface SweepFlags {
  readonly vary: string;
  readonly samples?: string;
  readonly seed?: string;
  readonly bands?: string;
  readonly mesh?: string;
  readonly shard?: string;
  readonly out?: string;
  readonly bagOf?: string;
  readonly plan?: boolean;
  readonly yes?: boolean;
  readonly jobs?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Runs that are begun without being asked about. */
const UNASKED = 1e6;

const EXAMPLES = `
What is varied, with commas between: NAME=VALUES
  W=260..340/5                     a parameter of the file, in the unit it is written in; W=260..340mm/5 in millimetres whatever that is
  stack.lined.bond=0.2..0.8/4      bond of a stack's fused layers; stack."canvas, lined"[2].bond: of one layer, counted from the face
  stack.hide[1].thickness=1.6..2.0mm/5
  material.canvas10.bending=low..high/9   also in-plane, shear, mass; band: bending, in-plane and shear together
  anchor.handle=40..120mm/5        distance of a strap's anchors from the side
  friction=0.3..0.5/3              of every stance; stance.NAME.friction, stance.NAME.load for one
  option=*   stance=standing|hung  all of them, or these
a..b/n: n steps with both ends.  a|b|c: these.  With --samples, ranges are drawn from (a..b, or the steps of a..b/n) and lists, options and stances
are gone through with the same draws. low, mid and high are those of a material's band; rigidities are even by ratio.
A folder that was stopped goes on where it stopped when the same command is given again; a changed bag or question is refused.`;

/** Adds `sweep` to the program. `done` is told the exit code. */
export function registerSweep(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  program
    .command('sweep')
    .argument('<file>', 'bag file (*.bag.json), or "-" for standard input')
    .description('Settle many bags of one question: sizes, bonds, materials, options, every one or drawn at random; stop and go on, on one machine or many.')
    .requiredOption('--vary <list>', 'what is varied and over what, such as "W=260..340/5,option=*"; see below')
    .option('--samples <n>', 'draw n bags from the ranges (Latin hypercube) instead of going through them')
    .option('--seed <n>', 'seed of the draws (default: 1)')
    .option(
      '--out <dir>',
      'folder for manifest.json, runs-*.jsonl (a line a run, written as it ends), and at the end table.csv, table.json (the page opens it) and plots',
    )
    .option('--bands <list>', 'ends of the material that each run settles, such as low,mid,high (default: mid, a typical bolt)')
    .option('--mesh <mm>', 'edge length of the mesh in mm, the same for every run (default: about 650 points)')
    .option('--shard <i/n>', 'only every n-th run, beginning with the i-th; "merge" lays the shards together')
    .option('--plan', 'only say how many runs it would be')
    .option('--bag-of <run>', 'print the bag file of one run, and settle nothing')
    .option('--yes', 'begin more than a million runs')
    .option(...JOBS)
    .option('--json', 'print the table as JSON, and nothing else on stdout')
    .option('--quiet', 'no progress on stderr')
    .addHelpText('after', EXAMPLES)
    .action(async (file: string, flags: SweepFlags) => done(await sweep(io, core, file, flags)));
}

/**
 * `sweep FILE --vary LIST --out DIR`. Each run is on the disk when the next is begun. Exit 0 when every run that was asked for is done, 2 for bad input or a folder that does not fit (all of it
 * listed), 3 when some did not come to rest, 1 when some failed by a fault of the program, 130 stopped: the folder goes on with the same command.
 */
async function sweep(io: Io, core: Core, file: string, flags: SweepFlags): Promise<number> {
  const text = await readText(io, file);
  readSewable(core, file, text);
  const shard = readShard(flags.shard),
    threads = readJobs(io, flags.jobs),
    asked = {
      vary: flags.vary,
      ...(flags.samples === undefined ? {} : { samples: number(flags.samples) }),
      ...(flags.seed === undefined ? {} : { seed: number(flags.seed) }),
      ...(flags.bands === undefined ? {} : { bands: readBands(core, flags.bands) }),
      ...(flags.mesh === undefined ? {} : { edgeLength: readMesh(core, flags.mesh) }),
    },
    plan = guarded(core, file, () => core.planRuns(text, asked));
  if (flags.plan === true) {
    io.out(core.planText(plan));
    return EXIT.ok;
  }
  if (flags.bagOf !== undefined) return bagOf(io, core, text, plan, flags.bagOf);
  if (flags.out === undefined) throw new Failure('--out <dir> is missing: the folder that keeps the runs\n', EXIT.input);
  if (plan.runs > UNASKED && flags.yes !== true)
    throw new Failure(`this is ${plan.runs} runs, over a million: give --yes as well where that is meant\n${core.planText(plan)}`, EXIT.input);
  await assertWritable(io, flags.out);
  return settleAll(io, core, text, plan, { ...flags, out: flags.out }, shard, threads);
}

const number = (text: string): number => (/^\s*\d+\s*$/.test(text) ? Number(text) : Number.NaN);

function readShard(text: string | undefined): Shard {
  if (text === undefined) return [1, 1];
  const m = /^\s*(\d+)\s*\/\s*(\d+)\s*$/.exec(text),
    [i, n] = [Number(m?.[1]), Number(m?.[2])];
  if (m && i >= 1 && i <= n && n <= 1e5) return [i, n];
  throw new Failure(`invalid --shard "${text}": expected one of several, counted from 1, such as 3/8\n`, EXIT.input);
}

function bagOf(io: Io, core: Core, text: string, plan: Plan, asked: string): number {
  const i = number(asked);
  if (!(i < plan.runs)) throw new Failure(`invalid --bag-of "${asked}": expected the number of a run, 0 to ${plan.runs - 1}\n`, EXIT.input);
  const run = guarded(core, `run ${i}`, () => core.runsOf(text, plan)(i));
  io.out(core.printBag(run.document));
  io.err(`run ${i}: option "${run.option}", stance "${run.stance}", mesh ${Number((1000 * plan.edgeLength).toPrecision(4))} mm\n`);
  return EXIT.ok;
}

async function settleAll(
  io: Io,
  core: Core,
  text: string,
  plan: Plan,
  flags: SweepFlags & { readonly out: string },
  shard: Shard,
  threads: number,
): Promise<number> {
  const quiet = flags.quiet ?? false,
    folder = await openFolder(io, core, flags.out, plan, shard),
    meter = createMeter(io, quiet),
    kept = new Set(folder.done.map((r) => r.run)),
    mine = [...core.shardOf(plan, shard)].filter((i) => !kept.has(i)).length,
    own: PlannedRun[] = [],
    failed: { readonly run: number; readonly why: unknown }[] = [],
    stop = new AbortController();
  if (!quiet) io.err(`${core.planText(plan)}${kept.size > 0 ? `  ${kept.size} done already\n` : ''}`);
  // Told at most a hundred times where lines stay: ten thousand of them are no log.
  const every = io.errIsTerminal ? 1 : Math.max(1, Math.floor(mine / 100));
  const [begun, cpu] = [io.now(), io.cpuSeconds()];
  const release = io.onInterrupt(() => stop.abort(new core.Cancelled()));
  const onRun = async (run: PlannedRun): Promise<void> => {
    await folder.add(run);
    own.push(run);
    if (own.length % every === 0)
      meter.tell(`${kept.size + own.length} of ${kept.size + mine}${leftWords(io.now() - begun, own.length, mine)}`, own.length / mine);
  };
  try {
    await withWorkers(io, threads, mine, (executor) =>
      core.runPlan(text, plan, {
        only: core.shardOf(plan, shard, kept),
        lanes: executor ? Math.min(threads, mine) : 1,
        signal: stop.signal,
        ...(executor ? { executor } : {}),
        onRun,
        onFailed: (run, why) => {
          failed.push({ run, why });
        },
      }),
    );
  } catch (error) {
    if (!(error instanceof core.Cancelled)) throw error;
    meter.done();
    throw new Failure(
      `stopped; ${kept.size + own.length} of ${kept.size + mine} runs are kept in ${flags.out}, and the same command goes on\n`,
      EXIT.interrupted,
    );
  } finally {
    meter.done();
    release();
    await folder.close();
  }
  if (!quiet && own.length > 0) io.err(costWords(own.length, (io.now() - begun) / 1000, io.cpuSeconds() - cpu));
  if (failed.length > 0) throw new Failure(failedWords(failed), EXIT.program);
  const all = [...folder.done, ...own].sort((a, b) => a.run - b.run);
  if (all.length === plan.runs) await writeTables(io, core, flags.out, plan, all, quiet);
  else if (!quiet) io.err(`${all.length} of ${plan.runs} runs stand in ${flags.out}; "slumpline merge" lays the shards together when all are done\n`);
  io.out(flags.json === true ? core.runsJson(plan, all) : core.runsText(plan, all));
  return all.some((r) => r.word === 'no verdict') ? EXIT.notSettled : EXIT.ok;
}

/** ", about 12 min left": by what this call has done so far. A clock that stands still or runs backwards says nothing. */
function leftWords(ms: number, done: number, of: number): string {
  const left = (ms / 1000 / done) * (of - done);
  if (!(ms > 0) || of === done) return '';
  return `, about ${left < 90 ? `${Math.ceil(left)} s` : left < 5400 ? `${Math.round(left / 60)} min` : `${(left / 3600).toFixed(1)} h`} left`;
}

/** What the runs of this call took; of a clock that stands still or runs backwards only the work of the cores. */
function costWords(runs: number, seconds: number, cpu: number): string {
  const paced = seconds > 0 ? ` in ${seconds.toFixed(1)} s: ${((60 * runs) / seconds).toFixed(1)} a minute` : '';
  return `${runs} runs${paced}, ${(cpu / runs).toFixed(2)} s of a core each\n`;
}

function failedWords(failed: readonly { readonly run: number; readonly why: unknown }[]): string {
  const why = failed[0]?.why;
  return `slumpline: ${failed.length} runs failed by a fault of the program, not of the bag (run ${failed
    .slice(0, 8)
    .map((f) => f.run)
    .join(', ')}); the others are kept, and the same command tries these once more.\n${why instanceof Error ? (why.stack ?? why.message) : String(why)}\n`;
}
