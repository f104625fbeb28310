import type { Axis, FirstOrder, PlannedRun } from './types.ts';
import { Z95 } from './wilson.ts';

/** Most groups that drawn figures are laid together in. */
const MOST_GROUPS = 50;

/** How the shares are had, in words, for whoever reads the table. */
export const SHARES_METHOD =
  'regression of the figure on one parameter at a time, its values as groups (drawn figures in as many groups of equal count as the root of the number of runs, so that a straight line reads 1 over that number low); ' +
  'share = R squared, of draws adjusted for the number of groups and with a 95 % interval from deleting one run at a time (jackknife); values gone through one by one are no sample and have none; ' +
  'what the shares leave to 100 % is what parameters do together, and scatter';

/**
 * First-order shares of a figure's variance: for each axis R^2 of the regression of y on its groups. Of draws it is adjusted for their number,
 * (SSB - (g - 1) MSW) / SST, the estimate epsilon^2 of Var(E[y | x]) / Var(y), with share -+ 1.96 s of the delete-one jackknife, cut to 0..1. Of a grid it is SSB / SST itself: every pair
 * of values stands there once, nothing is estimated, and there is no interval. No shape of the dependence is assumed. Axes with one value, and figures that do not vary, give nothing.
 * Parameters: axes; runs; y, a number for each run or null where it has none; whether the runs were drawn (plan.samples is not null).
 * Errors: none. Sources: Kelley, "An unbiased correlation ratio measure", Proc. Natl. Acad. Sci. 21 (1935), 554-559; Saltelli et al., "Global sensitivity analysis" (2008),
 * ch. 1 (both from memory).
 */
export function firstOrderShares(axes: readonly Axis[], runs: readonly PlannedRun[], y: (run: PlannedRun) => number | null, drawn = true): FirstOrder[] {
  const known = runs.flatMap((run) => {
      const value = y(run);
      return value === null ? [] : [{ run, value }];
    }),
    values = Float64Array.from(known, (k) => k.value);
  return axes.flatMap((axis): FirstOrder[] => {
    const groups = groupsOf(
        axis,
        known.map((k) => k.run.values[axis.name]!),
      ),
      count = Math.max(-1, ...groups) + 1;
    // Of one parameter alone there is nothing to tell apart; draws must leave over what scatter is told from.
    if (count < 2 || known.length <= count + (drawn ? 1 : 0)) return [];
    const made = ratioOf(values, groups, count, drawn);
    return made === null ? [] : [{ axis: axis.name, ...made, groups: count }];
  });
}

/** The group of each value: words and steps by themselves, drawn figures by their rank. */
function groupsOf(axis: Axis, values: readonly (number | string)[]): Int32Array {
  if (axis.values !== null) {
    const seen = new Set(values),
      present = axis.values.filter((v) => seen.has(v)),
      at = new Map(present.map((v, i) => [v, i]));
    return Int32Array.from(values, (v) => at.get(v) ?? 0);
  }
  const count = Math.max(1, Math.min(MOST_GROUPS, Math.floor(Math.sqrt(values.length)))),
    order = values.map((_, i) => i).sort((a, b) => (values[a] as number) - (values[b] as number) || a - b),
    groups = new Int32Array(values.length);
  order.forEach((i, rank) => {
    groups[i] = Math.floor((rank * count) / values.length);
  });
  return groups;
}

/** epsilon^2 with its jackknife interval, of a grid R^2; null where y does not vary. Sums about the mean, so that large figures lose nothing. */
function ratioOf(y: Float64Array, groups: Int32Array, count: number, drawn: boolean): Pick<FirstOrder, 'share' | 'low' | 'high'> | null {
  const n = y.length,
    mean = y.reduce((sum, v) => sum + v, 0) / n,
    [size, sum] = [new Float64Array(count), new Float64Array(count)];
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const d = y[i]! - mean;
    size[groups[i]!]! += 1;
    sum[groups[i]!]! += d;
    squares += d * d;
  }
  if (!(squares > 1e-24 * n * Math.max(1, mean * mean))) return null;
  const between = size.reduce((all, s, g) => all + (s > 0 ? (sum[g]! * sum[g]!) / s : 0), 0),
    total = sum.reduce((all, s) => all + s, 0);
  if (!drawn) return { share: (between - (total * total) / n) / (squares - (total * total) / n) };
  const ratio = (m: number, filled: number, ssb: number, sst: number): number =>
    sst > 0 ? (ssb - ((filled - 1) * Math.max(0, sst - ssb)) / (m - filled)) / sst : 0;
  const filled = size.reduce((all, s) => all + (s > 0 ? 1 : 0), 0),
    share = ratio(n, filled, between - (total * total) / n, squares - (total * total) / n);
  // Leaving out one run changes the sums of its own group alone.
  let [all, allSquares] = [0, 0];
  for (let i = 0; i < n; i++) {
    const g = groups[i]!,
      d = y[i]! - mean,
      [s, m] = [sum[g]! - d, size[g]! - 1],
      t = total - d,
      ssb = between - (sum[g]! * sum[g]!) / size[g]! + (m > 0 ? (s * s) / m : 0) - (t * t) / (n - 1),
      left = ratio(n - 1, m > 0 ? filled : filled - 1, ssb, squares - d * d - (t * t) / (n - 1));
    all += left;
    allSquares += left * left;
  }
  const spread = Math.sqrt(Math.max(0, ((n - 1) / n) * (allSquares - (all * all) / n)));
  return { share, low: Math.min(1, Math.max(0, share - Z95 * spread)), high: Math.max(0, Math.min(1, share + Z95 * spread)) };
}
