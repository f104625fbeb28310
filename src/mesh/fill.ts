import { libm, type Work } from '../numerics/index.ts';
import { sizeField } from './field.ts';
import { openCones, raiseAngles, smallestAngle, turnEars } from './improve.ts';
import { type Shape, seedPoints } from './seeds.ts';
import { smoothingFill } from './smooth.ts';
import type { Flat } from './triangulate.ts';

const DEGREE = Math.PI / 180;

export interface Filled {
  /** 2 per vertex; the shape's own points first. */ readonly coords: Float64Array;
  readonly flat: Flat;
  /** Smallest angle that the outline's own corners do not force, rad. */ readonly minAngle: number;
}

/**
 * Fills loops with well-shaped triangles of edge length h: hexagonal seeds, smoothing, corner ears turned, smallest angles raised.
 * A corner of the outline under 50 degrees keeps its single triangle and does not count in minAngle.
 * Tries up to four lattice positions until every angle is over 27 degrees, and keeps the best.
 */
export function* fillingShape(shape: Shape, h: number, sewnCorners: ReadonlySet<number>): Work<Filled> {
  const field = sizeField(shape.coords, shape.loops, h);
  const fixed = shape.coords.length / 2;
  const lineKeys = new Set<number>();
  for (const [a, b] of shape.lines) lineKeys.add(Math.min(a, b) * 1048576 + Math.max(a, b));
  const protectedEdge = (a: number, b: number): boolean => a < fixed && b < fixed && lineKeys.has(Math.min(a, b) * 1048576 + Math.max(a, b));
  let best: Filled | null = null;
  for (const shift of [0, 0.25, 0.5, 0.75]) {
    const { coords, flat } = yield* smoothingFill(shape, seedPoints(shape, field, shift), field, 10);
    yield;
    turnEars(coords, flat, protectedEdge, 20.5 * DEGREE, sewnCorners);
    openCones(coords, flat, shape.cones);
    const keep = (a: number, b: number): boolean => protectedEdge(a, b) || shape.cones.has(a) || shape.cones.has(b);
    yield;
    raiseAngles(coords, flat, fixed, 30 * DEGREE, keep, 8);
    const minAngle = freeMinAngle(coords, flat, shape);
    if (!best || minAngle > best.minAngle) best = { coords, flat, minAngle };
    if (best.minAngle > 27 * DEGREE) break;
  }
  return best!;
}

/** Smallest angle over the triangles, leaving out the angle at an outline corner narrower than 50 degrees. */
function freeMinAngle(coords: Float64Array, flat: Flat, shape: Shape): number {
  const sharp = new Set<number>();
  for (const loop of shape.loops)
    loop.forEach((v, i) => {
      const a = loop[(i + loop.length - 1) % loop.length];
      const b = loop[(i + 1) % loop.length];
      const [ax, ay] = [coords[2 * a] - coords[2 * v], coords[2 * a + 1] - coords[2 * v + 1]];
      const [bx, by] = [coords[2 * b] - coords[2 * v], coords[2 * b + 1] - coords[2 * v + 1]];
      let angle = libm.atan2(bx * ay - by * ax, ax * bx + ay * by);
      if (angle < 0) angle += 2 * Math.PI;
      if (angle < 50 * DEGREE) sharp.add(v);
    });
  let least = Math.PI;
  for (let t = 0; t < flat.tris.length; t += 3) {
    const corners = [flat.tris[t], flat.tris[t + 1], flat.tris[t + 2]];
    if (corners.some((v) => sharp.has(v))) continue;
    least = Math.min(least, smallestAngle(coords, corners[0], corners[1], corners[2]));
  }
  return least;
}
