import type { Four } from '../bag/types.ts';

/** Which end of the material's band is used. */
export type Band = 'low' | 'mid' | 'high';

/** What a figure rests on; shown beside it wherever it appears. */
export type Evidence = 'estimate' | 'published' | 'your swatch' | 'stated';

/** Mechanical content of one panel (or region): what the solver needs, and nothing else. */
export interface Laminate {
  readonly stack: string;
  /** kg/m2 */ readonly arealMass: number;
  /** m */ readonly thickness: number;
  /** Bending D11 D22 D12 D66, N*m per unit width, 1 = warp. */ readonly bending: Four;
  /** In-plane C11 C22 C12 C66, N/m, 1 = warp. */ readonly inPlane: Four;
  /** Warp angle of these values from the panel's grain, rad (counterclockwise seen from the face). */ readonly angle: number;
  /** Layers cut with ease, which `inPlane` leaves out, and where they go taut. Absent where there are none. */ readonly taut?: readonly TautLayer[];
  readonly evidence: Evidence;
  /** One line a maker can read: layers, joins, and where the figures come from. */ readonly story: string;
}

/** One direction in which a layer cut with ease pulls once the panel is stretched beyond the ease (ease.ts). */
export interface TautLayer {
  /** From the laminate's warp, rad counterclockwise. */ readonly angle: number;
  /** N/m per width of the panel. */ readonly stiffness: number;
  /** Strain of the panel at which it pulls. */ readonly ease: number;
}

/** laminates[panel][region]; region 0 is the panel's own stack. */
export type BagLaminates = readonly (readonly Laminate[])[];

/** Layers that stitching holds to a panel besides its own stack (sewn-layers.ts). */
export interface SewnLayers {
  /** Per strap, in the order of the bag: one thickness of its stack. */ readonly straps: readonly Laminate[];
  /** Per finish of an open edge: its facing or binding; null where that is the panel's own shell. */ readonly finishes: readonly (Laminate | null)[];
  /** By panel and region: what lies beside a seam where layers end inside it, and how wide, m; null where none do. */
  readonly inside: readonly (readonly ({ readonly width: number; readonly cloth: Laminate } | null)[])[];
  /** The end of the band that all of this is of; members take theirs from it. */ readonly band: Band;
  /** Like the bag's laminates: what lies in the allowance of each panel and region, its shell and the layers stated to be caught. */ readonly allowances: BagLaminates;
}
