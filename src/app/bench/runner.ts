import type { Ask, Say } from './protocol.ts';

type Question = Ask extends infer A ? (A extends Ask ? Omit<A, 'job'> : never) : never;

/**
 * One worker of the bench, doing one thing at a time. A settle runs without pausing, so it is stopped by ending the worker; a new question
 * ends the one before it.
 */
export class Runner {
  private worker: Worker | null = null;
  private job = 0;
  private busy = false;
  private listener: ((say: Say) => void) | null = null;

  /** Asks; `listen` hears everything that is said about it, in order, until it is stopped or another question is asked. */
  ask(question: Question, listen: (say: Say) => void): void {
    if (this.busy) this.stop();
    this.listener = listen;
    this.busy = true;
    this.worker ??= this.hire();
    this.worker.postMessage({ ...question, job: ++this.job });
  }

  get running(): boolean {
    return this.busy;
  }

  /** Ends what runs; an idle worker is kept for the next question. */
  stop(): void {
    if (this.busy) this.dismiss();
    this.listener = null;
  }

  private dismiss(): void {
    this.busy = false;
    this.worker?.terminate();
    this.worker = null;
  }

  private hire(): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = (event: MessageEvent<Say>) => {
      const say = event.data;
      if (worker !== this.worker || say.job !== this.job) return;
      if (say.kind === 'own' || say.kind === 'faults' || say.kind === 'failed' || (say.kind === 'fall' && say.x === null)) this.busy = false;
      this.listener?.(say);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      if (worker !== this.worker) return;
      const { listener } = this;
      this.dismiss();
      this.listener = null;
      listener?.({ job: this.job, kind: 'failed', message: event.message });
    };
    return worker;
  }
}
