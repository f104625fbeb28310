import type { Ground, Wanted } from '../bag/types.ts';
import type { Stitching, StitchReference } from '../material/index.ts';
import type { Band, Evidence } from '../material/types.ts';
import type { Balance, ClosureMeasures, StrainMeasures, Toucher } from '../measures/index.ts';
import type { HungMeasures, Measures, PanelMeasures } from '../measures/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import type { Status, SupportShape } from '../solver/types.ts';

/** Of a hung bag "hangs true" stands for "holds": nothing is said of its straps. From best to worst: severity.ts. */
export type VerdictWord =
  | 'holds'
  | 'hangs true'
  | 'softens'
  | 'stands until touched'
  | 'near its limit'
  | 'hangs true until touched'
  | 'depends on the swatch'
  | 'slumps'
  | 'lies flat'
  | 'no verdict';

/** A word that may be certain before a run is at rest. */
export type EarlyWord = 'slumps' | 'lies flat';

/** How the bag sits with what is wanted of it; null where that cannot be said. */
export type Fit = 'meets' | 'too soft' | 'too stiff' | 'falls over' | 'goes when touched' | 'hangs askew';

/** What the linear answer to a nudge says, m. */
export interface NudgeAnswer {
  readonly linear: number;
  readonly quadratic: number;
}

/** One settle of one option in one stance with one end of the material band. */
export interface BandRun {
  readonly band: Band;
  readonly status: Status;
  readonly residual: number;
  readonly iterations: number;
  readonly factorisations: number;
  readonly seconds: { readonly setup: number; readonly settle: number; readonly nudge: number };
  /** No negative curvature of the exact Hessian at rest. */ readonly stable: boolean;
  /** Passed below half its height and still moving when the run was ended: slumped, shape unfinished. */ readonly stillFalling: boolean;
  /** The word was certain before the bag was at rest, and it was followed no further: every figure is one of a bag still falling. Absent where it was followed to rest. */
  readonly early?: EarlyWord;
  /** Ends of the band that were not run because their word follows from this one's (early-word.ts); absent where there are none. */
  readonly standsFor?: readonly Band[];
  /** The strains of this state carry the arcs' correction (solver/elastic/arc.ts); off where folds were too tight for it. */ readonly arcs: boolean;
  readonly measures: Measures;
  readonly panels: readonly PanelMeasures[];
  /** The bag has a base: a panel of that role, or the bottom that boxed corners make. */ readonly hasBase: boolean;
  /**
   * Nudge test: lateral gravity (fraction of g) from four sides, released each time. worstShift: largest movement left afterwards, m: of any point
   * of a standing bag, of a hung one's mouth; Infinity where it did not come back to rest. slides: not tried, because it would slide along its table, whatever its stiffness.
   */
  readonly nudge: {
    readonly tested: boolean;
    readonly comesBack: boolean;
    readonly fraction: number;
    readonly worstShift: number;
    readonly slides?: boolean;
    /** Sides from which it was really nudged: none where the linear answers below are small, no more than the first that did not come back. */ readonly sides?: number;
    /** Movement along x and along y by which the state at rest answers to a nudge, m, and its second order (solver/rest/nudge-screen.ts); null where it was not asked or has none. */
    readonly answer?: readonly [NudgeAnswer | null, NudgeAnswer | null] | null;
    /** All that is judged of the shape at rest that the nudge left of a standing bag; absent where it came back, or came to no rest. */ readonly left?: Measures | null;
  };
  /**
   * Second run from walls bulged inward, when the rim was under 95 %. heightKept null: not run, or slumped as the first one had and followed no
   * further, because another heap would not change the word. measures: all that is judged of that second rest; null where heightKept is.
   */
  readonly inward: { readonly ran: boolean; readonly heightKept: number | null; readonly differs: boolean; readonly measures: Measures | null };
  /** Where its margin was within the spread of meshes: the same end of the band once more on another mesh and from another start; absent where that was not asked. */
  readonly again?: Again;
  /** The middle of one that stands and does not hold, with its upright corners pressed to a crease; absent where that was not asked or cannot change the word. */ readonly corners?: Corners;
  /** Centre of mass and tipping angles of a bag that stands at rest on a free base; null otherwise. */ readonly balance: Balance | null;
  /** Largest strains of cloth and straps; null when a position is not a number. */ readonly strain: StrainMeasures | null;
  /** How it hangs; null unless the stance is hung. */ readonly hung: HungMeasures | null;
  /** Its closures, open and closed; absent where it has none or its stance leaves them out. */ readonly closures?: readonly ClosureMeasures[];
  /** What is in a bag with closures, kg; absent where there is nothing. */ readonly closedOver?: number;
  /** The same as they lie, for drawing: 3 per point, m. */
  readonly closureLines?: readonly {
    readonly name: string;
    readonly kind: string;
    readonly closed: boolean;
    readonly lines: readonly Float64Array[];
    readonly size: number;
  }[];
  /** Straps as they lie, for drawing: 3 per point; only those that carry are known. */
  readonly straps: readonly { readonly name: string; readonly width: number; readonly line: Float64Array }[];
  /** What each foot carries, of a standing bag with hardware; absent elsewhere. */ readonly feet?: readonly FootLoad[];
  /** Rigid contents where they lie; empty where there are none. */ readonly contents: readonly Placed[];
  /** 3n settled positions, m. */ readonly positions: Float64Array;
  /** The cloth's plane at rest, and what it may touch: what the maps of this state are made from; null in one that was kept without. */ readonly cloth: ClothState | null;
  readonly marks: Readonly<Record<string, readonly [number, number, number]>>;
  /** Total force of the table and of held points on the bag, N. */
  readonly reactions: { readonly table: readonly [number, number, number]; readonly held: readonly [number, number, number] };
  readonly contact: { readonly touching: number; readonly deepestPenetration: number; readonly crossings: number };
}

