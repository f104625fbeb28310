/** How short a lay can be at best: shapes as columns across the roll, and what no column holds. */
import type { Point2 } from '../../bag/types.ts';

/** What of a shape stands over each place across the roll: lengths of its columns, one a step, the longest first, m. No column is told longer than it is. */
export type Columns = readonly number[];

/** Beside a vertex, where an upright edge ends, m. */
const BESIDE = 1e-9;

/** Length of a shape along y over one place, by the even-odd rule. */
function chord(loops: readonly (readonly Point2[])[], x: number): number {
  const ys: number[] = [];
  for (const loop of loops)
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]!;
      if (a[0] <= x === b[0] <= x) return;
      ys.push(a[1] + ((b[1] - a[1]) * (x - a[0])) / (b[0] - a[0]));
    });
  ys.sort((p, q) => p - q);
  let sum = 0;
  for (let k = 0; k + 1 < ys.length; k += 2) sum += ys[k + 1]! - ys[k]!;
  return sum;
}

/** Columns of a shape, `step` wide, m: the least that each holds. Between vertices a chord is linear, so that its least stands at a border or beside a vertex. */
export function columnsOf(loops: readonly (readonly Point2[])[], step: number): Columns {
  const xs = loops.flat().map((p) => p[0]);
  const [from, to] = [Math.min(...xs), Math.max(...xs)];
  const count = Math.floor((to - from) / step);
  const least = Array.from({ length: count }, () => Number.POSITIVE_INFINITY);
  const tell = (x: number): void => {
    const value = chord(loops, x);
    for (const k of new Set([x - BESIDE, x + BESIDE].map((v) => Math.floor((v - from) / step)))) if (k >= 0 && k < count) least[k] = Math.min(least[k]!, value);
  };
  for (let k = 0; k <= count; k++) {
    tell(from + k * step + BESIDE);
    if (k > 0) tell(from + k * step - BESIDE);
  }
  for (const x of new Set(xs)) {
    tell(x - BESIDE);
    tell(x + BESIDE);
  }
  return least.sort((a, b) => b - a);
}

/** A shape as it may lie: its columns, and how far it reaches along the roll, m. */
interface Lying {
  readonly columns: Columns;
  readonly height: number;
}

/** One shape in the ways it may lie that differ (turned about is the same), at most two, as often as it is cut. */
export interface Counted {
  readonly ways: readonly Lying[];
  readonly count: number;
}

/** Most ways of lying that are gone through one by one. */
const MOST_WAYS = 512;

/** Number of columns longer than a length; they are sorted. */
function longer(columns: Columns, than: number): number {
  let [low, high] = [0, columns.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (columns[mid]! > than) low = mid + 1;
    else high = mid;
  }
  return low;
}

/**
 * Can shapes that lie in these ways not go on `cells` columns of a length? Where they lie over one another in a column, their lengths there sum to no more than the
 * roll's. So with any t up to half of it: columns longer than length - t have no other longer than t over or under them. Then
 *   (a) the tall columns of all shapes and the columns longer than t of any one lie apart, and
 *   (b) tall ones count 1, those from t to length - t their share of the length, and both together no more than the roll is wide
 * (dual feasible functions: Fekete and Schepers 2004, from memory).
 */
function cannot(shapes: readonly { readonly columns: Columns; readonly count: number }[], length: number, cells: number, lows: readonly number[]): boolean {
  return lows.some((t) => {
    if (t > length / 2) return false;
    let [tall, share, most] = [0, 0, 0];
    for (const { columns, count } of shapes) {
      const [n, m] = [longer(columns, length - t), longer(columns, t)];
      tall += n * count;
      most = Math.max(most, m - n);
      for (let k = n; k < m; k++) share += (count * columns[k]!) / length;
    }
    return tall + most > cells || tall + share > cells + 1e-6;
  });
}

/**
 * A length that no lay of these shapes can be shorter than, m, between `from` (known to be one) and `to`: the longest of steps of a millimetre that is shown to be
 * too short. Shapes that may lie both ways are gone through in every mixture, where these are few.
 */
export function sharperBound(shapes: readonly Counted[], cells: number, from: number, to: number): number {
  const mixtures = shapes.reduce((n, s) => n * (s.ways.length > 1 ? s.count + 1 : 1), 1);
  if (mixtures > MOST_WAYS) return from;
  const step = 1e-3;
  const lows = [
    ...new Set(shapes.flatMap((s) => s.ways.flatMap(({ columns: c }) => [0, 0.5, 0.9, 0.99].map((u) => (c[Math.floor(u * c.length)] ?? 0) - 1e-6)))),
  ].filter((t) => t >= 0);
  const mixed = (length: number): boolean => {
    const go = (i: number, chosen: (Lying & { count: number })[]): boolean => {
      if (i === shapes.length) return chosen.some((c) => c.height > length + 1e-9) || cannot(chosen, length, cells, lows);
      const { ways, count } = shapes[i]!;
      if (ways.length === 1) return go(i + 1, [...chosen, { ...ways[0]!, count }]);
      for (let k = 0; k <= count; k++)
        if (
          !go(
            i + 1,
            [...chosen, { ...ways[0]!, count: k }, { ...ways[1]!, count: count - k }].filter((c) => c.count > 0),
          )
        )
          return false;
      return true;
    };
    return go(0, []);
  };
  for (let length = to - step; length > from; length -= step) if (mixed(length)) return length;
  return from;
}
