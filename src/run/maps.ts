import { gapMap, membraneOf, seamForces, strainMap, type Toucher } from '../measures/index.ts';
import type { SettledMaps } from '../report/index.ts';
import type { BandRun, Result } from '../report/types.ts';

/** End of the gap's scale, m: beyond a finger's width nothing is about to touch. Our own choice. */
export const GAP_REACH = 0.02;

/** What of a result the maps are made from. */
export type Settled = Pick<Result, 'mesh' | 'triRest'> & { readonly run: Pick<BandRun, 'positions' | 'cloth' | 'contents'> };

/**
 * The maps of one settled state: largest principal membrane strain (strain-map.ts), gap to contact (gap.ts), force across the seams (seam-force.ts), from
 * the strains, stress resultants and surroundings that the result carries: of the state that was reported, at rest or not. Deterministic; mutates nothing.
 * Throws for a state that was kept without its cloth.
 */
export function settledMaps({ mesh, triRest, run }: Settled): SettledMaps {
  const { cloth, positions, contents } = run;
  if (cloth === null) throw new Error('missing cloth: this state was kept without its strains; settle it again');
  const things: Toucher[] = [
    ...cloth.touches,
    ...contents.map((c) => ({ name: c.name, shape: { kind: 'posed', shape: c.shape, origin: c.at, axes: c.axes } as const, offset: c.offset })),
  ];
  const membrane = membraneOf(triRest, mesh.triVerts, positions, cloth.strain, cloth.stress);
  return {
    strain: strainMap(mesh, membrane),
    gap: gapMap(mesh, positions, things, cloth.felt, GAP_REACH),
    seams: seamForces(mesh, membrane, positions),
  };
}
