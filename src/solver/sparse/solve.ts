import { backward, forward } from './sweeps.ts';
import type { Factor, Symbolic } from './types.ts';

/**
 * Writes x with A x = rhs, from a factor whose `failedAt` is -1.
 *
 * Formula: L y = P rhs, then L^T P x = y, panel by panel; equal input gives equal bytes, with or without SIMD.
 * `rhs` and `x`: b*n numbers, and may be the same array. Mutates x and the factor's work arrays.
 */
export function solve(symbolic: Symbolic, factor: Factor, rhs: Float64Array, x: Float64Array): void {
  const { perm, blockCount: n, blockSize, superCount } = symbolic;
  const { work: y, simd } = factor;
  if (blockSize === 3)
    for (let i = 0, t = 0; i < n; i++, t += 3) {
      const p = 3 * perm[i];
      y[t] = rhs[p];
      y[t + 1] = rhs[p + 1];
      y[t + 2] = rhs[p + 2];
    }
  else for (let i = 0; i < n; i++) y[i] = rhs[perm[i]];
  if (simd === undefined) {
    for (let s = 0; s < superCount; s++) forward(symbolic, factor, s);
    for (let s = superCount - 1; s >= 0; s--) backward(symbolic, factor, s);
  } else {
    const { kernels, superStart, rowStart, panelStart, rows } = simd;
    const { panels, gather } = factor;
    const forwards = blockSize === 3 ? kernels.forward3 : kernels.forward1;
    const backwards = blockSize === 3 ? kernels.backward3 : kernels.backward1;
    for (const sweep of [forwards, backwards])
      sweep(superCount, superStart.byteOffset, rowStart.byteOffset, panelStart.byteOffset, rows.byteOffset, panels.byteOffset, y.byteOffset, gather.byteOffset);
  }
  if (blockSize === 3)
    for (let i = 0, t = 0; i < n; i++, t += 3) {
      const p = 3 * perm[i];
      x[p] = y[t];
      x[p + 1] = y[t + 1];
      x[p + 2] = y[t + 2];
    }
  else for (let i = 0; i < n; i++) x[perm[i]] = y[i];
}
