import type { DraftingSay } from './drafting-worker.ts';

/** Most times an edit is asked again because the bag has changed under it. */
const MOST = 5;

/**
 * One question to the drafting worker at a time, in order. An edit is asked of the bag as it is when its turn comes; where the bag has become another one
 * before the answer (an undo, a field of the panel of controls), the edit is asked again of that one, so that neither change is lost.
 */
export class EditQueue {
  private last: Promise<unknown> = Promise.resolve();
  /** bag: the bag there is now, as text. free: nothing is pressed that a drawing would take away. */
  constructor(
    private readonly bag: () => string,
    private readonly free: () => Promise<void>,
  ) {}

  run<T>(work: () => Promise<T>): Promise<T> {
    const next = this.last.then(work, work);
    this.last = next.catch(() => undefined);
    return next;
  }

  edit(ask: (bag: string) => Promise<DraftingSay>, took: (say: DraftingSay) => void): Promise<void> {
    return this.run(async () => {
      for (let i = 0; i < MOST; i++) {
        const base = this.bag();
        const say = await ask(base);
        await this.free();
        if (this.bag() !== base) continue;
        took(say);
        return;
      }
    });
  }
}
