import type { Bag, SeamType } from '../bag/types.ts';
import type { BagLaminates } from '../material/types.ts';
import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';

/**
 * Layers and thickness of a seam at its thickest, beside the stitch line.
 *   plain, turned: both allowances pressed to one side of a panel (the thicker is reckoned): a + b + the thicker one;
 *   lapped, topstitched: one over the other, a + b; bound: a + b and a binding as thin as the thinner one, twice; fold: 2 of the thicker.
 * Common practice, no source; interfacing is counted as cut to the panel's full size.
 */
export function bulkOf(type: SeamType, a: number, b: number): number {
  switch (type) {
    case 'plain':
    case 'turned':
      return a + b + Math.max(a, b);
    case 'lapped':
    case 'topstitched':
      return a + b;
    case 'bound':
      return a + b + 2 * Math.min(a, b);
    case 'fold':
      return 2 * Math.max(a, b);
  }
}

/** Per seam: sewn length (mean of both sides as meshed is the drafted one), thickest bulk over its panels, m, and cloth layers. */
export function seamsOf(bag: Bag, mesh: BagMesh, laminates: BagLaminates, layerCount: (panel: number, region: number) => number) {
  const out = bag.seams.map((seam) => ({ name: seam.name, bulk: 0, layers: 0, length: 0 }));
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const s = mesh.edgeSeam[e]!;
    const tris = [mesh.edgeTris[2 * e]!, mesh.edgeTris[2 * e + 1]!];
    const places = tris.map((t) => [mesh.triPanel[t]!, mesh.triRegion[t]!] as const);
    const [a, b] = places.map(([p, r]) => laminates[p]![r]!.thickness);
    const [m, n] = places.map(([p, r]) => layerCount(p, r));
    const [t, k] = [tris[0]!, mesh.edgeLocal[2 * e]!];
    const [i, j] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
    const row = out[s]!;
    row.length += Math.hypot(mesh.triFlat[i]! - mesh.triFlat[j]!, mesh.triFlat[i + 1]! - mesh.triFlat[j + 1]!);
    row.bulk = Math.max(row.bulk, bulkOf(bag.seams[s]!.type, a!, b!));
    row.layers = Math.max(row.layers, bulkOf(bag.seams[s]!.type, m!, n!));
  }
  return out;
}
