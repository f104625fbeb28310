import type { GapMap } from '../../measures/gap.ts';
import type { SeamForces } from '../../measures/seam-force.ts';
import type { StrainMap } from '../../measures/strain-map.ts';

/** What a settled bag bears, place by place. */
export interface SettledMaps {
  readonly strain: StrainMap;
  readonly gap: GapMap;
  readonly seams: SeamForces;
}

/** The maps that are worked out of a settled state; curvature is read off its shape alone. */
export type MapKind = keyof SettledMaps;
