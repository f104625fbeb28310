import type { Three } from '../../bag/types.ts';
import { libm, student90 } from '../../numerics/index.ts';
import { DEGREE, peirceRatio } from '../../units/index.ts';
import { derivative, leastSquares, type Residuals, takenUp, variances } from './least-squares.ts';
import { type Plane, planeOf, SCALE_NOISE } from './plane.ts';
import { distanceFrom, stripShape } from './strip-shape.ts';
import type { PhotoMarks, Pixel } from './types.ts';

/** Most that the strip may leave the edge off level, rad. Source: common practice; beyond it is not held down. */
export const CLAMP = 3 * DEGREE;
/** Steps of the differences: slope at the edge, rad; ln c; ln L; edge x and y, m. */
const STEPS = [1e-5, 1e-5, 1e-5, 1e-7, 1e-7];
/** Sum of squares, m2, below which nothing is left to be gained: a micron at each place. */
const ENOUGH = 1e-11;

/** A 90 % interval of a normal distribution reaches so many standard deviations each way. */
const NORMAL = 1.645;

/** A strip fitted to its places, in the plane, SI. */
export interface StripFit {
  readonly bendingLength: Three;
  readonly length: number;
  readonly load: number;
  readonly clampAngle: number;
  /** The slope at the edge wants to go further than it may. */ readonly held: boolean;
  /** One standard deviation of a place, m. */ readonly noise: number;
  /** Distances of the places, m. */ readonly residuals: readonly number[];
  /** From edge to tip, m. */ readonly curve: readonly Pixel[];
}

interface Unpacked {
  readonly length: number;
  readonly load: number;
  readonly edge: Pixel;
  readonly points: Float64Array;
}

function unpacked([slope, c, l, x, y]: readonly number[]): Unpacked {
  const load = libm.exp(3 * (l! - c!));
  return { length: libm.exp(l!), load, edge: [x!, y!], points: stripShape(load, slope!) };
}

/** Rows, m: the edge (2), each place's distance from the strip, the tip (2). */
function rowsOf(strip: readonly Pixel[], p: readonly number[]): number[] {
  const { length, edge, points } = unpacked(p);
  const scaled = (at: Pixel): Pixel => [(at[0] - edge[0]) / length, (at[1] - edge[1]) / length];
  const rows = [edge[0], edge[1]];
  for (let i = 0; i + 1 < strip.length; i++) rows.push(length * distanceFrom(points, scaled(strip[i]!)));
  const [x, y] = scaled(strip.at(-1)!);
  rows.push(length * (points[points.length - 2]! - x), length * (points[points.length - 1]! - y));
  return rows;
}

/** Where to begin: the length of the line through the places, and the load from the angle of edge to tip by Peirce's formula. */
function startOf(strip: readonly Pixel[]): number[] {
  let [length, before]: [number, Pixel] = [0, [0, 0]];
  for (const at of strip) {
    length += libm.hypot(at[0] - before[0], at[1] - before[1]);
    before = at;
  }
  const angle = Math.min(1.45, Math.max(0.05, libm.atan2(before[1], before[0])));
  const c = length * Math.max(0.22, peirceRatio(angle));
  return [0, libm.log(c), libm.log(length), 0, 0];
}

const turned = ([x, y]: Pixel, by: number): Pixel => [x * libm.cos(by) - y * libm.sin(by), x * libm.sin(by) + y * libm.cos(by)];

/**
 * The exact strip through marked places: D theta'' + w (L - s) cos(theta) = 0, slope at the edge free within 3 degrees, by least squares of the distances across it.
 * The 90 % interval of c = (D/w)^(1/3): Student's t on the noise that the residuals tell (places, edge, tip alike), and by first order the noise of the card's
 * corners or ruler's marks and of what is level. Assumes marks that `markFaults` let pass; independent errors; no lens. Deterministic.
 */
export function fitStrip(marks: PhotoMarks): StripFit {
  const plane = planeOf(marks);
  const { strip } = plane;
  const rows: Residuals = (p) => rowsOf(strip, p);
  // The slope at the edge as the sine of a free number stays within its limits.
  const within = ([q, ...rest]: readonly number[]): number[] => [CLAMP * libm.sin(q!), ...rest];
  const p = within(leastSquares((q) => rows(within(q)), startOf(strip), STEPS, ENOUGH));
  const left = rows(p);
  const freedom = strip.length - 2;
  const noise = Math.sqrt(left.reduce((s, v) => s + v * v, 0) / freedom);
  const columns = derivative(rows, p, STEPS);
  const { length, load, edge, points } = unpacked(p);
  const shift = (other: readonly Pixel[]): number =>
    takenUp(
      columns,
      rowsOf(other, p).map((v, i) => v - left[i]!),
    )[1]!;
  const places = variances(columns)[1]! * noise * noise;
  const others = scaleVariance(marks, plane, shift) + levelVariance(plane, noise, shift);
  // Where the marks of the scale say most of it, the noise is known and Student's t is that of many.
  const reach = student90(freedom) * Math.sqrt(places);
  const half = Math.min(3, libm.hypot(reach, NORMAL * Math.sqrt(others)));
  const c = libm.exp(p[1]!);
  const at = (i: number): Pixel => [edge[0] + length * points[2 * i]!, edge[1] + length * points[2 * i + 1]!];
  return {
    bendingLength: [c * libm.exp(-half), c, c * libm.exp(half)],
    length,
    load,
    clampAngle: p[0]!,
    held: Math.abs(p[0]!) > CLAMP * (1 - 1e-4),
    noise,
    residuals: [...left.slice(2, -2), libm.hypot(left.at(-2)!, left.at(-1)!)],
    curve: Array.from({ length: points.length / 2 }, (_, i) => at(i)),
  };
}

/** Variance of ln c from each coordinate of the scale's marks, all of them moved by their noise one after another. */
function scaleVariance(marks: PhotoMarks, plane: Plane, shift: (strip: readonly Pixel[]) => number): number {
  const noise = marks.scaleNoise ?? SCALE_NOISE;
  const scale = marks.card ?? marks.ruler!.marks;
  let sum = 0;
  for (let i = 0; i < scale.length; i++) {
    for (const axis of [0, 1] as const) {
      const at = plane.toPlane(scale[i]!);
      const moved = plane.toPicture(axis === 0 ? [at[0] + noise, at[1]] : [at[0], at[1] + noise]);
      const all = scale.map((p, k) => (k === i ? moved : p));
      const next = planeOf(marks.card ? { ...marks, card: all } : { ...marks, ruler: { ...marks.ruler!, marks: all } });
      sum += libm.square(shift(next.strip));
    }
  }
  return sum;
}

/** Variance of ln c from what is taken as level. */
function levelVariance({ strip, level }: Plane, noise: number, shift: (strip: readonly Pixel[]) => number): number {
  const lean = level.by === 'table' ? (Math.SQRT2 * noise) / level.reach : level.lean;
  return libm.square(shift(strip.map((at) => turned(at, lean))));
}
