import type { Three } from '../../bag/types.ts';
import { libm, student90 } from '../../numerics/index.ts';
import { DEGREE, peirceRatio } from '../../units/index.ts';
import { derivative, leastSquares, type Residuals, takers } from './least-squares.ts';
import { type Plane, planeWith } from './plane.ts';
import { scaleRows, scaleStarts, scaleSteps } from './scale.ts';
import { distanceFrom, stripShape } from './strip-shape.ts';
import type { PhotoMarks, Pixel } from './types.ts';

/** Most that the strip may leave the edge off level, rad. Source: common practice; beyond it is not held down. */
export const CLAMP = 3 * DEGREE;
/** Steps of the differences: slope at the edge, rad; ln c; ln L; edge x and y, m. */
const STEPS = [1e-5, 1e-5, 1e-5, 1e-7, 1e-7];
/** Sum of squares, in units of a place's noise, below which nothing is left to be gained. */
const ENOUGH = 1e-8;
/** Noise of a place before the residuals have told it, m. */
const FIRST_NOISE = 3e-4;
/** Less than this, m, nobody marks: made-up marks without noise would weigh more than the shape is exact to. */
const LEAST_NOISE = 2e-5;
/** Shares of the sum below which a step has gained nothing: to find where to begin, and to end. */
const [ROUGHLY, FINELY] = [1e-3, 1e-9];

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
  /** The plane as the fit has it. */ readonly plane: Plane;
  /** What the scale's rows leave over, in squares of their standard deviations. */ readonly misfit: number;
}

interface Unpacked {
  readonly length: number;
  readonly load: number;
  readonly edge: Pixel;
  readonly points: Float64Array;
}

/** Shapes by load and slope: most of what is varied leaves both alone. */
function shapes(): (load: number, slope: number) => Float64Array {
  const known = new Map<string, Float64Array>();
  return (load, slope) => {
    const key = `${load} ${slope}`;
    const points = known.get(key) ?? stripShape(load, slope);
    known.set(key, points);
    return points;
  };
}

function unpacked([slope, c, l, x, y]: readonly number[], shape: (load: number, slope: number) => Float64Array): Unpacked {
  const load = libm.exp(3 * (l! - c!));
  return { length: libm.exp(l!), load, edge: [x!, y!], points: shape(load, slope!) };
}

/** Rows, m: the edge (2), each place's distance from the strip, the tip (2). */
function rowsOf(strip: readonly Pixel[], { length, edge, points }: Unpacked): number[] {
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
 * The exact strip through marked places: D theta'' + w (L - s) cos(theta) = 0, slope at the edge free within 3 degrees, by least squares of the distances across it
 * together with the marks of the scale, which are as noisy as they are said to be (scale.ts): the strip's own shape has its say in how the picture is tilted.
 * The 90 % interval of c = (D/w)^(1/3), to first order: Student's t on the noise that the residuals tell (places, edge, tip alike), the noise of the scale's marks,
 * the lens where the picture's size is known, the hanging length where it was measured, and what is level. Assumes marks that `markFaults` let pass;
 * independent errors; a lens that bends no lines. Deterministic.
 */
export function fitStrip(marks: PhotoMarks): StripFit {
  const shape = shapes();
  const n = STEPS.length;
  const steps = [...STEPS, ...scaleSteps(marks)];
  const ofStrip = (p: readonly number[]): number[] => rowsOf(planeWith(marks, p.slice(n)).strip, unpacked(p, shape));
  const last = marks.strip.length + 3;
  /** Rows in units of their noise: strip, then scale, then the measured length. */
  const rows =
    (noise: number): Residuals =>
    (p) => {
      const measured = marks.measured ? [(libm.exp(p[2]!) - marks.measured.length) / marks.measured.off] : [];
      return [...ofStrip(p).map((v) => v / noise), ...scaleRows(marks, p.slice(n)), ...measured];
    };
  // The slope at the edge as the sine of a free number stays within its limits.
  const within = ([q, ...rest]: readonly number[]): number[] => [CLAMP * libm.sin(q!), ...rest];
  const freedom = marks.strip.length - 2;
  const squares = (list: readonly number[]): number => list.reduce((s, v) => s + v * v, 0);
  const fitted = (noise: number, from: readonly number[], least: number): number[] => {
    const all = rows(noise);
    return leastSquares((q) => all(within(q)), from, steps, ENOUGH, least);
  };
  const starts = scaleStarts(marks).map((scale) => fitted(FIRST_NOISE, [...startOf(planeWith(marks, scale).strip), ...scale], ROUGHLY));
  const missed = starts.map((q) => squares(rows(FIRST_NOISE)(within(q))));
  let free = starts[missed.indexOf(Math.min(...missed))]!;
  // What the residuals say of the noise sets the weights of the second round.
  const noiseAt = (q: readonly number[]): number => Math.max(LEAST_NOISE, Math.sqrt(squares(ofStrip(within(q))) / freedom));
  free = fitted(noiseAt(free), free, FINELY);
  const noise = noiseAt(free);
  const p = within(free);
  const left = ofStrip(p);
  const plane = planeWith(marks, p.slice(n));
  const found = unpacked(p, shape);
  const { length, load, edge, points } = found;
  const columns = derivative(rows(noise), p, steps);
  // How ln c answers to an error of each row.
  const answers = takers(columns, 1);
  const sum = (from: number, to: number): number => squares(answers.slice(from, to));
  const lean = leanOf(plane, noise);
  const leant = rowsOf(
    plane.strip.map((at) => turned(at, lean)),
    found,
  );
  const level = libm.square(leant.reduce((s, v, i) => s + answers[i]! * ((v - left[i]!) / noise), 0));
  // Where the marks of the scale say most of it, the noise is known and Student's t is that of many.
  const half = Math.min(3, libm.hypot(student90(freedom) * Math.sqrt(sum(0, last)), NORMAL * Math.sqrt(sum(last, answers.length) + level)));
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
    plane,
    misfit: squares(scaleRows(marks, p.slice(n))),
  };
}

/** One standard deviation of what is taken as level, rad. */
const leanOf = ({ level }: Plane, noise: number): number => (level.by === 'table' ? (Math.SQRT2 * noise) / level.reach : level.lean);
