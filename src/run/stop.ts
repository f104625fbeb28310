import { BagError } from '../bag/types.ts';

/** What of an AbortSignal is looked at; written out, because the library is typed for programs with a DOM and without. */
export interface StopSignal {
  readonly aborted: boolean;
  readonly reason?: unknown;
  addEventListener?(type: 'abort', told: () => void): void;
  removeEventListener?(type: 'abort', told: () => void): void;
}

/** Passes a signal that is not aborted, or none; throws its reason where it is, BagError where it is no signal. */
export function heed(signal: StopSignal | undefined): void {
  if (signal === undefined) return;
  if (typeof signal !== 'object' || signal === null || typeof signal.aborted !== 'boolean')
    throw new BagError([{ path: 'signal', got: JSON.stringify(signal) ?? String(signal), expected: 'an AbortSignal' }]);
  if (signal.aborted) throw signal.reason;
}

/** A signal of our own: several pieces of work stop together, and with the caller's. */
export interface Stop {
  readonly signal: StopSignal;
  /** Only the first reason counts. */ readonly stop: (reason: unknown) => void;
  /** Lets go of the caller's signal. */ readonly release: () => void;
}

/** A stop that follows the caller's signal. */
export function createStop(outer: StopSignal | undefined): Stop {
  const heard = new Set<() => void>();
  let aborted = false,
    reason: unknown;
  const signal: StopSignal = {
    get aborted() {
      return aborted;
    },
    get reason() {
      return reason;
    },
    addEventListener: (_, told) => void heard.add(told),
    removeEventListener: (_, told) => void heard.delete(told),
  };
  const stop = (why: unknown): void => {
    if (aborted) return;
    aborted = true;
    reason = why;
    for (const told of heard) told();
  };
  const follow = (): void => stop(outer?.reason);
  if (outer?.aborted) follow();
  outer?.addEventListener?.('abort', follow);
  return { signal, stop, release: () => outer?.removeEventListener?.('abort', follow) };
}

/**
 * All of several pieces of work, at most `lanes` of them under way at once, in order. The first that fails stops the others; once they have let go, its error is thrown. Of
 * several failures that of the first in the list, so that it does not hang on which was quicker.
 */
export async function allTogether<T>(tasks: readonly (() => Promise<T>)[], { signal, stop }: Stop, lanes: number = tasks.length): Promise<T[]> {
  const made: T[] = [],
    failed = new Map<number, unknown>();
  let next = 0;
  const lane = async (): Promise<void> => {
    while (next < tasks.length && !signal.aborted) {
      const i = next++;
      try {
        made[i] = await tasks[i]!();
      } catch (error) {
        failed.set(i, error);
        stop(error);
      }
    }
  };
  await Promise.all(Array.from({ length: Math.min(lanes, tasks.length) }, lane));
  const own = [...failed.keys()].sort((a, b) => a - b).find((i) => failed.get(i) !== signal.reason);
  if (own !== undefined) throw failed.get(own);
  heed(signal);
  return made;
}
