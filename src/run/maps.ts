import { assemble, rigStraps } from '../assembly/index.ts';
import { type Bag, BagError } from '../bag/types.ts';
import { layUp, sewnLayers } from '../material/index.ts';
import { gapMap, membraneAt, seamForces, strainMap, type Toucher } from '../measures/index.ts';
import type { SettledMaps } from '../report/index.ts';
import type { BandRun, Result } from '../report/types.ts';
import { feltBySheets } from '../solver/index.ts';
import { GRAVITY } from '../units/index.ts';
import { filled, SEED, STUFFED, settlesOnItself } from './settle-bag.ts';

/** End of the gap's scale, m: beyond a finger's width nothing is about to touch. Our own choice. */
export const GAP_REACH = 0.02;

/** What of a result the maps are made from. */
export type Settled = Pick<Result, 'option' | 'stance' | 'mesh' | 'drafted'> & { readonly run: Pick<BandRun, 'band' | 'positions' | 'arcs' | 'contents'> };

/**
 * The maps of one settled state: largest principal membrane strain (strain-map.ts), gap to contact (gap.ts), force across the seams (seam-force.ts).
 * The model is assembled anew for the state's own mesh; nothing is settled again, so the maps are of the state that was reported, at rest or not.
 * Parameters: the bag that was settled; the result's mesh and drafted shape, and one of its runs. A bag hung from another seed's start than the first has
 * its bar a hair elsewhere. Throws BagError for an option or stance that the bag does not have. Deterministic; mutates nothing.
 */
export function settledMaps(bag: Bag, { option, stance: name, mesh, drafted, run }: Settled): SettledMaps {
  const stance = bag.stances.find((s) => s.name === name);
  if (!stance) throw new BagError([{ path: 'stances', got: JSON.stringify(name), expected: `one of ${bag.stances.map((s) => `"${s.name}"`).join(', ')}` }]);
  const laminates = layUp(bag, option, run.band);
  const model = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, run.band), drafted, stance);
  const loads = stance.kind === 'held' ? 0 : (stance.load?.mass ?? 0) + run.contents.reduce((sum, c) => sum + c.mass, 0);
  const weight = GRAVITY * model.mass.reduce((sum, m) => sum + m, loads);
  const supports = stance.kind === 'hung' ? rigStraps(bag, mesh, filled(bag, mesh, drafted, STUFFED, SEED), stance, run.band, weight).supports : model.supports;
  const things: Toucher[] = [
    ...supports.map((s) => ({ name: s.name, shape: s.sdf, offset: s.offset })),
    ...run.contents.map((c) => ({ name: c.name, shape: { kind: 'posed', shape: c.shape, origin: c.at, axes: c.axes } as const, offset: c.offset })),
  ];
  const membrane = membraneAt(model, run.positions, run.arcs);
  return {
    strain: strainMap(mesh, membrane),
    gap: gapMap(mesh, run.positions, things, settlesOnItself(bag, stance) ? feltBySheets(model) : null, GAP_REACH),
    seams: seamForces(mesh, membrane, run.positions),
  };
}
