import { type Bag, BagError, type Stance } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import type { Support } from '../solver/types.ts';
import { clothFrom } from './reaches.ts';

/**
 * Refuses a bar that the sewn bag starts in: contact would push it out any way but the right one. x: 3n start, m.
 * Throws BagError naming every panel in its way.
 */
export function refuseThrough(bag: Bag, mesh: BagMesh, x: Float64Array, stance: Extract<Stance, { kind: 'hung' }>, supports: readonly Support[]): void {
  const through = new Set<string>();
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (supports.some(({ sdf, offset }) => clothFrom(sdf, mesh, x, t) + offset < 0)) through.add(mesh.panelNames[mesh.triPanel[t]!]!);
  if (through.size === 0) return;
  throw new BagError(
    [...through].map((panel) => ({
      path: `stances.${stance.name}.from`,
      got: `${stance.from} that runs through ${panel}`,
      expected: `straps (${bag.straps.map((s) => s.name).join(', ')}) long enough to hold it clear of the bag, or a thinner ${stance.from}`,
    })),
  );
}