/** Strains and stress resultants of m triangles, each in its own rest frame (x = warp), as the solver's energy has them, and the surroundings. */
export interface ClothState {
  /** 3m Green strain E11 E22 2 E12. */ readonly strain: Float64Array;
  /** 3m second Piola-Kirchhoff stress resultants S11 S22 S12, N/m. */ readonly stress: Float64Array;
  /** Distance at which sheets feel each other, m; null where the cloth does not meet itself. */ readonly felt: number | null;
  /** Supports, forms, bars. */ readonly touches: readonly Toucher[];
}

/** The same bag once more, on a finer mesh and from another seed. */
export interface Again {
  /** m */ readonly edgeLength: number;
  readonly seed: number;
  readonly word: VerdictWord;
  readonly margin: number;
  readonly heightKept: number | null;
}

/** A rigid thing where it has come to lie: shape about its own middle, world directions of its own axes. */
export interface Placed {
  readonly name: string;
  /** kg */ readonly mass: number;
  readonly shape: SupportShape;
  /** Distance from its surface at which cloth feels it, m. */ readonly offset: number;
  /** Its middle, m. */ readonly at: readonly [number, number, number];
  readonly axes: readonly [number, number, number, number, number, number, number, number, number];
}

/** What becomes of the bag, in a word and sentences. */
export interface Verdict {
  readonly word: VerdictWord;
  /** One sentence in a maker's words, with one figure. */ readonly reason: string;
  /** What stands under it, a sentence each: what the pattern check warns of, the panel that gives way first, the other filling, the other bolts, strains past the limit. */
  readonly details: readonly string[];
  /** The word of each end of the band that was asked for, soft to stiff. follows: not run, its word follows from the middle's. */
  readonly pips: readonly { readonly band: Band; readonly name: 'soft' | 'typical' | 'stiff'; readonly word: VerdictWord; readonly follows?: true }[];
  /** The runs differ: a swatch tells which of them is yours. */ readonly testSwatch: boolean;
  /** Smallest over all figures, nudge and other filling included, and all runs: 1 as drafted, 0 at the limit of "holds", negative when missed. */
  readonly margin: number;
  readonly givesWayFirst: string | null;
  readonly byBand: Readonly<Partial<Record<Band, VerdictWord>>>;
  /** Does the verdict meet what is wanted? "too stiff for slouchy" is a miss as well. null where it cannot be said. */
  readonly meetsWanted: boolean | null;
  /** How it misses, of the run that misses most; null where it cannot be said. */ readonly fit: Fit | null;
  readonly wanted: Wanted;
  /** One sentence on how the verdict sits with what is wanted; empty when there is no verdict. */ readonly wantedReason: string;
  /** The measure that decided the word, or why another rule did; null when nothing had to be decided. */
  readonly decidedBy: Gate | 'nudge' | 'falling' | null;
}

