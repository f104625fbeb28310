import { type BagMesh, restCorners } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/**
 * Ways along the cloth from one mesh point to others, over seams too: shortest chains of mesh edges at rest, m (Dijkstra 1959), which are up to some 15 %
 * longer than the straight way. Infinity beyond `limit`. The function returned for one point is good until the next one is asked for.
 */
export function waysAlong(mesh: BagMesh, limit: number): (from: number) => (to: number) => number {
  const n = mesh.vertexCount;
  const rest = restCorners(mesh);
  const next: Map<number, number>[] = Array.from({ length: n }, () => new Map());
  for (let t = 0; t < mesh.triPanel.length; t++)
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [mesh.triVerts[3 * t + k], mesh.triVerts[3 * t + j]];
      const l = libm.hypot(rest[6 * t + 2 * j] - rest[6 * t + 2 * k], rest[6 * t + 2 * j + 1] - rest[6 * t + 2 * k + 1]);
      if (l < (next[a].get(b) ?? Number.POSITIVE_INFINITY)) {
        next[a].set(b, l);
        next[b].set(a, l);
      }
    }
  const length = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  let touched: number[] = [];
  return (from) => {
    for (const v of touched) length[v] = Number.POSITIVE_INFINITY;
    length[from] = 0;
    touched = [from];
    // The neighbourhood is some tens of points: a plain list is as quick as a heap.
    const open = [from];
    while (open.length > 0) {
      let best = 0;
      for (let i = 1; i < open.length; i++) if (length[open[i]] < length[open[best]]) best = i;
      const v = open[best];
      open[best] = open[open.length - 1];
      open.pop();
      for (const [w, l] of next[v]) {
        const way = length[v] + l;
        if (way >= length[w] || way > limit) continue;
        if (length[w] === Number.POSITIVE_INFINITY) {
          touched.push(w);
          open.push(w);
        }
        length[w] = way;
      }
    }
    return (to) => length[to];
  };
}
