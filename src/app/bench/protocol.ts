import type { ComparedCloth, Comparison, DrapedCloth, Fault, Sheet, SwatchResult, SwatchTestName, Three } from './core.ts';

/** A test as the worker runs it; SI. */
export interface TestAsk {
  readonly test: SwatchTestName;
  readonly sheet: Sheet;
  /** Strip length (drape: diameter) that was asked for, m; null: the test's own. */ readonly length: number | null;
  readonly mesh: number;
  readonly kind: 'structured' | 'equilateral' | 'irregular';
  /** Angle of the strip from the warp, rad. */ readonly cut: number;
  /** Preset id for what was published about it, or null. */ readonly preset: string | null;
  /** Show the way to rest, not only the end. */ readonly watch: boolean;
}

/** Cloths to be set side by side; SI. */
interface SideAsk {
  readonly cloths: readonly ComparedCloth[];
  readonly length: number;
  readonly unit: 'mm' | 'in';
  /** Program and version. */ readonly program: string;
}

export type Ask = { readonly job: number } & (
  | ({ readonly what: 'test' } & TestAsk)
  | ({ readonly what: 'side' } & SideAsk)
  | { readonly what: 'drapes'; readonly cloths: readonly ComparedCloth[] }
  | { readonly what: 'readings'; readonly text: string }
);

/** What is drawn: triangles, and where each vertex lay in the flat piece. */
export interface Piece {
  readonly triVerts: Uint32Array;
  /** 2n flat coordinates [u v], m: u along the strip. */ readonly flat: Float32Array;
  /** 3n positions before it is let go, m. */ readonly start: Float32Array;
}

/** A result without its arrays, and what published cloth says beside it. */
export type Reading = Omit<SwatchResult, 'model' | 'x'> & { readonly beside: readonly string[] };

/** A material made from readings, with what the page shows of it. SI. */
export interface OwnFigures {
  /** kg/m2 */ readonly arealMass: number;
  readonly massError: number;
  readonly directions: readonly {
    readonly direction: 'warp' | 'weft' | 'bias';
    readonly count: number;
    /** N*m */ readonly rigidity: Three;
    /** m */ readonly overhang: Three;
    readonly error: number;
  }[];
  /** D11, D22, D66 low / mid / high, N*m. D66 is null without a fitting bias strip. */
  readonly D11: Three;
  readonly D22: Three;
  readonly D66: readonly [number | null, number, number | null] | null;
  readonly warnings: readonly string[];
  readonly fused: boolean;
  /** Bag-file entries as the command line writes them. */
  readonly form: { readonly materials: Readonly<Record<string, unknown>>; readonly stacks?: Readonly<Record<string, unknown>> };
}

export type Say = { readonly job: number } & (
  | { readonly kind: 'piece'; readonly piece: Piece }
  /** A state on the solver's way to rest, as it comes. */
  | { readonly kind: 'step'; readonly x: Float32Array; readonly count: number }
  | { readonly kind: 'result'; readonly reading: Reading; readonly piece: Piece; readonly x: Float32Array }
  /** The piece in motion, FRAME apart in true time; null when it has come to rest. */
  | { readonly kind: 'fall'; readonly x: Float32Array | null }
  | { readonly kind: 'own'; readonly own: OwnFigures }
  | { readonly kind: 'side'; readonly made: Comparison }
  /** Pieces draped so far, and how many steps the next one has taken. */
  | { readonly kind: 'draped'; readonly cloths: readonly DrapedCloth[]; readonly steps: number; readonly whole: boolean }
  | { readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly kind: 'failed'; readonly message: string }
);

/** Time between two frames of a fall, s, and how many times slower than life it is shown. */
export const FRAME = 1 / 240;
export const SLOWER = 4;
