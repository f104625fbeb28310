import type { Graph } from './graph.ts';

/**
 * Elimination order of a small piece by least degree, counting the later vertices around it (its halo) as neighbours.
 *
 * The elimination graph is kept as rows of bits: at this size that is faster than any quotient graph, and the degree is exact.
 * `local` holds -1 for every vertex and is returned so.
 */
export function leafOrder(graph: Graph, verts: Int32Array, local: Int32Array, done: Uint8Array): Int32Array {
  const { start, next } = graph;
  const n = verts.length;
  const halo: number[] = [];
  for (let i = 0; i < n; i++) local[verts[i]] = i;
  for (let i = 0; i < n; i++)
    for (let p = start[verts[i]]; p < start[verts[i] + 1]; p++) {
      const w = next[p];
      if (local[w] < 0 && done[w] === 1) {
        local[w] = n + halo.length;
        halo.push(w);
      }
    }
  const words = (n + halo.length + 31) >> 5;
  const rows = new Int32Array(n * words);
  const degree = new Int32Array(n);
  for (let i = 0; i < n; i++)
    for (let p = start[verts[i]]; p < start[verts[i] + 1]; p++) {
      const w = local[next[p]];
      if (w < 0) continue;
      rows[i * words + (w >> 5)] |= 1 << (w & 31);
      degree[i]++;
    }
  for (let i = 0; i < n; i++) local[verts[i]] = -1;
  for (const w of halo) local[w] = -1;
  const out = new Int32Array(n);
  const gone = 1 << 30;
  for (let place = 0; place < n; place++) {
    let v = 0;
    for (let i = 1; i < n; i++) if (degree[i] < degree[v]) v = i;
    out[place] = verts[v];
    degree[v] = gone;
    const from = v * words;
    for (let i = 0; i < n; i++) {
      if ((rows[from + (i >> 5)] & (1 << (i & 31))) === 0) continue;
      const to = i * words;
      let count = 0;
      for (let w = 0; w < words; w++) {
        let bits = rows[to + w] | rows[from + w];
        if (w === i >> 5) bits &= ~(1 << (i & 31));
        if (w === v >> 5) bits &= ~(1 << (v & 31));
        rows[to + w] = bits;
        count += bitCount(bits);
      }
      degree[i] = count;
    }
  }
  return out;
}

function bitCount(bits: number): number {
  let b = bits - ((bits >>> 1) & 0x55555555);
  b = (b & 0x33333333) + ((b >>> 2) & 0x33333333);
  return Math.imul((b + (b >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
