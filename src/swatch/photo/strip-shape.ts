import { shoot } from '../../material/index.ts';
import { libm } from '../../numerics/index.ts';
import type { Pixel } from './types.ts';

/** Steps along the strip: at K = 60 the ends are right to 1e-6 of its length, a five-hundredth of what is marked by hand. */
const STEPS = 80;

/** From the tip, `upright` rad short of hanging straight down: places from the edge to the tip over L, [out, down], and the slope at the edge, rad below level. */
function fromTip(upright: number, K: number): { readonly points: Float64Array; readonly slope: number } {
  const points = new Float64Array(2 * (STEPS + 1));
  let k = STEPS;
  const bending = (s: number, theta: number): number => (theta < -0.5 ? 0 : -K * s * libm.cos(theta));
  const end = shoot(bending, Math.PI / 2 - upright, 0, 1, STEPS, (_, along, up) => {
    k--;
    points[2 * k] = along;
    points[2 * k + 1] = up;
  });
  for (let i = 0; i <= STEPS; i++) {
    points[2 * i] = end.along - points[2 * i]!;
    points[2 * i + 1] = end.up - points[2 * i + 1]!;
  }
  return { points, slope: end.theta };
}

/** Root of the load, and the logarithm of `upright` of a strip that leaves the edge level there: where the search begins. Source: computed. */
const LEVEL: readonly (readonly [rootK: number, logUpright: number])[] = [
  [0.316, 0.4409],
  [1, 0.3405],
  [1.732, 0.1019],
  [2.828, -0.461],
  [3.873, -1.0907],
  [5.477, -2.0983],
  [7.746, -3.5496],
  [10.954, -5.6276],
  [17.321, -9.7924],
];
/** Change of that logarithm with the slope at the edge, 1/rad, all but the same at every load. Source: computed. */
const PER_SLOPE = -0.71;

function firstGuess(K: number, slope: number): number {
  const root = Math.sqrt(K);
  let i = 0;
  while (i + 2 < LEVEL.length && root > LEVEL[i + 1]![0]) i++;
  const [[r0, v0], [r1, v1]] = [LEVEL[i]!, LEVEL[i + 1]!];
  return v0 + ((v1 - v0) * (root - r0)) / (r1 - r0) + PER_SLOPE * slope;
}

/** Loads w L^3/D between which the shape is known: less hardly bends, more hangs straight down. */
const LOADS = [0.02, 250] as const;

/**
 * A strip under its own weight that leaves the edge at a slope: theta'' = -K s cos(theta), s from the tip, where no moment acts; lengths over L.
 * Returns places from the edge to the tip, [out, down], flat. Parameters: K = w L^3/D, taken within 0.02 to 250; slope at the edge, rad below level, -0.1 to 0.1.
 */
export function stripShape(load: number, slope: number): Float64Array {
  const K = Math.min(LOADS[1], Math.max(LOADS[0], load));
  let before = firstGuess(K, slope);
  let found = fromTip(libm.exp(before), K);
  let missBefore = found.slope - slope;
  let v = before - PER_SLOPE * missBefore;
  for (let i = 0; i < 20 && Math.abs(missBefore) > 1e-11; i++) {
    found = fromTip(libm.exp(v), K);
    const miss = found.slope - slope;
    if (miss === missBefore) break;
    const next = v - (miss * (v - before)) / (miss - missBefore);
    [before, missBefore, v] = [v, miss, next];
  }
  return found.points;
}

/** Pieces between the corners that are looked at first. */
const COARSE = 8;

/** Signed distance of a place from the strip, in the units of `points`; positive below it. Beyond its ends it is taken to run on straight. */
export function distanceFrom(points: Float64Array, [x, y]: Pixel): number {
  const n = points.length / 2 - 1;
  let best = Number.POSITIVE_INFINITY;
  let distance = 0;
  // The nearest of a few corners first, then the pieces about it: a strip hooks over once and no more.
  let near = 0;
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i <= n; i += COARSE) {
    const away = libm.square(x - points[2 * i]!) + libm.square(y - points[2 * i + 1]!);
    if (away >= nearest) continue;
    nearest = away;
    near = i;
  }
  const last = Math.min(n, near + COARSE);
  for (let i = Math.max(0, near - COARSE); i < last; i++) {
    const [ax, ay] = [points[2 * i]!, points[2 * i + 1]!];
    const [dx, dy] = [points[2 * i + 2]! - ax, points[2 * i + 3]! - ay];
    const size2 = dx * dx + dy * dy;
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / size2));
    const [ex, ey] = [x - ax - t * dx, y - ay - t * dy];
    const away = ex * ex + ey * ey;
    if (away >= best) continue;
    best = away;
    // Across the piece, not to its end: at the ends it is the line run on. Within it the strip bows out of the piece.
    distance = ((y - ay) * dx - (x - ax) * dy + (t > 0 && t < 1 ? ((t * (1 - t)) / 2) * bowAt(points, i, dx, dy) : 0)) / Math.sqrt(size2);
  }
  return distance;
}

/** Mean second difference at the ends of a piece, across it: what a parabola through its neighbours bows by, times its length. */
function bowAt(points: Float64Array, i: number, dx: number, dy: number): number {
  const n = points.length / 2 - 1;
  const second = (k: number, axis: 0 | 1): number => {
    const j = 2 * Math.min(n - 1, Math.max(1, k)) + axis;
    return points[j - 2]! - 2 * points[j]! + points[j + 2]!;
  };
  const of = (axis: 0 | 1): number => (second(i, axis) + second(i + 1, axis)) / 2;
  return dx * of(1) - dy * of(0);
}
