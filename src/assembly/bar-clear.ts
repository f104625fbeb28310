import { type Bag, BagError, type Stance } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { distance } from '../solver/index.ts';
import type { Support } from '../solver/types.ts';
import { distance as far, type Vec } from './strap-path.ts';

/** Parts of a triangle's edge at most, where a thin bar is looked for in it. */
const MOST_PARTS = 12;

/**
 * Refuses a bar that the sewn bag starts in: contact would push it out any way but the right one. x: 3n start, m.
 * Throws BagError naming every panel in its way.
 */
export function refuseThrough(bag: Bag, mesh: BagMesh, x: Float64Array, stance: Extract<Stance, { kind: 'hung' }>, supports: readonly Support[]): void {
  const through = new Set<string>();
  const at = new Float64Array(4);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const [a, b, c] = [0, 1, 2].map(
      (k): Vec => [x[3 * mesh.triVerts[3 * t + k]!]!, x[3 * mesh.triVerts[3 * t + k]! + 1]!, x[3 * mesh.triVerts[3 * t + k]! + 2]!],
    ) as [Vec, Vec, Vec];
    // Points over the triangle, closer together than the bar is thick: it may pass between mesh points.
    const parts = Math.min(MOST_PARTS, Math.ceil(Math.max(far(a, b), far(b, c), far(c, a)) / (stance.diameter / 2)));
    for (let i = 0; i <= parts; i++)
      for (let j = 0; i + j <= parts; j++) {
        const [u, v, w] = [i / parts, j / parts, (parts - i - j) / parts];
        const p = [0, 1, 2].map((k) => u * a[k]! + v * b[k]! + w * c[k]!);
        for (const { sdf, offset } of supports) {
          distance(sdf, p[0]!, p[1]!, p[2]!, at);
          if (at[0]! + offset < 0) through.add(mesh.panelNames[mesh.triPanel[t]!]!);
        }
      }
  }
  if (through.size === 0) return;
  throw new BagError(
    [...through].map((panel) => ({
      path: `stances.${stance.name}.from`,
      got: `${stance.from} that runs through ${panel}`,
      expected: `straps (${bag.straps.map((s) => s.name).join(', ')}) long enough to hold it clear of the bag, or a thinner ${stance.from}`,
    })),
  );
}
