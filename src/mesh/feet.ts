import type { Bag, Hardware } from '../bag/types.ts';
import type { BagMesh } from './types.ts';

/** A foot on the mesh: the vertex nearest to its place, where the table carries it. */
export interface FootPoint {
  readonly hardware: Hardware;
  readonly vertex: number;
}

/** The bag's feet in file order. A foot sits on the nearest mesh point of its panel, up to half an edge from its place. */
export function feetOf(bag: Bag, mesh: BagMesh): FootPoint[] {
  return (bag.hardware ?? [])
    .filter((h) => h.kind === 'foot')
    .flatMap((hardware) => {
      const { verts, flat } = mesh.panelVerts[mesh.panelNames.indexOf(hardware.panel)]!;
      return hardware.at.map(([x, y]): FootPoint => {
        let [best, least] = [0, Number.POSITIVE_INFINITY];
        verts.forEach((v, i) => {
          const d = (flat[2 * i]! - x) * (flat[2 * i]! - x) + (flat[2 * i + 1]! - y) * (flat[2 * i + 1]! - y);
          if (d < least) [least, best] = [d, v];
        });
        return { hardware, vertex: best };
      });
    });
}

/** Points that a standing bag rests on where it has three feet or more, each once; null: it rests on its base. */
export function standsOnFeet(bag: Bag, mesh: BagMesh): Uint32Array | null {
  const verts = [...new Set(feetOf(bag, mesh).map((f) => f.vertex))].sort((a, b) => a - b);
  return verts.length >= 3 ? Uint32Array.from(verts) : null;
}
