/** Small least squares: Levenberg and Marquardt's method with differences, for a handful of unknowns. */

export type Residuals = (p: readonly number[]) => readonly number[];

/** (A)x = b by elimination with row exchange; rows of `a` hold b last. Mutates `a`. */
function solved(a: number[][]): number[] {
  const n = a.length;
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let i = c + 1; i < n; i++) if (Math.abs(a[i]![c]!) > Math.abs(a[best]![c]!)) best = i;
    [a[c], a[best]] = [a[best]!, a[c]!];
    for (let i = 0; i < n; i++) {
      if (i === c) continue;
      const q = a[i]![c]! / a[c]![c]!;
      for (let j = c; j <= n; j++) a[i]![j]! -= q * a[c]![j]!;
    }
  }
  return a.map((row, i) => row[n]! / row[i]!);
}

const squares = (r: readonly number[]): number => r.reduce((s, v) => s + v * v, 0);

/** Columns of the derivative by central differences. */
export function derivative(f: Residuals, p: readonly number[], steps: readonly number[]): number[][] {
  return p.map((_, j) => {
    const at = (sign: number): readonly number[] => f(p.map((v, i) => (i === j ? v + sign * steps[j]! : v)));
    const [plus, minus] = [at(1), at(-1)];
    return plus.map((v, i) => (v - minus[i]!) / (2 * steps[j]!));
  });
}

/** Change of the parameters that takes up a change of the residuals, to first order: -(J^T J)^-1 J^T dr, its diagonal raised by `damping`. */
function takenUp(columns: readonly (readonly number[])[], dr: readonly number[], damping: number): number[] {
  const product = (a: readonly number[], b: readonly number[]): number => a.reduce((s, v, i) => s + v * b[i]!, 0);
  return solved(columns.map((ci, i) => [...columns.map((cj, j) => product(ci, cj) * (i === j ? 1 + damping : 1)), -product(ci, dr)]));
}

/** Change of parameter k that an error of each residual by one brings about, to first order: row k of (J^T J)^-1 J^T. */
export function takers(columns: readonly (readonly number[])[], k: number): number[] {
  const product = (a: readonly number[], b: readonly number[]): number => a.reduce((s, v, i) => s + v * b[i]!, 0);
  const row = solved(columns.map((ci, i) => [...columns.map((cj) => product(ci, cj)), i === k ? 1 : 0]));
  return columns[0]!.map((_, r) => columns.reduce((s, c, i) => s + row[i]! * c[r]!, 0));
}

/** Columns of the derivative by forward differences: half the work, good enough to step by. */
const slopes = (f: Residuals, p: readonly number[], r: readonly number[], steps: readonly number[]): number[][] =>
  p.map((_, j) => f(p.map((v, i) => (i === j ? v + steps[j]! : v))).map((v, i) => (v - r[i]!) / steps[j]!));

/**
 * Least squares from a start. Deterministic; ends when a step no longer lowers the sum by a share of `least`, when the sum is below `enough`, or after 60 steps.
 * Returns the parameters.
 */
export function leastSquares(f: Residuals, start: readonly number[], steps: readonly number[], enough: number, least: number): number[] {
  let p = [...start];
  let r = f(p);
  let sum = squares(r);
  // A start that is near is stepped from boldly: a damped step creeps along a valley.
  let damping = least;
  for (let it = 0; it < 60 && sum > enough; it++) {
    const columns = slopes(f, p, r, steps);
    let better = false;
    while (damping < 1e9) {
      const change = takenUp(columns, r, damping);
      const next = p.map((v, i) => v + change[i]!);
      const rest = f(next);
      const left = squares(rest);
      // Not a number is no improvement either.
      if (left < sum) {
        const gain = (sum - left) / sum;
        [p, r, sum] = [next, rest, left];
        damping = Math.max(damping / 8, 1e-12);
        better = gain > least;
        break;
      }
      damping *= 8;
    }
    if (!better) break;
  }
  return p;
}
