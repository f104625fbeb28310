import type { Ask, Say } from './protocol.ts';

/** The screen's one solver. A sweep runs without pausing, so it is stopped by ending its worker; the next question hires another. */
export class Runner {
  private worker: Worker | null = null;
  private job = 0;
  private listener: ((say: Say) => void) | null = null;

  ask(question: Omit<Ask, 'job'>, listen: (say: Say) => void): void {
    if (this.listener) this.stop();
    this.listener = listen;
    this.worker ??= this.hire();
    this.worker.postMessage({ ...question, job: ++this.job });
  }

  stop(): void {
    if (!this.listener) return;
    this.listener = null;
    this.worker?.terminate();
    this.worker = null;
  }

  private hire(): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = (event: MessageEvent<Say>) => {
      const say = event.data;
      if (worker !== this.worker || say.job !== this.job) return;
      const { listener } = this;
      if (say.kind === 'done' || say.kind === 'faults' || say.kind === 'failed') this.listener = null;
      listener?.(say);
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
