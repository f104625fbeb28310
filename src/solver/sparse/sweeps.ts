import type { Factor, Symbolic } from './types.ts';

// Triangular sweeps over one panel of row groups (see Symbolic) in plain numbers: the fallback where WebAssembly SIMD is
// missing, and the reference that sweeps-simd.ts must equal byte for byte. Two row groups are taken at a time, since one
// alone waits for its own additions.

/** Sums over the columns first .. end - 1 of the row group at P[p] times y, to g[at ..]: four rows. */
function rowGroup(P: Float64Array, p: number, y: Float64Array, first: number, end: number, g: Float64Array, at: number): void {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  for (let c = first, q = p; c < end; c++, q += 4) {
    const v = y[c];
    s0 += P[q] * v;
    s1 += P[q + 1] * v;
    s2 += P[q + 2] * v;
    s3 += P[q + 3] * v;
  }
  g[at] = s0;
  g[at + 1] = s1;
  g[at + 2] = s2;
  g[at + 3] = s3;
}

/** y[pivots] = L11^-1 y[pivots], then y[rows below] -= L21 y[pivots]. Mutates factor.work. */
export function forward(symbolic: Symbolic, factor: Factor, s: number): void {
  const { blockSize: b, superStart, rowStart, rows, panelStart } = symbolic;
  const { panels: P, work: y, gather: g } = factor;
  const first = superStart[s] * b;
  const last = superStart[s + 1] * b;
  const k = last - first;
  const stride = 4 * k;
  let p = panelStart[s];
  for (let i = 0; i < k; i += 4, p += stride) {
    const at = first + i;
    const q = p + 4 * i;
    rowGroup(P, p, y, first, at, g, 0);
    const width = k - i;
    const y0 = (y[at] - g[0]) * P[q];
    y[at] = y0;
    if (width < 2) continue;
    const y1 = (y[at + 1] - g[1] - P[q + 1] * y0) * P[q + 5];
    y[at + 1] = y1;
    if (width < 3) continue;
    const y2 = (y[at + 2] - g[2] - P[q + 2] * y0 - P[q + 6] * y1) * P[q + 10];
    y[at + 2] = y2;
    if (width > 3) y[at + 3] = (y[at + 3] - g[3] - P[q + 3] * y0 - P[q + 7] * y1 - P[q + 11] * y2) * P[q + 15];
  }
  const from = rowStart[s];
  const blocks = rowStart[s + 1] - from;
  const r = blocks * b;
  let i = 0;
  for (; i + 4 < r; i += 8, p += stride) {
    let a0 = 0;
    let a1 = 0;
    let a2 = 0;
    let a3 = 0;
    let b0 = 0;
    let b1 = 0;
    let b2 = 0;
    let b3 = 0;
    for (let c = first, q = p + stride; c < last; c++, p += 4, q += 4) {
      const v = y[c];
      a0 += P[p] * v;
      a1 += P[p + 1] * v;
      a2 += P[p + 2] * v;
      a3 += P[p + 3] * v;
      b0 += P[q] * v;
      b1 += P[q + 1] * v;
      b2 += P[q + 2] * v;
      b3 += P[q + 3] * v;
    }
    g[i] = a0;
    g[i + 1] = a1;
    g[i + 2] = a2;
    g[i + 3] = a3;
    g[i + 4] = b0;
    g[i + 5] = b1;
    g[i + 6] = b2;
    g[i + 7] = b3;
  }
  if (i < r) rowGroup(P, p, y, first, last, g, i);
  if (b === 3)
    for (let e = from, t = 0; e < from + blocks; e++, t += 3) {
      const row = 3 * rows[e];
      y[row] -= g[t];
      y[row + 1] -= g[t + 1];
      y[row + 2] -= g[t + 2];
    }
  else for (let e = from, t = 0; e < from + blocks; e++, t++) y[rows[e]] -= g[t];
}

/** y[pivots] = L11^-T (y[pivots] - L21^T y[rows below]). Mutates factor.work. */
export function backward(symbolic: Symbolic, factor: Factor, s: number): void {
  const { blockSize: b, superStart, rowStart, rows, panelStart } = symbolic;
  const { panels: P, work: y, gather: g } = factor;
  const first = superStart[s] * b;
  const last = superStart[s + 1] * b;
  const k = last - first;
  const from = rowStart[s];
  const end = rowStart[s + 1];
  const r = (end - from) * b;
  if (b === 3)
    for (let e = from, t = 0; e < end; e++, t += 3) {
      const row = 3 * rows[e];
      g[t] = y[row];
      g[t + 1] = y[row + 1];
      g[t + 2] = y[row + 2];
    }
  else for (let e = from, t = 0; e < end; e++, t++) g[t] = y[rows[e]];
  g[r] = g[r + 1] = g[r + 2] = 0;
  let p = panelStart[s] + ((k + 3) & ~3) * k;
  let i = 0;
  // Even and odd rows are summed apart and added last: that is how a pair of lanes does it.
  for (; i + 4 < r; i += 8, p += 4 * k) {
    const g0 = g[i];
    const g1 = g[i + 1];
    const g2 = g[i + 2];
    const g3 = g[i + 3];
    const g4 = g[i + 4];
    const g5 = g[i + 5];
    const g6 = g[i + 6];
    const g7 = g[i + 7];
    for (let c = first, q = p + 4 * k; c < last; c++, p += 4, q += 4)
      y[c] -= P[p] * g0 + P[p + 2] * g2 + P[q] * g4 + P[q + 2] * g6 + (P[p + 1] * g1 + P[p + 3] * g3 + P[q + 1] * g5 + P[q + 3] * g7);
  }
  if (i < r) {
    const g0 = g[i];
    const g1 = g[i + 1];
    const g2 = g[i + 2];
    const g3 = g[i + 3];
    for (let c = first; c < last; c++, p += 4) y[c] -= P[p] * g0 + P[p + 2] * g2 + (P[p + 1] * g1 + P[p + 3] * g3);
  }
  for (i = (k - 1) & ~3; i >= 0; i -= 4) {
    const width = k - i;
    const row = panelStart[s] + i * k;
    const q = row + 4 * i;
    const at = first + i;
    let y1 = 0;
    let y2 = 0;
    let y3 = 0;
    if (width > 3) y[at + 3] = y3 = y[at + 3] * P[q + 15];
    if (width > 2) y[at + 2] = y2 = (y[at + 2] - P[q + 11] * y3) * P[q + 10];
    if (width > 1) y[at + 1] = y1 = (y[at + 1] - P[q + 6] * y2 - P[q + 7] * y3) * P[q + 5];
    const y0 = (y[at] - P[q + 1] * y1 - P[q + 2] * y2 - P[q + 3] * y3) * P[q];
    y[at] = y0;
    for (let c = first, t = row; c < at; c++, t += 4) y[c] -= P[t] * y0 + P[t + 2] * y2 + (P[t + 1] * y1 + P[t + 3] * y3);
  }
}
