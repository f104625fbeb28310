/** Cubic edges by arc length. */
import { libm } from '../numerics/index.ts';
import type { Curve } from './curve.ts';
import { integrate } from './quadrature.ts';
import type { Point2 } from './types.ts';

/** Pieces over which the arc length of a cubic is summed up. */
const PIECES = 16;

const cross = (a: Point2, b: Point2): number => a[0] * b[1] - a[1] * b[0];
const minus = (a: Point2, b: Point2): Point2 => [a[0] - b[0], a[1] - b[1]];

/** Point of a Bezier cubic at its own parameter t, not at an arc-length fraction. */
export function cubicPoint(p0: Point2, p1: Point2, p2: Point2, p3: Point2, t: number): Point2 {
  const u = 1 - t;
  const w0 = u * u * u;
  const w1 = 3 * t * u * u;
  const w2 = 3 * t * t * u;
  const w3 = t * t * t;
  return [w0 * p0[0] + w1 * p1[0] + w2 * p2[0] + w3 * p3[0], w0 * p0[1] + w1 * p1[1] + w2 * p2[1] + w3 * p3[1]];
}

/**
 * A Bezier cubic run at constant speed. Length by adaptive quadrature to 1e-10 of itself; places by Newton's method on arc length to 1e-12 of it.
 * Four points that are one give a length of 0.
 */
export function cubicCurve(p0: Point2, p1: Point2, p2: Point2, p3: Point2): Curve {
  // B'(t) = 3 [(1-t)^2 a + 2 t (1-t) b + t^2 c], the hodograph.
  const a = minus(p1, p0);
  const b = minus(p2, p1);
  const c = minus(p3, p2);
  const velocity = (t: number): Point2 => {
    const u = 1 - t;
    return [3 * (u * u * a[0] + 2 * t * u * b[0] + t * t * c[0]), 3 * (u * u * a[1] + 2 * t * u * b[1] + t * t * c[1])];
  };
  const speed = (t: number): number => {
    const v = velocity(t);
    return libm.hypot(v[0], v[1]);
  };
  const size = libm.hypot(a[0], a[1]) + libm.hypot(b[0], b[1]) + libm.hypot(c[0], c[1]);
  const tolerance = (1e-11 * size) / PIECES;
  const cumulative = new Float64Array(PIECES + 1);
  for (let i = 0; i < PIECES; i++) cumulative[i + 1] = cumulative[i] + integrate(speed, i / PIECES, (i + 1) / PIECES, tolerance);
  const length = cumulative[PIECES];
  const parameter = (s: number): number => {
    if (s <= 0) return 0;
    if (s >= 1) return 1;
    const target = s * length;
    let piece = 0;
    while (piece < PIECES - 1 && cumulative[piece + 1] < target) piece++;
    let low = piece / PIECES;
    let high = (piece + 1) / PIECES;
    let t = low + ((target - cumulative[piece]) / (cumulative[piece + 1] - cumulative[piece])) * (high - low);
    // Newton on arc length, kept inside the bracket because the speed may vanish at a cusp.
    for (let i = 0; i < 60; i++) {
      const excess = cumulative[piece] + integrate(speed, piece / PIECES, t, tolerance) - target;
      if (Math.abs(excess) <= 1e-12 * length) break;
      if (excess > 0) high = t;
      else low = t;
      const step = t - excess / speed(t);
      t = step > low && step < high ? step : (low + high) / 2;
    }
    return t;
  };
  let minRadius = Number.POSITIVE_INFINITY;
  let turning = 0;
  const samples = 256;
  for (let i = 0; i <= samples; i++) {
    const t = i / samples;
    const u = 1 - t;
    const v = velocity(t);
    const acceleration: Point2 = [6 * (u * (b[0] - a[0]) + t * (c[0] - b[0])), 6 * (u * (b[1] - a[1]) + t * (c[1] - b[1]))];
    const bend = cross(v, acceleration);
    const speed3 = libm.cube(libm.hypot(v[0], v[1]));
    if (Math.abs(bend) > 1e-12 * size * size) minRadius = Math.min(minRadius, speed3 / Math.abs(bend));
    if (i > 0) {
      const before = velocity((i - 1) / samples);
      turning += libm.atan2(cross(before, v), before[0] * v[0] + before[1] * v[1]);
    }
  }
  return {
    length,
    at: (s) => {
      if (s <= 0) return p0;
      if (s >= 1) return p3;
      return cubicPoint(p0, p1, p2, p3, parameter(s));
    },
    tangent: (s) => {
      const t = parameter(s);
      let v = velocity(t);
      // A control point on an end gives zero speed there: look a hair inside.
      if (libm.hypot(v[0], v[1]) <= 1e-9 * size) v = velocity(t < 0.5 ? t + 1e-4 : t - 1e-4);
      const n = libm.hypot(v[0], v[1]);
      return [v[0] / n, v[1] / n];
    },
    // Green's theorem on the Bezier polynomial: exact.
    areaTerm: (6 * cross(p0, p1) + 3 * cross(p0, p2) + cross(p0, p3) + 3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) / 20,
    minRadius,
    turning,
  };
}
