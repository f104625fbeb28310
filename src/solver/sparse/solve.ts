import type { BlockPattern, Factor, Symbolic } from './types.ts';

/**
 * Writes x with A x = rhs, from a factor whose `failedAt` is -1.
 *
 * Formula: L y = P rhs, then L^T P x = y, panel by panel. `rhs` and `x`: b*n numbers, and may be the same array.
 * Mutates x and the factor's work arrays.
 */
export function solve(symbolic: Symbolic, factor: Factor, rhs: Float64Array, x: Float64Array): void {
  const { perm, blockCount: n, blockSize } = symbolic;
  const y = factor.work;
  if (blockSize === 3)
    for (let i = 0, t = 0; i < n; i++, t += 3) {
      const p = 3 * perm[i];
      y[t] = rhs[p];
      y[t + 1] = rhs[p + 1];
      y[t + 2] = rhs[p + 2];
    }
  else for (let i = 0; i < n; i++) y[i] = rhs[perm[i]];
  for (let s = 0; s < symbolic.superCount; s++) forward(symbolic, factor, s);
  for (let s = symbolic.superCount - 1; s >= 0; s--) backward(symbolic, factor, s);
  if (blockSize === 3)
    for (let i = 0, t = 0; i < n; i++, t += 3) {
      const p = 3 * perm[i];
      x[p] = y[t];
      x[p + 1] = y[t + 1];
      x[p + 2] = y[t + 2];
    }
  else for (let i = 0; i < n; i++) x[perm[i]] = y[i];
}

function forward(symbolic: Symbolic, factor: Factor, s: number): void {
  const { blockSize: b, superStart, rowStart, rows, panelStart } = symbolic;
  const { panels: P, work: y, gather: g } = factor;
  const first = superStart[s] * b;
  const k = superStart[s + 1] * b - first;
  let p = panelStart[s];
  for (let i = 0; i < k; i += 4) {
    const width = Math.min(4, k - i);
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    let q = p;
    for (let c = first; c < first + i; c++, q += 4) {
      const v = y[c];
      s0 += P[q] * v;
      s1 += P[q + 1] * v;
      s2 += P[q + 2] * v;
      s3 += P[q + 3] * v;
    }
    const at = first + i;
    const y0 = (y[at] - s0) * P[q];
    y[at] = y0;
    if (width > 1) {
      const y1 = (y[at + 1] - s1 - P[q + 1] * y0) * P[q + 5];
      y[at + 1] = y1;
      if (width > 2) {
        const y2 = (y[at + 2] - s2 - P[q + 2] * y0 - P[q + 6] * y1) * P[q + 10];
        y[at + 2] = y2;
        if (width > 3) y[at + 3] = (y[at + 3] - s3 - P[q + 3] * y0 - P[q + 7] * y1 - P[q + 11] * y2) * P[q + 15];
      }
    }
    p += 4 * k;
  }
  const blocks = rowStart[s + 1] - rowStart[s];
  const r = blocks * b;
  for (let i = 0; i < r; i += 4) {
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let c = first; c < first + k; c++, p += 4) {
      const v = y[c];
      s0 += P[p] * v;
      s1 += P[p + 1] * v;
      s2 += P[p + 2] * v;
      s3 += P[p + 3] * v;
    }
    g[i] = s0;
    g[i + 1] = s1;
    g[i + 2] = s2;
    g[i + 3] = s3;
  }
  const from = rowStart[s];
  if (b === 3)
    for (let i = 0, t = 0; i < blocks; i++, t += 3) {
      const row = 3 * rows[from + i];
      y[row] -= g[t];
      y[row + 1] -= g[t + 1];
      y[row + 2] -= g[t + 2];
    }
  else for (let i = 0; i < blocks; i++) y[rows[from + i]] -= g[i];
}

