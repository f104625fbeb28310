import { type BagMesh, EDGE_SEAM } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/**
 * +1 for panels whose face looks out of the bag, -1 for panels sewn wrong side out, by panel; the lowest panel of each sewn group counts as +1.
 * Carried across seams: two panels face the same way when they run their shared edge in opposite directions. A panel that cannot go on
 * either way, being a third layer (a pocket in the side seams), takes the side its triangles show beside its neighbours' in `positions`.
 */
export function panelFacing(mesh: BagMesh, positions: Float64Array): Int8Array {
  const count = mesh.panelNames.length;
  const n = mesh.vertexCount;
  const near: Set<number>[] = Array.from({ length: count }, () => new Set());
  const runs: [number, number][][] = Array.from({ length: count }, () => []);
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const [p, q] = [0, 1].map((side) => mesh.triPanel[mesh.edgeTris[2 * e + side]]);
    near[p].add(q);
    near[q].add(p);
    for (const side of [0, 1]) {
      const [t, k] = [mesh.edgeTris[2 * e + side], mesh.edgeLocal[2 * e + side]];
      runs[mesh.triPanel[t]].push([mesh.triVerts[3 * t + ((k + 1) % 3)], mesh.triVerts[3 * t + ((k + 2) % 3)]]);
    }
  }
  const facing = new Int8Array(count);
  const used = new Set<number>();
  const third: number[] = [];
  for (let root = 0; root < count; root++) {
    if (facing[root] !== 0 || third.includes(root)) continue;
    for (const queue = [root]; queue.length > 0; ) {
      const p = queue.shift()!;
      if (facing[p] !== 0 || third.includes(p)) continue;
      const keys = (sign: number): number[] => runs[p].map(([a, b]) => (sign > 0 ? a * n + b : b * n + a));
      const sign = [1, -1].find((s) => !keys(s).some((key) => used.has(key)));
      if (sign === undefined) {
        third.push(p);
        continue;
      }
      facing[p] = sign;
      for (const key of keys(sign)) used.add(key);
      queue.push(...[...near[p]].sort((a, b) => a - b));
    }
  }
  for (const p of third) facing[p] = beside(mesh, positions, p, facing);
  return facing;
}

/** Sign that turns panel p's triangles along its seams the way its neighbours' face. */
function beside(mesh: BagMesh, x: Float64Array, p: number, facing: Int8Array): 1 | -1 {
  const normal = (t: number): [number, number, number] => {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * mesh.triVerts[3 * t + k]);
    const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
    const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
    return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  };
  let sum = 0;
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const [t, u] = [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1]];
    if ((mesh.triPanel[t] === p) === (mesh.triPanel[u] === p)) continue;
    const other = facing[mesh.triPanel[mesh.triPanel[t] === p ? u : t]];
    const [m, o] = [normal(t), normal(u)];
    sum += other * (m[0] * o[0] + m[1] * o[1] + m[2] * o[2]);
  }
  return sum >= 0 ? 1 : -1;
}

/** 3n unit normals, area-weighted over the triangles round each vertex (of one panel only, if given), on the face side: out of the bag. */
export function outwardNormals(mesh: BagMesh, positions: Float64Array, facing = panelFacing(mesh, positions), only = -1): Float64Array {
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
    const n = libm.hypot(normals[v], normals[v + 1], normals[v + 2]);
    // Two sheets folded onto each other cancel: any unit vector serves, and up is as good as another.
    if (n < 1e-300) normals[v + 2] = 1;
    else for (let d = 0; d < 3; d++) normals[v + d] /= n;
  }
  return normals;
}
