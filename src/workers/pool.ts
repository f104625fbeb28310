import { BagError, Cancelled, type Executor, type JobWatch, PatternError, type PreviewJob, preview, type Result } from '../public/slumpline.ts';
import type { OpenThread, Say, Thread } from './protocol.ts';

/** How many threads. */
export interface WorkersOptions {
  /** Previews at once, 1 to 256; default one for each core. Each thread takes memory of its own: see src/workers/README.md. */ readonly count?: number;
}

/** Threads that run previews beside the program that asks. */
export interface Workers {
  /** Previews at once. */ readonly count: number;
  /** For `preview(bag, { executor })` and its kin: several of them may share the same workers. */ readonly executor: Executor;
  /** preview() with this executor: progress and AbortSignal as there, while the calling thread stays free. */ readonly preview: typeof preview;
  /** Ends every thread; what runs or waits rejects with Cancelled. Afterwards a new job starts threads anew. */ readonly end: () => void;
}

interface Job {
  readonly id: number;
  readonly job: PreviewJob;
  readonly watch: JobWatch;
  readonly resolve: (result: Result) => void;
  readonly reject: (why: unknown) => void;
}

/** One place to work at: a thread once it is needed, and the job it has. */
interface Seat {
  thread: Thread | null;
  job: Job | null;
}

const MOST = 256;

/**
 * A pool over threads of any kind. Jobs are begun in the order in which they come, each by the first free thread. A job that is not wanted any more ends its thread at once,
 * in the middle of a step: a thread that settles does not listen. Throws BagError for a count that is none and for other options.
 */
export function createPool(open: OpenThread, cores: number, asked: WorkersOptions = {}): Workers {
  if (typeof asked !== 'object' || asked === null || Array.isArray(asked))
    throw new BagError([{ path: 'options', got: JSON.stringify(asked) ?? String(asked), expected: 'an object with count' }]);
  const strange = Object.keys(asked).filter((key) => key !== 'count');
  if (strange.length > 0) throw new BagError(strange.map((key) => ({ path: key, got: 'an unknown option', expected: 'count: how many threads' })));
  const { count = Math.max(1, cores) } = asked;
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST))
    throw new BagError([{ path: 'count', got: JSON.stringify(count) ?? String(count), expected: `a whole number from 1 to ${MOST}` }]);
  const seats = Array.from({ length: count }, (): Seat => ({ thread: null, job: null })),
    queue: Job[] = [];
  let last = 0;

  const free = (seat: Seat): Job | null => {
    const { job } = seat;
    seat.job = null;
    seat.thread?.hold(false);
    return job;
  };
  const lose = (seat: Seat): void => {
    seat.thread?.end();
    seat.thread = null;
  };

  const heard = (seat: Seat, say: Say): void => {
    // What a thread said of a job that was given up meanwhile.
    if (seat.job?.id !== say.id) return;
    if (say.kind === 'word') {
      seat.job.watch.onWord?.(say.news);
      return;
    }
    if (say.kind === 'progress') {
      const { watch, reject } = seat.job;
      try {
        if (watch.onProgress?.(say.at) === false) throw new Cancelled();
      } catch (error) {
        free(seat);
        lose(seat);
        reject(error);
        next();
      }
      return;
    }
    const job = free(seat)!;
    if (say.kind === 'done') job.resolve(say.result);
    else if (say.kind === 'faults') job.reject(say.findings ? new PatternError(say.findings, say.faults) : new BagError(say.faults));
    else job.reject(Object.assign(new Error(say.message), { stack: say.stack }));
    next();
  };

  const open1 = (seat: Seat): Thread => {
    const thread = open(
      (say) => {
        if (seat.thread === thread) heard(seat, say);
      },
      (why) => {
        if (seat.thread !== thread) return;
        seat.thread = null;
        free(seat)?.reject(why);
        next();
      },
    );
    return thread;
  };

  function next(): void {
    for (const seat of seats) {
      if (queue.length === 0) return;
      if (seat.job) continue;
      const job = queue.shift()!;
      seat.job = job;
      seat.thread ??= open1(seat);
      seat.thread.hold(true);
      seat.thread.post({ id: job.id, job: job.job });
    }
  }

  const drop = (job: Job, why: unknown): void => {
    const waiting = queue.indexOf(job),
      seat = seats.find((s) => s.job === job);
    if (waiting >= 0) queue.splice(waiting, 1);
    if (seat) {
      free(seat);
      lose(seat);
    }
    job.reject(why);
    if (seat) next();
  };

  const executor: Executor = (job, watch) => {
    const { signal } = watch;
    if (signal?.aborted) return Promise.reject(signal.reason);
    let stop: (() => void) | undefined;
    return new Promise<Result>((resolve, reject) => {
      const own: Job = { id: ++last, job, watch, resolve, reject };
      stop = () => drop(own, signal?.reason);
      signal?.addEventListener?.('abort', stop);
      queue.push(own);
      next();
    }).finally(() => stop && signal?.removeEventListener?.('abort', stop));
  };

  return {
    count,
    executor,
    preview: (spec, o = {}) => preview(spec, { ...o, executor }),
    end: () => {
      const open = [...seats.flatMap((s) => (s.job ? [s.job] : [])), ...queue.splice(0)];
      for (const seat of seats) {
        seat.job = null;
        lose(seat);
      }
      for (const job of open) job.reject(new Cancelled());
    },
  };
}
