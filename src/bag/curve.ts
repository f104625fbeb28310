/** Plane geometry of one outline edge: length, points along it, flattening. Metres, panel frame, angles counterclockwise. */
import { curveOf } from './curves.ts';
import type { OutlineEdge, Point2 } from './types.ts';

export const far = (a: Point2, b: Point2): number => Math.hypot(b[0] - a[0], b[1] - a[1]);
export const mix = (a: Point2, b: Point2, t: number): Point2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/** Circle through three points as centre, radius, start angle and signed sweep (positive = counterclockwise). */
export interface Arc {
  readonly centre: Point2;
  readonly radius: number;
  readonly start: number;
  readonly sweep: number;
}

/** The arc from `from` over `via` to `to`, or null when the three lie in one line (or two coincide) to rounding. */
export function arcThrough(from: Point2, via: Point2, to: Point2): Arc | null {
  const bx = via[0] - from[0];
  const by = via[1] - from[1];
  const cx = to[0] - from[0];
  const cy = to[1] - from[1];
  const twice = 2 * (bx * cy - by * cx);
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  if (Math.abs(twice) <= 1e-9 * Math.max(b2, c2)) return null;
  const ux = (cy * b2 - by * c2) / twice;
  const uy = (bx * c2 - cx * b2) / twice;
  const start = Math.atan2(-uy, -ux);
  const end = Math.atan2(cy - uy, cx - ux);
  const turn = 2 * Math.PI;
  let sweep = (end - start) % turn;
  // The cross product of the two chords says on which side `via` lies, hence which way round the arc goes.
  if (twice > 0 && sweep <= 0) sweep += turn;
  if (twice < 0 && sweep >= 0) sweep -= turn;
  return { centre: [from[0] + ux, from[1] + uy], radius: Math.hypot(ux, uy), start, sweep };
}

const onArc = (arc: Arc, t: number): Point2 => {
  const a = arc.start + arc.sweep * t;
  return [arc.centre[0] + arc.radius * Math.cos(a), arc.centre[1] + arc.radius * Math.sin(a)];
};

/** A cubic all of whose points are one: it has no length, and no curve. */
const sameEnds = (e: Cubic): boolean => far(e.from, e.control[0]) + far(e.control[0], e.control[1]) + far(e.control[1], e.to) === 0;

type Cubic = Extract<OutlineEdge, { kind: 'cubic' }>;

function cubicPoint(e: Cubic, t: number): Point2 {
  const s = 1 - t;
  const [p, q] = e.control;
  const w0 = s * s * s;
  const w1 = 3 * s * s * t;
  const w2 = 3 * s * t * t;
  const w3 = t * t * t;
  return [w0 * e.from[0] + w1 * p[0] + w2 * q[0] + w3 * e.to[0], w0 * e.from[1] + w1 * p[1] + w2 * q[1] + w3 * e.to[1]];
}

function cubicVelocity(e: Cubic, t: number): Point2 {
  const s = 1 - t;
  const [p, q] = e.control;
  const d = (k: 0 | 1) => 3 * s * s * (p[k] - e.from[k]) + 6 * s * t * (q[k] - p[k]) + 3 * t * t * (e.to[k] - q[k]);
  return [d(0), d(1)];
}

// Abscissae and weights of 5-point Gauss-Legendre on [-1, 1]. Source: Abramowitz & Stegun, table 25.4.
const GAUSS: readonly (readonly [number, number])[] = [
  [0, 0.5688888888888889],
  [-0.5384693101056831, 0.47862867049936647],
  [0.5384693101056831, 0.47862867049936647],
  [-0.906179845938664, 0.23692688505618908],
  [0.906179845938664, 0.23692688505618908],
];

/** Length of an edge, m: exact for lines and arcs, to 1e-10 relative for cubics (curves.ts). */
export function edgeLength(e: OutlineEdge): number {
  if (e.kind === 'line') return far(e.from, e.to);
  if (e.kind === 'cubic') return sameEnds(e) ? 0 : curveOf(e).length;
  const arc = arcThrough(e.from, e.via, e.to);
  return arc ? arc.radius * Math.abs(arc.sweep) : far(e.from, e.to);
}

/** The point at an arc-length fraction 0..1 of an edge. */
export function pointAt(e: OutlineEdge, fraction: number): Point2 {
  if (fraction <= 0) return e.from;
  if (fraction >= 1) return e.to;
  if (e.kind === 'line') return mix(e.from, e.to, fraction);
  if (e.kind === 'arc') {
    const arc = arcThrough(e.from, e.via, e.to);
    return arc ? onArc(arc, fraction) : mix(e.from, e.to, fraction);
  }
  return sameEnds(e) ? e.from : curveOf(e).at(fraction);
}

/**
 * Points along an edge, the first included and the last left out, so that flattened edges chain without repeats.
 * Parameter: deviation, m, the largest distance of a chord from the curve (default 0.1 mm); at most 64 pieces.
 */
export function flatten(e: OutlineEdge, deviation = 1e-4): Point2[] {
  if (e.kind === 'line') return [e.from];
  const arc = e.kind === 'arc' ? arcThrough(e.from, e.via, e.to) : null;
  if (e.kind === 'arc' && !arc) return [e.from];
  if (e.kind === 'arc' && arc) {
    // A chord over the angle a leaves the circle by r (1 - cos(a/2)).
    const step = 2 * Math.acos(Math.max(0, 1 - deviation / arc.radius));
    const n = pieces(Math.abs(arc.sweep) / Math.max(step, 1e-6));
    return Array.from({ length: n }, (_, i) => (i === 0 ? e.from : onArc(arc, i / n)));
  }
  const cubic = e as Cubic;
  const [p, q] = cubic.control;
  // A Bezier piece leaves its chord by at most 3/4 of the second difference over n^2.
  const bend = Math.max(Math.hypot(e.from[0] - 2 * p[0] + q[0], e.from[1] - 2 * p[1] + q[1]), Math.hypot(p[0] - 2 * q[0] + e.to[0], p[1] - 2 * q[1] + e.to[1]));
  const n = pieces(Math.sqrt((0.75 * bend) / deviation));
  return Array.from({ length: n }, (_, i) => (i === 0 ? cubic.from : cubicPoint(cubic, i / n)));
}

const pieces = (wanted: number): number => Math.min(64, Math.max(2, Math.ceil(wanted)));

/** Closed polygon of a chain of edges, without repeated last point. */
export const polygonOf = (edges: readonly OutlineEdge[], deviation?: number): Point2[] => edges.flatMap((e) => flatten(e, deviation));

/**
 * Signed area inside a closed chain of edges, m2; positive = counterclockwise. Exact: Green's theorem, with the circular segment
 * r^2 (a - sin a)/2 of each arc and the fifth-degree integrand of each cubic by Gauss quadrature (exact to degree 9).
 */
export function outlineArea(edges: readonly OutlineEdge[]): number {
  let twice = 0;
  for (const e of edges) {
    const chord = e.from[0] * e.to[1] - e.to[0] * e.from[1];
    if (e.kind === 'cubic') {
      for (const [x, w] of GAUSS) {
        const t = (1 + x) / 2;
        const p = cubicPoint(e, t);
        const d = cubicVelocity(e, t);
        twice += (w / 2) * (p[0] * d[1] - p[1] * d[0]);
      }
      continue;
    }
    twice += chord;
    const arc = e.kind === 'arc' ? arcThrough(e.from, e.via, e.to) : null;
    if (arc) twice += arc.radius * arc.radius * (arc.sweep - Math.sin(arc.sweep));
  }
  return twice / 2;
}
