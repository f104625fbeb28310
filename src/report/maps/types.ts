import type { GapMap, SeamForces, StrainMap } from '../../measures/index.ts';

/** What the load does to a settled bag, place by place. */
export interface SettledMaps {
  readonly strain: StrainMap;
  readonly gap: GapMap;
  readonly seams: SeamForces;
}

/** The maps that are worked out of a settled state; curvature is read off its shape alone. */
export type MapKind = keyof SettledMaps;
