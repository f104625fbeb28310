import { analyse, factorise, solve } from '../sparse/index.ts';
import { entries } from './rows.ts';
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
  const lower = entries(9 * sheet.m + 3 * seamPairs.length);
  for (let t = 0; t < sheet.m; t++) {
    for (let a = 0; a < 3; a++) {
      const i = sheet.condensedOf[3 * t + a]!;
      if (i < 0) continue;
      for (let b = 0; b < 3; b++) {
        const j = sheet.condensedOf[3 * t + b]!;
        if (j >= 0 && j <= i) lower.add(i, j, sheet.condensedCoef[3 * t + a]! * sheet.condensedCoef[3 * t + b]! * sheet.K[9 * t + 3 * a + b]!);
      }
    }
  }
  for (const [i, j, k] of seamPairs) {
    lower.add(i, i, k);
    lower.add(j, j, k);
    lower.add(Math.max(i, j), Math.min(i, j), k);
  }
  const { start, column, value } = lower.rows(N, 1);
  const symbolic = analyse({ blockCount: N, blockSize: 1, rowPtr: start, colIdx: column });
  const factor = factorise(symbolic, value);
  if (factor.failedAt >= 0)
    throw new Error(`bending matrix is not positive definite at condensed unknown ${factor.failedAt}: a rigidity is zero or D12 is too large`);
  return (rhs, out) => solve(symbolic, factor, rhs, out);
}
