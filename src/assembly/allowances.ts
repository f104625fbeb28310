import type { Bag, Seam, SeamType } from '../bag/types.ts';
import { keptWidth, thinned } from '../material/index.ts';
import type { BagLaminates, Laminate } from '../material/types.ts';
import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/**
 * What of a side's allowance a seam keeps. Plain, turned, bound: all of it; lapped, topstitched: one side lies over the other, so that half of each counts;
 * fold: none, the cloth runs on. Common practice, no source.
 */
const KEPT: Readonly<Record<SeamType, number>> = { plain: 1, turned: 1, bound: 1, lapped: 0.5, topstitched: 0.5, fold: 0 };
/** Allowances wide that a binding is, round both faces of a bound seam. */
const BINDING = 2;

/** Areal mass of an allowance as it is skived, kg/m2. */
const shellOf = (seam: Seam, { arealMass, thickness }: Laminate): number => arealMass * thinned(seam, thickness).mass;

/**
 * Tells the mass, kg, of the allowance beside every edge of every seam, with the panel it belongs to and the edge's two vertices: the panel's shell alone (`shells`, SewnLayers.allowances),
 * as wide as the seam keeps of it, skived as it states, and as long as what was cut; a binding as heavy as the lighter shell goes half to each side. Where three panels meet in a seam each has one allowance.
 * Corners are left out (up to the square of an allowance each).
 */
export function eachAllowance(
  bag: Bag,
  mesh: BagMesh,
  shells: BagLaminates,
  tell: (panel: number, ends: readonly [number, number], mass: number) => void,
): void {
  const counted = new Set<number>();
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const seam = bag.seams[mesh.edgeSeam[e]!]!,
      ends = [mesh.edgeVerts[2 * e]!, mesh.edgeVerts[2 * e + 1]!] as const;
    const sides = [0, 1].map((side) => {
      const [t, k] = [mesh.edgeTris[2 * e + side]!, mesh.edgeLocal[2 * e + side]!],
        [i, j] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
      return {
        place: 3 * t + k,
        panel: mesh.triPanel[t]!,
        shell: shellOf(seam, shells[mesh.triPanel[t]!]![mesh.triRegion[t]!]!),
        length: libm.hypot(mesh.triFlat[i]! - mesh.triFlat[j]!, mesh.triFlat[i + 1]! - mesh.triFlat[j + 1]!),
      };
    });
    const binding = seam.type === 'bound' ? (BINDING * Math.min(...sides.map((s) => s.shell))) / 2 : 0;
    for (const { place, panel, shell, length } of sides) {
      if (counted.has(place)) continue;
      counted.add(place);
      const mass = (KEPT[seam.type] * shell + binding) * keptWidth(seam) * length;
      if (mass > 0) tell(panel, ends, mass);
    }
  }
}
