import { BagError } from '../bag/types.ts';
import type { Band } from '../material/types.ts';
import type { EarlyWord } from '../report/types.ts';

/** Where a piece of work is. */
export interface RunProgress {
  /** The solver's own word for what it does: "settling", "falling", "nudged", ... */ readonly stage: string;
  /** Share of the whole that is done at least, 0 to under 1; never goes back. */ readonly fraction: number;
  /** 3n positions now, m; not to be written to. */ readonly positions: Float64Array;
}

/** Where one bag's preview is. */
export interface PreviewProgress extends RunProgress {
  /** End of the material's band that is being settled. */ readonly band: Band;
}

/** The word of a run that is not at rest yet, where that is certain already: told once a run, on its way down. */
export interface EarlyNews {
  /** End of the material's band. */ readonly band: Band;
  readonly word: EarlyWord;
  /** Share of the drafted height kept at this moment; it still falls. */ readonly heightKept: number;
  /** 3n positions now, m; not to be written to. */ readonly positions: Float64Array;
}

/** Where a series of previews (anchors at several distances, several loads, changes) is. */
export interface SeriesProgress extends RunProgress {
  /** Which one is being settled, in words: "as drawn", "80 mm, 2 of 4". */ readonly run: string;
}

/**
 * Called on the way; returning false cancels. preview() waits for a promise and heeds what it comes to; whatever runs at one go (previewSync, rankChanges, the sweeps)
 * cannot wait, and refuses one with a BagError.
 */
export type Told<P> = (at: P) => unknown;

/** Is it a promise, of this program or of another realm? */
export const isPromise = (answer: unknown): answer is PromiseLike<unknown> =>
  typeof answer === 'object' && answer !== null && typeof (answer as { readonly then?: unknown }).then === 'function';

/** Thrown when onProgress asked to stop; nothing of the run is returned. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}

/** Thrown where an answer would have to be waited for by something that runs at one go. */
export class CannotWait extends BagError {
  constructor() {
    super([{ path: 'onProgress', got: 'a promise', expected: 'an answer at once; await preview() waits for promises' }]);
  }
}

/** Shares never go back, and the whole is reached by the result alone. */
const LAST = 0.999;

/** `told` with fractions that only go forward: stages overlap a little in their estimates. Throws BagError for an answer that would have to be waited for. */
export function forward<P extends RunProgress>(told: Told<P> | undefined): Told<P> {
  let furthest = 0;
  return (at) => {
    furthest = Math.max(furthest, Math.min(LAST, Number.isFinite(at.fraction) ? at.fraction : 0));
    const answer = told?.({ ...at, fraction: furthest });
    if (isPromise(answer)) throw new CannotWait();
    return answer;
  };
}

/** The part of a series' progress that its run number i of `count` tells. */
export const partOf =
  (told: Told<SeriesProgress> | undefined, run: string, i: number, count: number): Told<PreviewProgress> =>
  ({ stage, fraction, positions }) =>
    told?.({ run, stage, fraction: (i + fraction) / count, positions });
