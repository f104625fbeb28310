import { integrate } from './quadrature.ts';
import type { OutlineEdge, Point2 } from './types.ts';

/** A plane curve run at constant speed: everything is asked by arc-length fraction 0..1, because seams match by arc length. */
export interface Curve {
  /** m */ readonly length: number;
  /** Point at arc-length fraction s. */ at(s: number): Point2;
  /** Unit tangent at arc-length fraction s, in the direction of travel. */ tangent(s: number): Point2;
  /** Contribution to the enclosed area, (1/2) integral of x dy - y dx, m2. */ readonly areaTerm: number;
  /** Smallest radius of curvature, m; Infinity for a line. */ readonly minRadius: number;
  /** Total turning of the tangent from start to end, rad, counterclockwise positive. */ readonly turning: number;
}

const cross = (a: Point2, b: Point2): number => a[0] * b[1] - a[1] * b[0];
const minus = (a: Point2, b: Point2): Point2 => [a[0] - b[0], a[1] - b[1]];

/**
 * Curve of one outline edge, by arc-length fraction.
 * Lengths: line |to - from|; arc R |sweep| (closed form); cubic by adaptive quadrature to 1e-10 of its length.
 * An arc whose ends coincide is the full counterclockwise circle with diameter from -> via; one whose three points are in line is a line.
 * Throws on a NaN or zero-length edge: the parser reports those first.
 */
export function curveOf(edge: OutlineEdge): Curve {
  const curve =
    edge.kind === 'line'
      ? line(edge.from, edge.to)
      : edge.kind === 'arc'
        ? arc(edge.from, edge.via, edge.to)
        : cubic(edge.from, edge.control[0], edge.control[1], edge.to);
  if (!(curve.length > 0) || !Number.isFinite(curve.length)) throw new RangeError(`invalid edge ${edge.name}: length ${curve.length}`);
  return curve;
}

function line(from: Point2, to: Point2): Curve {
  const d = minus(to, from);
  const length = Math.hypot(d[0], d[1]);
  const tangent: Point2 = [d[0] / length, d[1] / length];
  return {
    length,
    // Both ends exact, so that corners shared by two edges agree to the last bit.
    at: (s) => (s === 0 ? from : s === 1 ? to : [from[0] + s * d[0], from[1] + s * d[1]]),
    tangent: () => tangent,
    areaTerm: cross(from, to) / 2,
    minRadius: Number.POSITIVE_INFINITY,
    turning: 0,
  };
}

function arc(from: Point2, via: Point2, to: Point2): Curve {
  const closed = Math.hypot(to[0] - from[0], to[1] - from[1]) <= 1e-12 * Math.hypot(via[0] - from[0], via[1] - from[1]);
  const a = minus(via, from);
  const b = minus(to, from);
  const twice = 2 * cross(a, b);
  if (!closed && Math.abs(twice) <= 1e-12 * Math.hypot(a[0], a[1]) * Math.hypot(b[0], b[1])) return line(from, to);
  let centre: Point2;
  if (closed) centre = [(from[0] + via[0]) / 2, (from[1] + via[1]) / 2];
  else {
    const aa = a[0] * a[0] + a[1] * a[1];
    const bb = b[0] * b[0] + b[1] * b[1];
    centre = [from[0] + (b[1] * aa - a[1] * bb) / twice, from[1] + (a[0] * bb - b[0] * aa) / twice];
  }
  const radius = Math.hypot(from[0] - centre[0], from[1] - centre[1]);
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  let sweep = 2 * Math.PI;
  if (!closed) {
    // Counterclockwise from `from` to `to` when the three points turn left, clockwise when they turn right.
    const end = Math.atan2(to[1] - centre[1], to[0] - centre[0]);
    sweep = end - start;
    if (twice > 0) while (sweep <= 0) sweep += 2 * Math.PI;
    else while (sweep >= 0) sweep -= 2 * Math.PI;
  }
  const direction = Math.sign(sweep);
  return {
    length: radius * Math.abs(sweep),
    at: (s) => {
      if (s === 0) return from;
      if (s === 1) return to;
      const t = start + s * sweep;
      return [centre[0] + radius * Math.cos(t), centre[1] + radius * Math.sin(t)];
    },
    tangent: (s) => {
      const t = start + s * sweep;
      return [-direction * Math.sin(t), direction * Math.cos(t)];
    },
    areaTerm: (radius * radius * sweep + cross(centre, minus(to, from))) / 2,
    minRadius: radius,
    turning: sweep,
  };
}

const PIECES = 16;

function cubic(p0: Point2, p1: Point2, p2: Point2, p3: Point2): Curve {
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
    return Math.hypot(v[0], v[1]);
  };
  const size = Math.hypot(a[0], a[1]) + Math.hypot(b[0], b[1]) + Math.hypot(c[0], c[1]);
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
    const speed3 = Math.hypot(v[0], v[1]) ** 3;
    if (Math.abs(bend) > 1e-12 * size * size) minRadius = Math.min(minRadius, speed3 / Math.abs(bend));
    if (i > 0) {
      const before = velocity((i - 1) / samples);
      turning += Math.atan2(cross(before, v), before[0] * v[0] + before[1] * v[1]);
    }
  }
  return {
    length,
    at: (s) => {
      if (s === 0) return p0;
      if (s === 1) return p3;
      const t = parameter(s);
      const u = 1 - t;
      const w0 = u * u * u;
      const w1 = 3 * t * u * u;
      const w2 = 3 * t * t * u;
      const w3 = t * t * t;
      return [w0 * p0[0] + w1 * p1[0] + w2 * p2[0] + w3 * p3[0], w0 * p0[1] + w1 * p1[1] + w2 * p2[1] + w3 * p3[1]];
    },
    tangent: (s) => {
      const t = parameter(s);
      let v = velocity(t);
      // A control point on an end gives zero speed there: look a hair inside.
      if (Math.hypot(v[0], v[1]) <= 1e-9 * size) v = velocity(t < 0.5 ? t + 1e-4 : t - 1e-4);
      const n = Math.hypot(v[0], v[1]);
      return [v[0] / n, v[1] / n];
    },
    // Green's theorem on the Bezier polynomial: exact.
    areaTerm: (6 * cross(p0, p1) + 3 * cross(p0, p2) + cross(p0, p3) + 3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) / 20,
    minRadius,
    turning,
  };
}
