import { parseBag } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import type { Result } from '../report/types.ts';
import { drop } from '../solver/rigid.ts';
import { previewBag } from './preview.ts';
import { type PreviewOptions, settlingBag } from './settle-bag.ts';

/** Bag file as text, as the object its JSON stands for, or a parsed Bag. */
type Spec = string | object;

/** What of an AbortSignal is looked at; written out, because the library is typed for programs with a DOM and without. */
export interface StopSignal {
  readonly aborted: boolean;
  readonly reason?: unknown;
}

/** Browsers, workers and Node have it: a turn of the event loop without a clock. */
declare const MessageChannel: new () => {
  readonly port1: { onmessage: (() => void) | null; close(): void };
  readonly port2: { postMessage(message: null): void };
};

/**
 * The whole way: bag file -> verdict with its reasons. It lets messages, timers and the signal through after every step of the solver, so that a server or a page stays alive
 * beside it; the result does not depend on when. Rejects with BagError (every fault, each with its path) for bad input, with the signal's reason when that is aborted, with
 * Cancelled when onProgress returned false. Same input, same numbers (apart from `seconds`).
 */
export async function preview(spec: Spec, { signal, ...o }: PreviewOptions & { readonly signal?: StopSignal } = {}): Promise<Result> {
  heed(signal);
  const work = settlingBag(bagOf(spec), { drop, ...o });
  const { port1, port2 } = new MessageChannel();
  try {
    for (;;) {
      const step = work.next();
      if (step.done) return step.value;
      await new Promise<void>((resolve) => {
        port1.onmessage = () => resolve();
        port2.postMessage(null);
      });
      heed(signal);
    }
  } finally {
    port1.close();
  }
}

/** The same at one go: nothing else runs until it is done. */
export const previewSync = (spec: Spec, o: PreviewOptions = {}): Result => previewBag(bagOf(spec), o);

function heed(signal: StopSignal | undefined): void {
  if (signal?.aborted) throw signal.reason;
}

/** Apart from previewBag, so that the page's worker, which is handed parsed bags, need not carry the reader of files. */
const bagOf = (spec: Spec): Bag => (isBag(spec) ? spec : parseBag(spec));

const isBag = (spec: Spec): spec is Bag => typeof spec === 'object' && 'version' in spec && Array.isArray((spec as Bag).panels);
