type WithoutJob<Q> = Q extends unknown ? Omit<Q, 'job'> : never;
interface Failed {
  readonly job: number;
  readonly kind: 'failed';
  readonly message: string;
}

/**
 * A worker that does one thing at a time. It runs without pausing, so it is stopped by ending it; the next question hires another. A new question ends the one
 * before it; an idle worker is kept. `last` tells the answer after which nothing more is said.
 */
export class OneJob<Ask extends { readonly job: number }, Say extends { readonly job: number }> {
  private worker: Worker | null = null;
  private job = 0;
  private listener: ((say: Say | Failed) => void) | null = null;

  constructor(
    private readonly start: () => Worker,
    private readonly last: (say: Say) => boolean,
  ) {}

  /** Asks; `listen` hears everything that is said about it, in order, until it is stopped or another question is asked. */
  ask(question: WithoutJob<Ask>, listen: (say: Say | Failed) => void): void {
    this.stop();
    this.listener = listen;
    this.worker ??= this.hire();
    this.worker.postMessage({ ...question, job: ++this.job });
  }

  get running(): boolean {
    return this.listener !== null;
  }

  stop(): void {
    if (!this.listener) return;
    this.listener = null;
    this.worker?.terminate();
    this.worker = null;
  }

  private hire(): Worker {
    const worker = this.start();
    worker.onmessage = ({ data }: MessageEvent<Say>) => {
      if (worker !== this.worker || data.job !== this.job) return;
      const { listener } = this;
      if (this.last(data)) this.listener = null;
      listener?.(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      if (worker !== this.worker) return;
      const { listener } = this;
      this.stop();
      listener?.({ job: this.job, kind: 'failed', message: event.message || 'its solver stopped' });
    };
    return worker;
  }
}
