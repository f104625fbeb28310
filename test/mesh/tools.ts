import type { BagMesh } from '../../src/mesh/types.ts';
import { EDGE_INNER } from '../../src/mesh/types.ts';

/** Vertices less edges plus faces, an edge being an unordered pair of vertices. */
export function euler(mesh: BagMesh): number {
  const pairs = new Set<number>();
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    const [a, b] = [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]];
    pairs.add(Math.min(a, b) * mesh.vertexCount + Math.max(a, b));
  }
  return mesh.vertexCount - pairs.size + mesh.triPanel.length;
}

/** Flat area of the triangles of one panel and region (-1: all), m2. */
export function flatArea(mesh: BagMesh, panel = -1, region = -1): number {
  let sum = 0;
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if ((panel >= 0 && mesh.triPanel[t] !== panel) || (region >= 0 && mesh.triRegion[t] !== region)) continue;
    const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
    sum += ((f[2] - f[0]) * (f[5] - f[1]) - (f[3] - f[1]) * (f[4] - f[0])) / 2;
  }
  return sum;
}

/** What must never be in a sewn mesh: triangles that meet a vertex twice, triangles on the same three vertices, an inner edge that two sheets share. */
export function flaws(mesh: BagMesh): { folded: number; repeated: number; sharedInner: number; turned: number } {
  let [folded, repeated, turned] = [0, 0, 0];
  const seen = new Set<string>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const corners = [...mesh.triVerts.subarray(3 * t, 3 * t + 3)].sort((a, b) => a - b);
    if (new Set(corners).size < 3) folded++;
    if (seen.has(corners.join())) repeated++;
    seen.add(corners.join());
    const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
    if (!((f[2] - f[0]) * (f[5] - f[1]) - (f[3] - f[1]) * (f[4] - f[0]) > 0)) turned++;
  }
  const inner = new Set<number>();
  let sharedInner = 0;
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_INNER) continue;
    const [a, b] = [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]];
    const key = Math.min(a, b) * mesh.vertexCount + Math.max(a, b);
    if (inner.has(key)) sharedInner++;
    inner.add(key);
  }
  return { folded, repeated, sharedInner, turned };
}
