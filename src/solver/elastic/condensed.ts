import { analyse, factorise, solve } from '../sparse/index.ts';
import type { Sheet } from './sheet.ts';

/** Solves A_yy z = rhs for the condensed unknowns (rotations xi of inner edges and beside seams). A_yy depends on the rest shape only. */
export type CondensedSolve = (rhs: Float64Array, out: Float64Array) => void;

/**
 * Builds and factorises A_yy = s^T K s + seam springs once. Returns its solver.
 * Physical meaning: the bending energy is quadratic in (theta, y) with constant matrices, so y is eliminated exactly.
 */
export function factoriseCondensed(sheet: Sheet, seamPairs: readonly (readonly [number, number, number])[]): CondensedSolve {
  const N = sheet.condensed;
  if (N === 0) return () => {};
  const rows: Map<number, number>[] = Array.from({ length: N }, () => new Map());
  const add = (i: number, j: number, v: number) => {
    if (j > i) return;
    const row = rows[i]!;
    row.set(j, (row.get(j) ?? 0) + v);
  };
  for (let t = 0; t < sheet.m; t++) {
    for (let a = 0; a < 3; a++) {
      const i = sheet.condensedOf[3 * t + a]!;
      if (i < 0) continue;
      for (let b = 0; b < 3; b++) {
        const j = sheet.condensedOf[3 * t + b]!;
        if (j >= 0) add(i, j, sheet.condensedCoef[3 * t + a]! * sheet.condensedCoef[3 * t + b]! * sheet.K[9 * t + 3 * a + b]!);
      }
    }
  }
  for (const [i, j, k] of seamPairs) {
    add(i, i, k);
    add(j, j, k);
    add(Math.max(i, j), Math.min(i, j), k);
  }
  const rowPtr = new Int32Array(N + 1);
  for (let i = 0; i < N; i++) rowPtr[i + 1] = rowPtr[i]! + rows[i]!.size;
  const colIdx = new Int32Array(rowPtr[N]!),
    values = new Float64Array(rowPtr[N]!);
  for (let i = 0; i < N; i++) {
    let p = rowPtr[i]!;
    for (const j of [...rows[i]!.keys()].sort((u, v) => u - v)) {
      colIdx[p] = j;
      values[p++] = rows[i]!.get(j)!;
    }
  }
  const symbolic = analyse({ blockCount: N, blockSize: 1, rowPtr, colIdx });
  const factor = factorise(symbolic, values);
  if (factor.failedAt >= 0)
    throw new Error(`bending matrix is not positive definite at condensed unknown ${factor.failedAt}: a rigidity is zero or D12 is too large`);
  return (rhs, out) => solve(symbolic, factor, rhs, out);
}
