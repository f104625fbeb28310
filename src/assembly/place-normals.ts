import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';

/**
 * +1 for panels sewn face out, -1 for panels sewn wrong side out, by panel. Two panels face the same way when their triangles run a shared
 * seam edge in opposite directions; carried from the lowest panel of each sewn group.
 */
export function panelFacing(mesh: BagMesh): Int8Array {
  const count = mesh.panelNames.length;
  const links: Map<number, number>[] = Array.from({ length: count }, () => new Map());
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const [t, u] = [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1]];
    const same = mesh.triVerts[3 * u + ((mesh.edgeLocal[2 * e + 1] + 1) % 3)] === mesh.edgeVerts[2 * e];
    links[mesh.triPanel[t]].set(mesh.triPanel[u], same ? -1 : 1);
    links[mesh.triPanel[u]].set(mesh.triPanel[t], same ? -1 : 1);
  }
  const facing = new Int8Array(count);
  for (let root = 0; root < count; root++) {
    if (facing[root] !== 0) continue;
    facing[root] = 1;
    const queue = [root];
    for (let i = 0; i < queue.length; i++)
      for (const [q, sign] of links[queue[i]])
        if (facing[q] === 0) {
          facing[q] = facing[queue[i]] * sign;
          queue.push(q);
        }
  }
  return facing;
}

/** 3n unit normals, area-weighted over the triangles round each vertex (of one panel only, if given), on the face side: out of the bag. */
export function outwardNormals(mesh: BagMesh, positions: Float64Array, facing = panelFacing(mesh), only = -1): Float64Array {
  const normals = new Float64Array(3 * mesh.vertexCount);
  const { triVerts } = mesh;
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (only >= 0 && mesh.triPanel[t] !== only) continue;
    const [a, b, c] = [3 * triVerts[3 * t], 3 * triVerts[3 * t + 1], 3 * triVerts[3 * t + 2]];
    const [ux, uy, uz] = [positions[b] - positions[a], positions[b + 1] - positions[a + 1], positions[b + 2] - positions[a + 2]];
    const [vx, vy, vz] = [positions[c] - positions[a], positions[c + 1] - positions[a + 1], positions[c + 2] - positions[a + 2]];
    const s = facing[mesh.triPanel[t]];
    for (const v of [a, b, c]) {
      normals[v] += s * (uy * vz - uz * vy);
      normals[v + 1] += s * (uz * vx - ux * vz);
      normals[v + 2] += s * (ux * vy - uy * vx);
    }
  }
  for (let v = 0; v < normals.length; v += 3) {
    const n = Math.hypot(normals[v], normals[v + 1], normals[v + 2]);
    // Two sheets folded onto each other cancel: any unit vector serves, and up is as good as another.
    if (n < 1e-300) normals[v + 2] = 1;
    else for (let d = 0; d < 3; d++) normals[v + d] /= n;
  }
  return normals;
}
