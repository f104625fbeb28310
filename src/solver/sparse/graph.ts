import type { BlockPattern } from './types.ts';

/** Adjacency of a graph, both directions, no self loops: neighbours of v are next[start[v] .. start[v+1]-1]. */
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

/** The same graph with vertex perm[i] called i. */
export function permuteGraph(graph: Graph, perm: Int32Array): Graph {
  const { count: n, start, next } = graph;
  const inverse = new Int32Array(n);
  for (let i = 0; i < n; i++) inverse[perm[i]] = i;
  const newStart = new Int32Array(n + 1);
  const newNext = new Int32Array(next.length);
  let q = 0;
  for (let i = 0; i < n; i++) {
    const v = perm[i];
    for (let p = start[v]; p < start[v + 1]; p++) newNext[q++] = inverse[next[p]];
    newStart[i + 1] = q;
  }
  return { count: n, start: newStart, next: newNext };
}
