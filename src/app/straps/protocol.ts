import type { AnchorSweep, Bag, Fault, LoadSweep, SingleChange } from './core.ts';

/** A bag to be hung with its anchors at several distances, and, if a load is given, under several loads. SI. */
export interface Ask {
  readonly job: number;
  readonly bag: Bag;
  readonly strap: string;
  readonly option: string;
  /** One of the bag's that hangs. */ readonly stance: string;
  readonly from: number;
  readonly to: number;
  readonly steps: number;
  /** Contents, kg. */ readonly load: number;
  readonly edgeLength: number;
}

export type Say =
  | { readonly job: number; readonly kind: 'stage'; readonly words: string; readonly fraction: number }
  /** All distances hung so far; `whole`: there are no more. */
  | { readonly job: number; readonly kind: 'anchors'; readonly anchors: AnchorSweep; readonly whole: boolean }
  | { readonly job: number; readonly kind: 'changes'; readonly changes: readonly SingleChange[] }
  | { readonly job: number; readonly kind: 'load'; readonly load: LoadSweep }
  | { readonly job: number; readonly kind: 'done' }
  | { readonly job: number; readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly job: number; readonly kind: 'failed'; readonly message: string };
