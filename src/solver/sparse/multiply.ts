import type { BlockPattern } from './types.ts';

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
