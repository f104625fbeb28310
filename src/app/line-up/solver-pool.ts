import type { Ask, Kernels, Say, Stop } from './solver-protocol.ts';

/** What is told of a job: of one that was dropped nothing more. */
export type Heard = Exclude<Say, { readonly kind: 'stopped' | 'kernels' }>;

/** A job waiting or running: what was asked and who listens. */
interface Job {
  readonly ask: Ask;
  readonly listen: (say: Heard) => void;
  /** Waits until a core is free, whatever benches there are: about how many steps it will take, the longest first. null: it is waited for. */ readonly later:
    | number
    | null;
  /** Already asked again after a crash: a second one is no accident. */ again: boolean;
}

interface Bench {
  worker: Worker;
  job: Job | null;
  /** Ends the worker that does not look up from a job it was told to drop. */ patience: number;
  /** When it was given its job, ms. */ since: number;
}

/** How long a worker may take to look up, ms: a bag that is being meshed does not. */
const PATIENCE = 1500;

const CORES = navigator.hardwareConcurrency || 2;
/** At least three, so that firm options, done in a second, do not queue behind two soft ones; the page itself needs a core on larger machines. */
const BENCHES = Math.min(4, Math.max(3, CORES - 1));
/** A worker beyond the cores is hired only where all others have been at their jobs this long, ms: what is done sooner need not pay for its compiling (2 s of a core). */
const LONG_JOB = 1000;

/**
 * The solver workers. One that is told to drop its job does so within some tens of milliseconds and stays: a fresh one takes seconds until its code is
 * compiled (measured: 4 s for a settle that takes 0.5 s warm). One that does not answer is ended. A worker that crashes is replaced; its job is asked
 * once more, and reported as failed if that crashes too.
 */
export class Solvers {
  private readonly benches: Bench[] = [];
  private readonly queue: Job[] = [];
  private kernels: Kernels | null = null;
  private counter = 0;
  private again = 0;

  /**
   * Queues a job; returns its number. `listen` hears everything the worker says about it, in order. One for `later`, which will take about so many steps, takes
   * no core from those that are waited for: the ends of a firm option's band from the middle of a soft one. Of those the longest is begun first.
   */
  start(ask: Omit<Ask, 'job'>, listen: (say: Heard) => void, later: number | null = null): number {
    const job = ++this.counter;
    this.queue.push({ ask: { ...ask, job }, listen, later, again: false });
    this.next();
    return job;
  }

  /** Stops a job, waiting or running. Nothing more is heard of it. */
  stop(job: number): void {
    const waiting = this.queue.findIndex((j) => j.ask.job === job);
    if (waiting >= 0) this.queue.splice(waiting, 1);
    const bench = this.benches.find((b) => b.job?.ask.job === job);
    if (!bench?.job) return;
    bench.job = { ...bench.job, listen: () => {}, again: true };
    bench.worker.postMessage({ stop: job } satisfies Stop);
    bench.patience = window.setTimeout(() => {
      bench.worker.terminate();
      bench.worker = this.hire(bench);
      this.free(bench);
    }, PATIENCE);
  }

  private free(bench: Bench): void {
    clearTimeout(bench.patience);
    bench.job = null;
    this.next();
  }

  /** Where in the queue the next job to run stands; -1: none may run now. */
  private due(): number {
    const urgent = this.queue.findIndex((j) => j.later === null);
    const busy = this.benches.filter((b) => b.job).length;
    return urgent < 0 && this.queue.length > 0 && busy < CORES ? longestOf(this.queue) : urgent;
  }

  private next(): void {
    for (let due = this.due(); due >= 0; due = this.due()) {
      let bench = this.benches.find((b) => b.job === null);
      if (!bench && this.benches.length < BENCHES) {
        const wait = this.benches.length < CORES ? 0 : Math.max(...this.benches.map((b) => b.since)) + LONG_JOB - performance.now();
        if (wait > 0) {
          clearTimeout(this.again);
          this.again = window.setTimeout(() => this.next(), wait);
          return;
        }
        bench = { worker: null as unknown as Worker, job: null, patience: 0, since: 0 };
        bench.worker = this.hire(bench);
        this.benches.push(bench);
      }
      if (!bench) return;
      bench.since = performance.now();
      bench.job = this.queue.splice(due, 1)[0];
      bench.worker.postMessage(bench.job.ask);
    }
  }

  private hire(bench: Bench): Worker {
    const worker = new Worker(new URL('./solver-worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = (event: MessageEvent<Say>) => {
      const say = event.data;
      if (say.kind === 'kernels') {
        this.kernels = { kernels: say.kernels };
        return;
      }
      // Words of a job that was stopped meanwhile may still be on their way.
      if (bench.worker !== worker || bench.job?.ask.job !== say.job) return;
      const { listen } = bench.job;
      if (say.kind !== 'stopped') listen(say);
      if (say.kind === 'result' || say.kind === 'weights' || say.kind === 'stopped' || say.kind === 'faults' || say.kind === 'failed') this.free(bench);
    };
    if (this.kernels) worker.postMessage(this.kernels);
    worker.onerror = (event) => {
      event.preventDefault();
      if (bench.worker !== worker) return;
      const { job } = bench;
      worker.terminate();
      clearTimeout(bench.patience);
      // Not replaced before it is needed: a worker that cannot even start would be hired again for ever.
      this.benches.splice(this.benches.indexOf(bench), 1);
      if (job && !job.again) {
        job.again = true;
        this.queue.unshift(job);
      } else job?.listen({ job: job.ask.job, kind: 'failed', message: event.message });
      this.next();
    };
    return worker;
  }
}

const longestOf = (queue: readonly Job[]): number => queue.reduce((at, job, i) => ((job.later ?? 0) > (queue[at].later ?? 0) ? i : at), 0);
