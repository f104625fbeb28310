import { parseBag } from '../bag/index.ts';
import { type Bag, BagError } from '../bag/types.ts';
import type { Result } from '../report/types.ts';
import { readyForArcs } from '../solver/arcs.ts';
import { drop } from '../solver/rigid.ts';
import { type Executor, previewInParts } from './jobs.ts';
import { ASYNC_KEYS, assertKnown, PREVIEW_KEYS } from './known-options.ts';
import { previewBag } from './preview.ts';
import { Cancelled, isPromise, type PreviewProgress } from './progress.ts';
import { type PreviewOptions, settlingBag } from './settle-bag.ts';
import { heed, type StopSignal } from './stop.ts';

/** Bag file as text, as the object its JSON stands for, or a parsed Bag. */
export type Spec = string | object;

/** A turn of the event loop without a clock: Node's own, elsewhere a message (Node would deliver many of those before it looks at a timer). */
declare const setImmediate: ((then: () => void) => unknown) | undefined;
declare const MessageChannel: new () => {
  readonly port1: { onmessage: (() => void) | null; close(): void };
  readonly port2: { postMessage(message: null): void };
};

/** What preview() may be asked beside what is settled. */
export interface AsyncOptions extends PreviewOptions {
  /** Stops it: an AbortSignal. */ readonly signal?: StopSignal;
  /** Runs the ends of the band and the middle's checks elsewhere, several at once: see `slumpline/worker`. Default: here, one after another. `now` and `drop` are its own business then. */
  readonly executor?: Executor;
  /**
   * With an executor, and ends of the band that are not named: begin the soft end beside the middle, or the stiff one once the middle is sure to slump, before it is known whether it is
   * needed. Sooner done where hands are idle, for work that may be thrown away. Default false.
   */
  readonly ahead?: boolean;
}

/**
 * The whole way: bag file -> verdict with its reasons. It lets messages, timers and the signal through after every step of the solver, so that a server or a page stays alive
 * beside it; the result does not depend on when. Where onProgress returns a promise, the work waits for it. Rejects with BagError (every fault, each with its path) for bad
 * input, with the signal's reason when that is aborted, with Cancelled when onProgress returned false or a promise of it. Same input, same numbers (apart from `seconds`).
 */
export async function preview(spec: Spec, asked: AsyncOptions = {}): Promise<Result> {
  assertKnown(asked, [...PREVIEW_KEYS, ...ASYNC_KEYS]);
  const { signal, onProgress, executor, ahead, ...o } = asked;
  heed(signal);
  if (executor) {
    const { now: _, drop: __, onWord, onUnchecked, ...options } = o;
    return previewInParts(bagOf(spec), options, executor, { signal, onProgress, onWord, onUnchecked, ahead });
  }
  let answer: PromiseLike<unknown> | undefined;
  const told = onProgress && {
    onProgress: (at: PreviewProgress): unknown => {
      const said = onProgress(at);
      if (!isPromise(said)) return said;
      answer = said;
      return undefined;
    },
  };
  readyForArcs();
  const work = settlingBag(bagOf(spec), { drop, ...o, ...told });
  const turn = turns();
  try {
    for (;;) {
      const step = work.next();
      if (answer && (await answer) === false) throw new Cancelled();
      answer = undefined;
      if (step.done) return step.value;
      await new Promise<void>(turn.next);
      heed(signal);
    }
  } finally {
    turn.end();
  }
}

function turns(): { readonly next: (then: () => void) => void; readonly end: () => void } {
  if (typeof setImmediate === 'function') return { next: setImmediate, end: () => {} };
  const { port1, port2 } = new MessageChannel();
  const next = (then: () => void): void => {
    port1.onmessage = then;
    port2.postMessage(null);
  };
  return { next, end: () => port1.close() };
}

/** The same at one go: nothing else runs until it is done. */
export function previewSync(spec: Spec, o: PreviewOptions = {}): Result {
  return previewBag(bagOf(spec), o);
}

/** Apart from previewBag, so that the page's worker, which is handed parsed bags, need not carry the reader of files. */
export const bagOf = (spec: Spec): Bag => {
  if ((typeof spec !== 'string' && typeof spec !== 'object') || spec === null)
    throw new BagError([{ path: '', got: String(spec), expected: "a bag file's text, what its JSON stands for, or a parsed bag" }]);
  return isBag(spec) ? spec : parseBag(spec);
};

const isBag = (spec: Spec): spec is Bag => typeof spec === 'object' && 'version' in spec && Array.isArray((spec as Bag).panels);
