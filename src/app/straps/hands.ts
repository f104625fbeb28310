import { BagError, type Executor, type JobWatch, type PreviewJob, type Result } from '../../index.ts';
import type { HandAsk, HandSay } from './hand.ts';

/** More would take 100 MB each. */
const MOST = 4;

interface Waiting {
  readonly ask: HandAsk;
  readonly watch: JobWatch;
  readonly done: (result: Result) => void;
  readonly failed: (error: unknown) => void;
}

const NOWHERE = new Float64Array(0);

/** Workers of a worker, one for each core, that hang one bag each; they end with it. */
export class Hands {
  private readonly queue: Waiting[] = [];
  private readonly idle: Worker[] = [];
  private readonly most = Math.min(MOST, navigator.hardwareConcurrency || 2);
  private hired = 0;
  private counter = 0;

  /** How many may work at once. */
  get lanes(): number {
    return this.executor ? this.most : 1;
  }

  /** null: this browser's workers cannot start any, or there is one core. */
  get executor(): Executor | undefined {
    return typeof Worker === 'undefined' || this.most < 2 ? undefined : this.run;
  }

  private readonly run = (job: PreviewJob, watch: JobWatch): Promise<Result> =>
    new Promise((done, failed) => {
      this.queue.push({ ask: { id: ++this.counter, job }, watch, done, failed });
      this.next();
    });

  private next(): void {
    if (this.queue.length === 0 || (this.idle.length === 0 && this.hired >= this.most)) return;
    const worker = this.idle.pop() ?? new Worker(new URL('./hand.ts', import.meta.url), { type: 'module', name: `hand ${++this.hired}` });
    const { ask, watch, done, failed } = this.queue.shift()!;
    const end = (act: () => void): void => {
      this.idle.push(worker);
      act();
      this.next();
    };
    worker.onmessage = ({ data }: MessageEvent<HandSay>) => {
      if (data.id !== ask.id) return;
      if (data.kind === 'at') watch.onProgress?.({ band: data.band, stage: data.stage, fraction: data.fraction, positions: NOWHERE });
      else if (data.kind === 'done') end(() => done(data.result));
      else if (data.kind === 'faults') end(() => failed(new BagError(data.faults)));
      else end(() => failed(new Error(data.message)));
    };
    worker.onerror = (event) => {
      event.preventDefault();
      worker.terminate();
      this.hired--;
      failed(new Error(event.message || 'a worker stopped'));
      this.next();
    };
    worker.postMessage(ask);
  }
}