/** The measures that a verdict may rest on: of a standing bag, then of a hung one. */
export type Gate =
  | 'heightKept'
  | 'topEdgeDrop'
  | 'wallLean'
  | 'bulge'
  | 'footprintKept'
  | 'mouthGap'
  | 'volumeKept'
  | 'hangTilt'
  | 'mouthSag'
  | 'baseSag'
  | 'dropMiss';

/** How the two ends of a strap are sewn on; a reference is null for an end that is not stitched flat. */
export interface PatchStitching extends Stitching {
  readonly strap: string;
  readonly anchors: readonly [StitchReference | null, StitchReference | null];
}

/** What the figures of a result hang on besides the bag. */
export interface Settings {
  /** Edge length of the mesh, m. */ readonly edgeLength: number;
  /** Of the start's small waviness. */ readonly seed: number;
  /** Which of the solver's kernels ran; both give the same bytes. */ readonly kernels: 'SIMD' | 'plain';
}

/** What a bag comes to with its upright corners pressed to a crease, by the middle of the band (run/corners.ts). */
export interface Corners {
  readonly word: VerdictWord;
  /** As Verdict.margin. */ readonly margin: number;
  readonly heightKept: number | null;
}

/** A member or a set of hardware: what a bag has besides its panels and straps. */
export interface Part {
  readonly name: string;
  /** "paper cord of 5 mm", "4 feet of 12 mm". */ readonly what: string;
  readonly massKg: number;
  /** Of a member, m. */ readonly length?: number;
  /** Of hardware. */ readonly pieces?: number;
  readonly evidence: Evidence;
}

/** What one foot carries. */
export interface FootLoad {
  readonly name: string;
  /** Settled, m. */ readonly at: readonly [number, number, number];
  readonly newtons: number;
}

/** What preview() returns: everything the page, the terminal and the JSON show. */
export interface Result {
  readonly bag: string;
  readonly option: string;
  readonly stance: string;
  /** What it stands on, where that is not simply a level table. */ readonly ground?: Ground | null;
  readonly vertices: number;
  /** What the figures hang on besides the bag. */ readonly settings: Settings;
  /** What the pattern check warns of in how the bag is sewn, a sentence each; absent where it has nothing to say. */ readonly pattern?: readonly string[];
  readonly massKg: number;
  /** Members and hardware, weighed; absent where there are none. */ readonly parts?: readonly Part[];
  readonly evidence: Evidence;
  readonly stacks: readonly {
    readonly panel: string;
    readonly region: string | null;
    readonly story: string;
    readonly evidence: Evidence;
    readonly arealMass: number;
    readonly thickness: number;
    readonly bending: readonly number[];
    readonly inPlane: readonly number[];
    readonly overhang: number;
  }[];
  readonly seams: readonly {
    readonly name: string;
    readonly bulk: number;
    readonly layers: number;
    readonly length: number /** Layers cut out of its allowances. */;
    readonly cutOut?: readonly string[];
  }[];
  /** Of a hung bag's straps whose thread is stated, what the stitching of each end comes to by the rule of thumb; absent where there are none. */
  readonly stitching?: readonly PatchStitching[];
  readonly mesh: BagMesh;
  /** 6m rest corners of the mesh's triangles as sewn (gathers shortened), m, x along the warp. */ readonly triRest: Float64Array;
  /** 3n drafted (undeformed, sewn) positions. */ readonly drafted: Float64Array;
  /** low, mid, high in that order; those that were asked for. */ readonly runs: readonly BandRun[];
  readonly verdict: Verdict;
}
