import type { BlockPattern } from './types.ts';

/** Adjacency of the block graph, both directions, no self loops. */
export interface Graph {
  readonly count: number;
  readonly start: Int32Array;
  readonly next: Int32Array;
}

export function blockGraph(pattern: BlockPattern): Graph {
  const { blockCount: n, rowPtr, colIdx } = pattern;
  const start = new Int32Array(n + 1);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++) {
      const j = colIdx[p];
      if (j === i) continue;
      start[i + 1]++;
      start[j + 1]++;
    }
  for (let i = 0; i < n; i++) start[i + 1] += start[i];
  const fill = start.slice(0, n);
  const next = new Int32Array(start[n]);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++) {
      const j = colIdx[p];
      if (j === i) continue;
      next[fill[i]++] = j;
      next[fill[j]++] = i;
    }
  return { count: n, start, next };
}

const LEAF = 24;

/** Elimination order (order[new] = old) by nested dissection along breadth-first levels. */
export function order(graph: Graph): Int32Array {
  const { count: n, start, next } = graph;
  const out = new Int32Array(n);
  // part[v] names the piece v is in; -1 once it has its place.
  const part = new Int32Array(n);
  const level = new Int32Array(n).fill(-1);
  const queue = new Int32Array(n);
  let parts = 1;
  let place = n;
  const bfs = (root: number, id: number): number => {
    let tail = 0;
    queue[tail++] = root;
    level[root] = 0;
    for (let head = 0; head < tail; head++) {
      const v = queue[head];
      for (let p = start[v]; p < start[v + 1]; p++) {
        const w = next[p];
        if (part[w] !== id || level[w] >= 0) continue;
        level[w] = level[v] + 1;
        queue[tail++] = w;
      }
    }
    return tail;
  };
  const forget = (count: number): void => {
    for (let i = 0; i < count; i++) level[queue[i]] = -1;
  };
  const stack: { verts: Int32Array; id: number }[] = [{ verts: Int32Array.from({ length: n }, (_, i) => i), id: 0 }];
  for (let piece = stack.pop(); piece; piece = stack.pop()) {
    const { verts, id } = piece;
    if (verts.length <= LEAF) {
      for (let i = verts.length - 1; i >= 0; i--) out[--place] = verts[i];
      for (const v of verts) part[v] = -1;
      continue;
    }
    let root = verts[0];
    let found = bfs(root, id);
    if (found < verts.length) {
      const inside = queue.slice(0, found);
      forget(found);
      const a = parts++;
      for (const v of inside) part[v] = a;
      stack.push({ verts: verts.filter((v) => part[v] === id), id }, { verts: inside, id: a });
      continue;
    }
    for (let turn = 0; turn < 3; turn++) {
      root = queue[found - 1];
      forget(found);
      found = bfs(root, id);
    }
    const middle = level[queue[found >> 1]];
    const last = level[queue[found - 1]];
    const cut = Math.max(1, Math.min(middle, last - 1));
    const below = parts++;
    const above = parts++;
    const lower: number[] = [];
    const upper: number[] = [];
    for (let i = 0; i < found; i++) {
      const v = queue[i];
      const l = level[v];
      let apart = l !== cut;
      if (!apart) {
        apart = true;
        for (let p = start[v]; p < start[v + 1]; p++) if (part[next[p]] === id && level[next[p]] === cut + 1) apart = false;
        if (last <= 1) apart = false;
      }
      if (!apart) continue;
      if (l <= cut) lower.push(v);
      else upper.push(v);
    }
    for (const v of lower) part[v] = below;
    for (const v of upper) part[v] = above;
    for (let i = 0; i < found; i++) {
      const v = queue[i];
      if (part[v] === id) {
        out[--place] = v;
        part[v] = -1;
      }
    }
    forget(found);
    if (lower.length > 0) stack.push({ verts: Int32Array.from(lower), id: below });
    if (upper.length > 0) stack.push({ verts: Int32Array.from(upper), id: above });
  }
  return out;
}
