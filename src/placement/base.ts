import type { Bag } from '../bag/types.ts';
import { type BagMesh, EDGE_FOLD, EDGE_INNER, PART_BASE } from '../mesh/types.ts';

/** Is triangle t a part of the bag's bottom: of a base panel, or of the part of a panel that boxed corners turn under? */
export const isBase = (bag: Bag, mesh: BagMesh, t: number): boolean => bag.panels[mesh.triPanel[t]].role === 'base' || mesh.triPart[t] === PART_BASE;

/** Vertices of the bottom within the given panels, increasing; none when the bag has no base. */
export function baseVerts(bag: Bag, mesh: BagMesh, panels: Iterable<number>): number[] {
  const among = new Set(panels);
  const found = new Set<number>();
  for (let t = 0; t < mesh.triPanel.length; t++)
    if (among.has(mesh.triPanel[t]) && isBase(bag, mesh, t)) for (let k = 0; k < 3; k++) found.add(mesh.triVerts[3 * t + k]);
  return [...found].sort((a, b) => a - b);
}

/** Does the sewn bag turn sharply along an inner edge: on a fold line, or where boxed corners turn the panel? */
export function turnsHere(mesh: BagMesh, e: number): boolean {
  if (mesh.edgeKind[e] !== EDGE_INNER) return mesh.edgeKind[e] === EDGE_FOLD;
  return mesh.triPart[mesh.edgeTris[2 * e]] !== mesh.triPart[mesh.edgeTris[2 * e + 1]];
}
