import type { Result, SettledMaps } from './core.ts';
import type { Ask, Say } from './protocol.ts';

type Run = Result['runs'][number];

/** Works the maps of settled states out, one after another in a worker of its own, each state once. A state whose maps failed stays without. */
export class Maker {
  private worker: Worker | null = null;
  private counter = 0;
  private readonly waiting = new Map<number, Run['positions']>();
  /** By the positions, which the results of one settle share. null: being made; a string: why not. */
  private readonly made = new WeakMap<Run['positions'], SettledMaps | string | null>();
  constructor(private readonly done: () => void) {}

  /** The maps of a state; null while they are made (the first asking begins that), a string where they failed. */
  of(result: Result, run: Run): SettledMaps | string | null {
    const known = this.made.get(run.positions);
    if (known !== undefined) return known;
    this.made.set(run.positions, null);
    const id = ++this.counter;
    this.waiting.set(id, run.positions);
    const { mesh, triRest } = result;
    const { positions, cloth, contents } = run;
    const ask: Ask = { id, settled: { mesh, triRest, run: { positions, cloth, contents } } };
    this.worker ??= this.hire();
    this.worker.postMessage(ask);
    return null;
  }

  private hire(): Worker {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<Say>) => {
      const of = this.waiting.get(data.id);
      this.waiting.delete(data.id);
      if (of) this.made.set(of, 'maps' in data ? data.maps : data.failed);
      this.done();
    };
    worker.onerror = (event) => {
      event.preventDefault();
      worker.terminate();
      this.worker = null;
      for (const of of this.waiting.values()) this.made.set(of, event.message || 'its solver stopped');
      this.waiting.clear();
      this.done();
    };
    return worker;
  }
}
