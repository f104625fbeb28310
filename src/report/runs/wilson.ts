import { keepsShape } from '../severity.ts';
import type { HoldShare, PlannedRun } from './types.ts';

/** Quantile of the normal distribution for 95 % on both sides. */
export const Z95 = 1.959963984540054;

/**
 * Interval for a share of which k of n were seen: (p + z^2/2n -+ z sqrt(p (1 - p)/n + z^2/4n^2)) / (1 + z^2/n), p = k/n. It stays within 0..1 and says something for 0 of n
 * and n of n, where the plain interval has no width. For draws that do not depend on one another; of a Latin hypercube it is rather too wide than too narrow. n = 0: 0 to 1.
 * Source: Wilson, "Probable inference, the law of succession, and statistical inference", J. Am. Stat. Assoc. 22 (1927), 209-212 (from memory).
 */
export function wilson(k: number, n: number, z = Z95): { readonly low: number; readonly high: number } {
  if (n === 0) return { low: 0, high: 1 };
  const p = k / n,
    square = (z * z) / n,
    middle = (p + square / 2) / (1 + square),
    half = (z * Math.sqrt((p * (1 - p)) / n + square / (4 * n))) / (1 + square);
  // The ends are exact at 0 of n and n of n; rounding must not push them past.
  return { low: k === 0 ? 0 : Math.max(0, middle - half), high: k === n ? 1 : Math.min(1, middle + half) };
}

/** Runs that have an answer: a word that is a verdict. */
const answered = (runs: readonly PlannedRun[]): readonly PlannedRun[] => runs.filter((r) => r.word !== null && r.word !== 'no verdict');

/** Does the run keep its shape, standing or hanging? */
export const holds = (r: PlannedRun): boolean => r.word !== null && keepsShape(r.word);

/** How many of these runs hold; runs without a verdict are left out. Parameters: runs; whether they were drawn (plan.samples is not null): only draws have an interval. */
export function holdShare(runs: readonly PlannedRun[], drawn = true): HoldShare {
  const told = answered(runs),
    k = told.filter(holds).length;
  return { holds: k, of: told.length, ...(drawn ? wilson(k, told.length) : {}) };
}