function backward(symbolic: Symbolic, factor: Factor, s: number): void {
  const { blockSize: b, superStart, rowStart, rows, panelStart } = symbolic;
  const { panels: P, work: y, gather: g } = factor;
  const first = superStart[s] * b;
  const k = superStart[s + 1] * b - first;
  const from = rowStart[s];
  const blocks = rowStart[s + 1] - from;
  const r = blocks * b;
  if (b === 3)
    for (let i = 0, t = 0; i < blocks; i++, t += 3) {
      const row = 3 * rows[from + i];
      g[t] = y[row];
      g[t + 1] = y[row + 1];
      g[t + 2] = y[row + 2];
    }
  else for (let i = 0; i < blocks; i++) g[i] = y[rows[from + i]];
  for (let i = r; i & 3; i++) g[i] = 0;
  let p = panelStart[s] + ((k + 3) & ~3) * k;
  for (let i = 0; i < r; i += 4) {
    const g0 = g[i];
    const g1 = g[i + 1];
    const g2 = g[i + 2];
    const g3 = g[i + 3];
    for (let c = first; c < first + k; c++, p += 4) y[c] -= P[p] * g0 + P[p + 1] * g1 + P[p + 2] * g2 + P[p + 3] * g3;
  }
  for (let i = (k - 1) & ~3; i >= 0; i -= 4) {
    const width = Math.min(4, k - i);
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
    let t = row;
    for (let c = first; c < at; c++, t += 4) y[c] -= P[t] * y0 + P[t + 1] * y1 + P[t + 2] * y2 + P[t + 3] * y3;
  }
}

/** Writes y = A x for a matrix given by its lower triangle. x and y: b*n numbers, not the same array. Mutates y. */
export function multiply(pattern: BlockPattern, values: Float64Array, x: Float64Array, y: Float64Array): void {
  if (pattern.blockSize === 3) multiply3(pattern, values, x, y);
  else multiply1(pattern, values, x, y);
}

function multiply1(pattern: BlockPattern, values: Float64Array, x: Float64Array, y: Float64Array): void {
  const { blockCount: n, rowPtr, colIdx } = pattern;
  for (let i = 0; i < n; i++) {
    const xi = x[i];
    const last = rowPtr[i + 1] - 1;
    let sum = values[last] * xi;
    for (let p = rowPtr[i]; p < last; p++) {
      const j = colIdx[p];
      const a = values[p];
      sum += a * x[j];
      y[j] += a * xi;
    }
    y[i] = sum;
  }
}

function multiply3(pattern: BlockPattern, values: Float64Array, x: Float64Array, y: Float64Array): void {
  const { blockCount: n, rowPtr, colIdx } = pattern;
  for (let i = 0; i < n; i++) {
    const at = 3 * i;
    const x0 = x[at];
    const x1 = x[at + 1];
    const x2 = x[at + 2];
    const last = rowPtr[i + 1] - 1;
    let v = 9 * last;
    let s0 = values[v] * x0 + values[v + 1] * x1 + values[v + 2] * x2;
    let s1 = values[v + 3] * x0 + values[v + 4] * x1 + values[v + 5] * x2;
    let s2 = values[v + 6] * x0 + values[v + 7] * x1 + values[v + 8] * x2;
    v = 9 * rowPtr[i];
    for (let p = rowPtr[i]; p < last; p++, v += 9) {
      const j = 3 * colIdx[p];
      const a00 = values[v];
      const a01 = values[v + 1];
      const a02 = values[v + 2];
      const a10 = values[v + 3];
      const a11 = values[v + 4];
      const a12 = values[v + 5];
      const a20 = values[v + 6];
      const a21 = values[v + 7];
      const a22 = values[v + 8];
      const u0 = x[j];
      const u1 = x[j + 1];
      const u2 = x[j + 2];
      s0 += a00 * u0 + a01 * u1 + a02 * u2;
      s1 += a10 * u0 + a11 * u1 + a12 * u2;
      s2 += a20 * u0 + a21 * u1 + a22 * u2;
      y[j] += a00 * x0 + a10 * x1 + a20 * x2;
      y[j + 1] += a01 * x0 + a11 * x1 + a21 * x2;
      y[j + 2] += a02 * x0 + a12 * x1 + a22 * x2;
    }
    y[at] = s0;
    y[at + 1] = s1;
    y[at + 2] = s2;
  }
}
