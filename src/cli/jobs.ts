import type { Executor } from '../index.ts';
import { EXIT, Failure, type Io } from './io.ts';

/** The flag that says how many bags are settled at once; every command that settles has it alike. */
export const JOBS = [
  '--jobs <n>',
  'how many to settle at once, each in a thread of its own (default: one for each core); the same result whatever the number',
] as const;

const MOST = 256;

/** What --jobs says; a Failure where it is no number of threads. */
export function readJobs(io: Io, text: string | undefined): number {
  if (text === undefined) return io.cores;
  const count = /^\s*\d+\s*$/.test(text) ? Number(text) : Number.NaN;
  if (count >= 1 && count <= MOST) return count;
  throw new Failure(`invalid --jobs "${text}": expected a whole number from 1 to ${MOST}\n`, EXIT.input);
}

/**
 * Does work with threads beside it where there is more than one thing to do at once: no more threads than `parts`. They are ended whatever becomes of the work. Without
 * threads (one core, one part, a machine that has none) the work is handed no executor and runs here. here: runs jobs in this thread, which is then one of those at work:
 * what comes first needs no thread to be started.
 */
export async function withWorkers<T>(io: Io, jobs: number, parts: number, work: (executor?: Executor) => Promise<T>, here?: Executor): Promise<T> {
  const count = Math.min(jobs, parts);
  if (count < 2 || io.startWorkers === undefined) return work();
  const workers = io.startWorkers(here ? count - 1 : count);
  try {
    return await work(here ? beside(here, workers.executor, count) : workers.executor);
  } finally {
    workers.end();
  }
}

/** Runs `count` jobs at once, in the order in which they come: one here, the others in threads. */
function beside(here: Executor, threads: Executor, count: number): Executor {
  const free = [here, ...Array.from({ length: count - 1 }, () => threads)],
    waiting: (() => void)[] = [];
  return async (job, watch) => {
    while (free.length === 0) await new Promise<void>((go) => waiting.push(go));
    const lane = free.shift()!;
    try {
      if (watch.signal?.aborted) throw watch.signal.reason;
      return await lane(job, watch);
    } finally {
      if (lane === here) free.unshift(lane);
      else free.push(lane);
      waiting.shift()?.();
    }
  };
}
