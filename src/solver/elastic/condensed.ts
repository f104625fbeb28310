import { analysing, factorising, solve } from '../sparse/index.ts';
import type { Work } from '../work.ts';
import { entries } from './rows.ts';
import type { Sheet } from './sheet.ts';

/** Solves A_yy z = rhs for the condensed unknowns (rotations xi of inner edges and beside seams). A_yy depends on the rest shape only. */
export type CondensedSolve = (rhs: Float64Array, out: Float64Array) => void;

/**
 * Elimination order of the condensed unknowns: each goes with whichever end of its edge goes first, so that what cuts the points in two cuts these in two as
 * well. Against an order of their own (2041 points, 5816 unknowns): found in a fraction of the 26 ms, 1.4 times the numbers in the factor, 1.1 times the time of a solve.
 * perm[new] = old point.
 */
function orderByPoints({ m, condensed, condensedOf, triVerts }: Sheet, perm: Int32Array): Int32Array {
  const place = new Int32Array(perm.length),
    first = new Int32Array(condensed),
    next = new Int32Array(perm.length + 1),
    order = new Int32Array(condensed);
  for (let i = 0; i < perm.length; i++) place[perm[i]!] = i;
  for (let q = 0; q < 3 * m; q++) {
    const t = q - (q % 3);
    if (condensedOf[q]! >= 0) first[condensedOf[q]!] = Math.min(place[triVerts[t + ((q + 1) % 3)]!]!, place[triVerts[t + ((q + 2) % 3)]!]!);
  }
  for (let y = 0; y < condensed; y++) next[first[y]! + 1] = next[first[y]! + 1]! + 1;
  for (let i = 0; i < perm.length; i++) next[i + 1] = next[i + 1]! + next[i]!;
  for (let y = 0; y < condensed; y++) {
    order[next[first[y]!]!] = y;
    next[first[y]!] = next[first[y]!]! + 1;
  }
  return order;
}

/**
 * Builds and factorises A_yy = s^T K s + seam springs once. Returns its solver.
 * perm: elimination order of the mesh's points.
 * Physical meaning: the bending energy is quadratic in (theta, y) with constant matrices, so y is eliminated exactly.
 */
export function* factorisingCondensed(sheet: Sheet, seamPairs: readonly (readonly [number, number, number])[], perm: Int32Array): Work<CondensedSolve> {
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
  const { start, column, value } = yield* lower.rows(N, 1);
  yield;
  const symbolic = yield* analysing({ blockCount: N, blockSize: 1, rowPtr: start, colIdx: column }, orderByPoints(sheet, perm));
  const factor = yield* factorising(symbolic, value);
  if (factor.failedAt >= 0)
    throw new Error(`bending matrix is not positive definite at condensed unknown ${factor.failedAt}: a rigidity is zero or D12 is too large`);
  return (rhs, out) => solve(symbolic, factor, rhs, out);
}
