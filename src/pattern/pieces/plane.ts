/** Whole shapes in the plane by clipper2: union, difference, inset. Metres in and out; 0.1 um inside, so that coordinates are whole numbers. */
import { Clipper, EndType, FillRule, JoinType, type Path64, type Paths64 } from 'clipper2-ts';
import type { Point2 } from '../../bag/types.ts';
import { distanceToSegment, polygonArea } from '../../numerics/index.ts';

/** Closed loops: outer ones counterclockwise, holes clockwise. */
export type Shape = readonly (readonly Point2[])[];

const UNITS = 1e7;
/** Loops smaller than this are rounding, m2. */
const SPECK = 1e-9;
/** Holes and scraps smaller than this (0.5 mm2) are no part of a cut: nothing that small is cut. */
const SCRAP = 5e-7;

const whole = (shape: Shape): Paths64 => shape.map((loop): Path64 => loop.map(([x, y]) => ({ x: Math.round(x * UNITS), y: Math.round(y * UNITS) })));
const exact = (paths: Paths64): Point2[][] =>
  paths.map((path) => path.map(({ x, y }): Point2 => [x / UNITS, y / UNITS])).filter((loop) => loop.length > 2 && Math.abs(polygonArea(loop)) > SPECK);
const metres = (paths: Paths64): Point2[][] =>
  exact(paths)
    .filter((loop) => Math.abs(polygonArea(loop)) > SCRAP)
    .map(straightened);

/** Corners on a straight run, left out: within 2 um of the line between their neighbours. Sampled curves bend more than that at every point. */
function straightened(loop: readonly Point2[]): Point2[] {
  const kept: Point2[] = [];
  loop.forEach((p, i) => {
    const a = kept[kept.length - 1] ?? loop[loop.length - 1]!;
    const b = loop[(i + 1) % loop.length]!;
    if (distanceToSegment(p, a, b) > 2e-6) kept.push(p);
  });
  return kept;
}

/** Everything inside any of the loops (each taken by itself, whichever way round it runs); every corner is kept, so that what is laid beside it fits. */
export const unionOf = (loops: Shape): Point2[][] => exact(Clipper.union(whole(loops.map(turnedLeft)), FillRule.NonZero));
/** What is inside the loops, outer ones counterclockwise and holes clockwise. */
export const cleaned = (shape: Shape): Point2[][] => metres(Clipper.union(whole(shape), FillRule.Positive));
/** The one without the other; every corner is kept. */
export const without = (shape: Shape, less: Shape): Point2[][] => exact(Clipper.difference(whole(shape), whole(less), FillRule.NonZero));
/** What both have, however small. */
export const common = (a: Shape, b: Shape): Point2[][] => exact(Clipper.intersect(whole(a), whole(b), FillRule.NonZero));
/** Moved inward by a margin, m, corners kept sharp; nothing where the shape is narrower than two margins. */
export const inset = (shape: Shape, margin: number): Point2[][] =>
  margin === 0 ? cleaned(shape) : metres(Clipper.inflatePaths(whole(shape), -margin * UNITS, JoinType.Miter, EndType.Polygon, 2));
/** Grown all round, m, corners kept sharp. */
export const grown = (shape: Shape, by: number): Point2[][] => metres(Clipper.inflatePaths(whole(shape), by * UNITS, JoinType.Miter, EndType.Polygon, 2));

/** m2: holes are negative. */
export const areaOf = (shape: Shape): number => shape.reduce((sum, loop) => sum + polygonArea(loop), 0);

const turnedLeft = (loop: readonly Point2[]): readonly Point2[] => (polygonArea(loop) < 0 ? [...loop].reverse() : loop);

/** [minX, minY, maxX, maxY], m. */
export function boxOf(shape: Shape): [number, number, number, number] {
  const box: [number, number, number, number] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const loop of shape)
    for (const [x, y] of loop) {
      box[0] = Math.min(box[0], x);
      box[1] = Math.min(box[1], y);
      box[2] = Math.max(box[2], x);
      box[3] = Math.max(box[3], y);
    }
  return box;
}
