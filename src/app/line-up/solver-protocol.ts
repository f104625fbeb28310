import type { Bag, BagMesh, Band, EarlyNews, Fault, Result, Unchecked } from '../core.ts';

/** Tells a solver worker to drop a job; it answers 'stopped' when it has looked up from it. */
export interface Stop {
  readonly stop: number;
}

/** The compiled kernels, handed from the first worker that has them to those that are hired after it. */
export interface Kernels {
  readonly kernels: WebAssembly.Module;
}

/** What the page asks of a solver worker. One worker does one job at a time. */
export interface Ask {
  readonly job: number;
  /** The parsed bag: plain records, cloned on the way. */
  readonly bag: Bag;
  readonly option: string;
  readonly stance: string;
  /** Options that are weighed and not settled: one mesh serves them all. */ readonly weigh?: readonly string[];
  /** Ends of the material band to settle with. */ readonly bands: readonly Band[];
  /** Edge length of the settle, m. */ readonly edgeLength: number;
  /** Edge length of the live fall, m; null: no fall, straight to rest. */ readonly fallEdge: number | null;
}

/** A strap that carries, as it is drawn: 3 numbers per point of its line, m. */
export interface DrawnStrap {
  readonly name: string;
  readonly width: number;
  readonly line: ArrayLike<number>;
}

/** A bag before it moves. */
export interface Start {
  readonly mesh: BagMesh;
  readonly drafted: Float32Array;
  /** Per panel, m. */ readonly thickness: readonly number[];
  readonly straps: readonly DrawnStrap[];
}

/** What a worker says. Positions are float32 (screen only) and travel by transfer. */
export type Say = { readonly job: number } & (
  | ({ readonly kind: 'mesh' } & Start)
  | {
      readonly kind: 'frame';
      readonly x: Float32Array;
      /** Of the straps, in their order. */ readonly lines: readonly Float32Array[];
      readonly seconds: number;
    }
  | { readonly kind: 'stage'; readonly stage: Stage }
  /** The word of a run is certain; its figures still fall. */
  | ({ readonly kind: 'word' } & Omit<EarlyNews, 'positions'>)
  /** The middle's result, which is still being checked. */
  | ({ readonly kind: 'unchecked' } & Unchecked)
  | { readonly kind: 'result'; readonly result: Result }
  | { readonly kind: 'weights' /** By option. */; readonly weights: Readonly<Record<string, Weight>> }
  | ({ readonly kind: 'kernels' } & Kernels)
  | { readonly kind: 'stopped' }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly kind: 'failed'; readonly message: string }
);

/** What is known of an option before it settles. */
export interface Weight {
  readonly massKg: number;
  /** Of its thickest seam; null without seams. */ readonly bulk: { readonly thickness: number; readonly layers: number; readonly seam: string } | null;
}

/** Where a job is. `detail` is the core's own word for its stage. */
export interface Stage {
  readonly step: 'drafting' | 'falling' | 'settling';
  readonly detail: string;
  readonly band: Band | null;
}
