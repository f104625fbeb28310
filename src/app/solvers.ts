import type { Ask, Say } from './protocol.ts';

/** A job waiting or running: what was asked and who listens. */
interface Job {
  readonly ask: Ask;
  readonly listen: (say: Say) => void;
  /** Already asked again after a crash: a second one is no accident. */ again: boolean;
}

interface Bench {
  worker: Worker;
  job: Job | null;
}

/** At least three, so that firm options, done in a second, do not queue behind two soft ones; the page itself needs a core on larger machines. */
const BENCHES = Math.min(4, Math.max(2, (navigator.hardwareConcurrency || 2) - 1));

/**
 * The solver workers. A settle runs without pausing, so it is stopped by ending its worker and starting a fresh one;
 * a worker that crashes is replaced the same way; its job is asked once more, and reported as failed if that crashes too.
 */
export class Solvers {
  private readonly benches: Bench[] = [];
  private readonly queue: Job[] = [];
  private counter = 0;

  /** Queues a job; returns its number. `listen` hears everything the worker says about it, in order. */
  start(ask: Omit<Ask, 'job'>, listen: (say: Say) => void): number {
    const job = ++this.counter;
    this.queue.push({ ask: { ...ask, job }, listen, again: false });
    this.next();
    return job;
  }

  /** Stops a job, waiting or running. Nothing more is heard of it. */
  stop(job: number): void {
    const waiting = this.queue.findIndex((j) => j.ask.job === job);
    if (waiting >= 0) this.queue.splice(waiting, 1);
    const bench = this.benches.find((b) => b.job?.ask.job === job);
    if (!bench) return;
    bench.worker.terminate();
    bench.job = null;
    bench.worker = this.hire(bench);
    this.next();
  }

  private next(): void {
    while (this.queue.length > 0) {
      let bench = this.benches.find((b) => b.job === null);
      if (!bench && this.benches.length < BENCHES) {
        bench = { worker: null as unknown as Worker, job: null };
        bench.worker = this.hire(bench);
        this.benches.push(bench);
      }
      if (!bench) return;
      bench.job = this.queue.shift()!;
      bench.worker.postMessage(bench.job.ask);
    }
  }

  private hire(bench: Bench): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = (event: MessageEvent<Say>) => {
      const say = event.data;
      // Words of a job that was stopped meanwhile may still be on their way.
      if (bench.worker !== worker || bench.job?.ask.job !== say.job) return;
      const { listen } = bench.job;
      const last = say.kind === 'result' || say.kind === 'faults' || say.kind === 'failed';
      if (last) bench.job = null;
      listen(say);
      if (last) this.next();
    };
    worker.onerror = (event) => {
      event.preventDefault();
      if (bench.worker !== worker) return;
      const { job } = bench;
      worker.terminate();
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
