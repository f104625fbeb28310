/** The runs of a plan, settled: here or by an executor, in any order, each told as it ends. */
import { parseBag } from '../../bag/index.ts';
import { BagError, type Fault } from '../../bag/types.ts';
import { type Plan, type PlannedRun, planDigest, plannedRun, refusedRun } from '../../report/index.ts';
import type { Executor } from '../jobs.ts';
import { assertKnown, RUN_KEYS } from '../known-options.ts';
import { preview } from '../preview-file.ts';
import type { SeriesRun } from '../series.ts';
import { createStop, heed } from '../stop.ts';
import { runsOf } from './bag-of-run.ts';

/** Which runs, how many at once, and who is told. */
export interface RunPlanOptions extends SeriesRun {
  /** Runs to settle by their numbers, in this order. Default: all. */ readonly only?: Iterable<number>;
  /** Runs under way at once, 1 to 256: hands of the executor. Default 1. */ readonly lanes?: number;
  /** Told of each run as it ends, in whatever order; the work waits for a promise, so that no more runs end than can be written down. What it throws stops the rest. */
  readonly onRun: (run: PlannedRun) => unknown;
  /** Told of a run that failed by a fault of the program, not of the bag; the others go on. Default: its error stops the rest. */
  readonly onFailed?: (run: number, why: unknown) => unknown;
}

/** In this thread, with a turn for others after every step. */
const here: Executor = (job, watch) => preview(job.bag, { ...job.options, ...watch });

/** Numbers of the runs of a shard, i of n from 1: every n-th, so that shards take about as long as one another. */
export function* shardOf(plan: Plan, [i, n]: readonly [number, number], done: ReadonlySet<number> = new Set()): Generator<number> {
  for (let run = i - 1; run < plan.runs; run += n) if (!done.has(run)) yield run;
}

/**
 * Settles runs of a plan. A bag that cannot be sewn, meshed or hung with what its run takes is a run without a word, and its faults are its reason. Rejects with BagError for a plan of another
 * bag or an unknown option, with the signal's reason when that is aborted; runs under way are then lost, those that ended were told. Parameters: the source that the plan was made from; the plan.
 */
export async function runPlan(source: string | object, plan: Plan, o: RunPlanOptions): Promise<void> {
  assertKnown(o, ['only', 'lanes', 'onRun', 'onFailed', ...RUN_KEYS]);
  const faults: Fault[] = [],
    { lanes = 1, only = shardOf(plan, [1, 1]), executor = here } = o;
  if (!(Number.isInteger(lanes) && lanes >= 1 && lanes <= 256)) faults.push({ path: 'lanes', got: String(lanes), expected: 'a whole number from 1 to 256' });
  if (typeof o.onRun !== 'function') faults.push({ path: 'onRun', got: String(o.onRun), expected: 'a function' });
  if (faults.length > 0) throw new BagError(faults);
  heed(o.signal);
  const stop = createStop(o.signal),
    runOf = runsOf(source, plan),
    digest = planDigest(plan).slice(0, 16),
    left = only[Symbol.iterator]();
  const settle = async (i: number): Promise<void> => {
    let made: PlannedRun;
    const base = { run: i, plan: digest };
    try {
      const { document, option, stance, values } = runOf(i);
      try {
        const options = { option, stance, bands: plan.bands, edgeLength: plan.edgeLength, corners: false },
          result = await executor({ bag: parseBag(document.value), options }, { signal: stop.signal });
        made = plannedRun({ ...base, values, option, stance }, result);
      } catch (error) {
        if (!(error instanceof BagError)) throw error;
        made = refusedRun({ ...base, values, option, stance }, error.faults);
      }
    } catch (error) {
      if (stop.signal.aborted || o.onFailed === undefined) throw error;
      await o.onFailed(i, error);
      return;
    }
    await o.onRun(made);
  };
  const lane = async (): Promise<void> => {
    while (!stop.signal.aborted) {
      const next = left.next();
      if (next.done === true) return;
      await settle(next.value).catch((error) => stop.stop(error));
    }
  };
  try {
    await Promise.all(Array.from({ length: lanes }, lane));
    heed(stop.signal);
  } finally {
    stop.release();
  }
}
