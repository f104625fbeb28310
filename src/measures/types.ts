import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';

export type { ClosureAtRest, ClosureMeasures } from './closures.ts';

/** What measure() reads. n vertices; per-panel arrays follow mesh.panelNames. */
export interface MeasureInput {
  readonly bag: Bag;
  readonly mesh: BagMesh;
  /** 3n drafted (sewn, undeformed) positions, m, z up. */ readonly drafted: Float64Array;
  /** 3n settled positions, m. */ readonly settled: Float64Array;
  /** Per panel: 41.5-degree overhang of the finished stack cut along the bag's height, m. */ readonly overhangs: ArrayLike<number>;
  /** Per panel: finished mass, kg. */ readonly panelMass: ArrayLike<number>;
  /** 'standing': on a table, so heights and the footprint mean something. 'hung': judged by how it hangs (hung.ts). */
  readonly stance: 'standing' | 'held' | 'hung';
}

/** Everything read off one settled state; metres, radians, kilograms, newtons; z up. Fractions 0..1. null = does not apply. */
export interface Measures {
  /** Mean rim height over its drafted height. */ readonly heightKept: number | null;
  /** Mean rim height above the lowest point of the base, m. */ readonly rimHeight: number | null;
  /** Drafted rim height, m. */ readonly draftedHeight: number | null;
  /** Drafted height less lowest rim point, m. */ readonly topEdgeDrop: number | null;
  /** Largest lean of a wall (best-fit plane) from its drafted direction, rad. */ readonly wallLean: number | null;
  /** Largest distance of a wall off its best-fit plane, over the drafted width. */ readonly bulge: number | null;
  /** Area of the convex outline of what touches the table over the drafted base area. */ readonly footprintKept: number | null;
  /** Smallest front-to-back distance across the mouth over the drafted depth. */ readonly mouthGap: number | null;
  /** Enclosed volume (mouth closed by a flat fan) over the drafted one. */ readonly volumeKept: number | null;
  /** Number of folds deeper than 5 mm, worst panel. */ readonly folds: number | null;
  /** Hung bags only (hung.ts): lean of the bag's upright, rad; sag of the mouth between the straps over the drafted height; sag of the base, m;
   * largest difference of a carrying strap's drop from the wanted one, m. */
  readonly hangTilt: number | null;
  readonly mouthSag: number | null;
  readonly baseSag: number | null;
  readonly dropMiss: number | null;
}

/** What is read off one panel; m, kg, rad; null where a figure does not apply. */
export interface PanelMeasures {
  readonly name: string;
  readonly massKg: number;
  /** Height of the panel along the bag's upright, m (0 for a base). */ readonly height: number;
  /** 41.5-degree overhang of the finished stack cut along the bag's height, m. */ readonly overhang: number;
  /** Height over overhang. */ readonly standNumber: number;
  /** Mean height kept by this panel, 0..1. */ readonly heightKept: number | null;
  readonly lean: number | null;
  readonly bulge: number | null;
  /** Strain and curvature extremes for the reader: largest principal curvature, 1/m. */ readonly curvature: number;
}

/** One end of a carrying strap. */
export interface AnchorMeasures {
  readonly panel: string;
  /** Middle of the patch, m. */ readonly at: readonly [number, number, number];
  /** Force of the strap on the patch, N, and its size. */ readonly force: readonly [number, number, number];
  readonly size: number;
  /** Part square to the patch (positive: lifts it off the face), and part along it, N. */ readonly peel: number;
  readonly shear: number;
  /** Pull that draws the mouth together, N. */ readonly inward: number;
  /** Of the strap's leg, from the plumb line, rad. */ readonly legAngle: number;
}

/** What is read off one carrying strap; m, N. */
export interface StrapMeasures {
  readonly name: string;
  /** From the top of the strap down to the mean level of the mouth, m. */ readonly drop: number;
  readonly wantedDrop: number | null;
  /** Largest pull in a leg, clear of what it hangs from, N. */ readonly tension: number;
  /** By how much more one leg could pull than the other before friction lets the strap run, N: see hung.ts. */ readonly frictionHolds: number;
  readonly slack: boolean;
  readonly anchors: readonly [AnchorMeasures, AnchorMeasures];
}

/** How a bag hangs; see hung.ts. Metres, radians, newtons, z up. */
export interface HungMeasures {
  /** Unit: the drafted upright as the bag hangs; tilt is its angle from the plumb line. */ readonly upright: readonly [number, number, number];
  readonly tilt: number;
  readonly tiltSideways: number;
  readonly tiltForward: number;
  readonly mouthDroop: number | null;
  readonly mouthKept: number | null;
  readonly baseSag: number | null;
  readonly centreOfMass: readonly [number, number, number];
  /** Bag, straps and contents, N. */ readonly weight: number;
  /** Force of the hook, bar or shoulder, N. */ readonly carried: readonly [number, number, number];
  /** Furthest that the top of a strap has slid along what it hangs from, m, level. */ readonly slid: number;
  readonly straps: readonly StrapMeasures[];
}

/** A carrying strap at rest, as arrays: what hangs the bag. */
export interface HungStrap {
  readonly name: string;
  /** Wanted drop, m, or null. */ readonly wantedDrop: number | null;
  /** Rest length between the middles of its patches, m. */ readonly length: number;
  /** 3 per point, m: the patch's middle, the edge above it, the strap's points, edge, patch. */ readonly line: Float64Array;
  /** The same line at the start. */ readonly laid: Float64Array;
  /** Pull in each piece between two points, N. */ readonly tension: Float64Array;
  /** How many pieces from either end are clear of what it hangs from, and its friction there. */ readonly legs: readonly [number, number];
  readonly friction: number;
  readonly patches: readonly [HungPatch, HungPatch];
}

/** A strap's end as the measures read it. */
export interface HungPatch {
  readonly panel: string;
  /** Triangles under the patch. */ readonly triangles: readonly number[];
}
