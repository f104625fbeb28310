import type { Bag, Fault } from '../core.ts';
import type { Start } from '../line-up/solver-protocol.ts';

/** What the page tells the worker that keeps one bag in motion. */
export type Tell =
  | { readonly kind: 'begin'; readonly bag: Bag; readonly option: string; readonly stance: string; readonly edgeLength: number }
  /** On from where it is, or halt; `once` makes one step and halts. */
  | { readonly kind: 'run'; readonly on: boolean; readonly once?: boolean }
  /** Back to the stuffed bag, at rest. */
  | { readonly kind: 'again' }
  /** Holds a mesh point with a hand at a place, m; null lets go. */
  | { readonly kind: 'hold'; readonly vertex: number; readonly at: readonly [number, number, number] | null };

/** What it says. Positions are float32 (screen only) and travel by transfer. */
export type Say =
  | ({ readonly kind: 'mesh'; readonly seconds: number } & Start)
  | {
      readonly kind: 'frame';
      readonly x: Float32Array;
      /** Of the straps, in their order. */ readonly lines: readonly Float32Array[];
      /** Time that has passed for the bag, s. */ readonly seconds: number;
      /** What a step took, s. */ readonly took: number;
      /** Nothing moves any more. */ readonly still: boolean;
    }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly kind: 'failed'; readonly message: string };
