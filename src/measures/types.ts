import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';

/** What measure() reads. n vertices; per-panel arrays follow mesh.panelNames. */
export interface MeasureInput {
  readonly bag: Bag;
  readonly mesh: BagMesh;
  /** 3n drafted (sewn, undeformed) positions, m, z up. */ readonly drafted: Float64Array;
  /** 3n settled positions, m. */ readonly settled: Float64Array;
  /** Per panel: 41.5-degree overhang of the finished stack cut along the bag's height, m. */ readonly overhangs: ArrayLike<number>;
  /** Per panel: finished mass, kg. */ readonly panelMass: ArrayLike<number>;
  /** 'standing': on a table, so the footprint means something. 'held': clipped or hung. */ readonly stance: 'standing' | 'held';
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
}

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
