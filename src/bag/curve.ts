/** Plane geometry of outline edges: length, places by arc length, flattening, area. Metres, panel frame, angles counterclockwise. */
import { libm } from '../numerics/index.ts';
import { cubicCurve, cubicPoint } from './cubic.ts';
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
export const far = (a: Point2, b: Point2): number => libm.hypot(a[0] - b[0], a[1] - b[1]);
export const mix = (a: Point2, b: Point2, t: number): Point2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/** Circle through three points as centre, radius, start angle and signed sweep (positive = counterclockwise). */
export interface Arc {
  readonly centre: Point2;
  readonly radius: number;
  readonly start: number;
  readonly sweep: number;
}

/**
 * The arc from `from` over `via` to `to`; null when the three lie in one line to rounding, where there is no circle.
 * Ends that coincide leave the circle open: taken is the one that has from -> via as its diameter, counterclockwise. Written outlines may
 * not ask for it (joinCorners): they have "circle".
 */
export function arcThrough(from: Point2, via: Point2, to: Point2): Arc | null {
  const a = minus(via, from);
  const b = minus(to, from);
  const reach = libm.hypot(a[0], a[1]);
  const closed = reach > 0 && libm.hypot(b[0], b[1]) <= 1e-12 * reach;
  const twice = 2 * cross(a, b);
  if (!closed && Math.abs(twice) <= STRAIGHT * Math.max(a[0] * a[0] + a[1] * a[1], b[0] * b[0] + b[1] * b[1])) return null;
  let centre: Point2;
  if (closed) centre = [(from[0] + via[0]) / 2, (from[1] + via[1]) / 2];
  else {
    const aa = a[0] * a[0] + a[1] * a[1];
    const bb = b[0] * b[0] + b[1] * b[1];
    centre = [from[0] + (b[1] * aa - a[1] * bb) / twice, from[1] + (a[0] * bb - b[0] * aa) / twice];
  }
  const radius = libm.hypot(from[0] - centre[0], from[1] - centre[1]);
  const start = libm.atan2(from[1] - centre[1], from[0] - centre[0]);
  if (closed) return { centre, radius, start, sweep: 2 * Math.PI };
  // Counterclockwise from `from` to `to` when the three points turn left, clockwise when they turn right.
  let sweep = libm.atan2(to[1] - centre[1], to[0] - centre[0]) - start;
  if (twice > 0) while (sweep <= 0) sweep += 2 * Math.PI;
  else while (sweep >= 0) sweep -= 2 * Math.PI;
  return { centre, radius, start, sweep };
}

/** Twice a triangle's area over the square of its longer side, below which its corners count as in line. */
const STRAIGHT = 1e-9;

/**
 * Curve of one outline edge, by arc-length fraction.
 * Lengths: line |to - from|; arc R |sweep| (closed form); cubic by adaptive quadrature to 1e-10 of its length. An arc whose points are in line is a line.
 * Throws on a NaN or zero-length edge: the parser reports those first.
 */
export function curveOf(edge: OutlineEdge): Curve {
  const curve = anyCurve(edge);
  if (!(curve.length > 0) || !Number.isFinite(curve.length)) throw new RangeError(`invalid edge ${edge.name}: length ${curve.length}`);
  return curve;
}

/** As curveOf, also of an edge without length: its tangent is NaN then. */
function anyCurve(edge: OutlineEdge): Curve {
  if (edge.kind === 'line') return lineCurve(edge.from, edge.to);
  if (edge.kind === 'cubic') return cubicCurve(edge.from, edge.control[0], edge.control[1], edge.to);
  const arc = arcThrough(edge.from, edge.via, edge.to);
  return arc ? arcCurve(arc, edge.from, edge.to) : lineCurve(edge.from, edge.to);
}

function lineCurve(from: Point2, to: Point2): Curve {
  const d = minus(to, from);
  const length = libm.hypot(d[0], d[1]);
  const tangent: Point2 = [d[0] / length, d[1] / length];
  return {
    length,
    // Both ends exact, so that corners shared by two edges agree to the last bit.
    at: (s) => (s <= 0 ? from : s >= 1 ? to : [from[0] + s * d[0], from[1] + s * d[1]]),
    tangent: () => tangent,
    areaTerm: cross(from, to) / 2,
    minRadius: Number.POSITIVE_INFINITY,
    turning: 0,
  };
}

function arcCurve({ centre, radius, start, sweep }: Arc, from: Point2, to: Point2): Curve {
  const direction = Math.sign(sweep);
  return {
    length: radius * Math.abs(sweep),
    at: (s) => {
      if (s <= 0) return from;
      if (s >= 1) return to;
      const t = start + s * sweep;
      return [centre[0] + radius * libm.cos(t), centre[1] + radius * libm.sin(t)];
    },
    tangent: (s) => {
      const t = start + s * sweep;
      return [-direction * libm.sin(t), direction * libm.cos(t)];
    },
    areaTerm: (radius * radius * sweep + cross(centre, minus(to, from))) / 2,
    minRadius: radius,
    turning: sweep,
  };
}

/** Length of an edge, m: exact for lines and arcs, to 1e-10 relative for cubics. 0 where its points are one. */
export const edgeLength = (e: OutlineEdge): number => anyCurve(e).length;

/** The point at an arc-length fraction 0..1 of an edge. */
export const pointAt = (e: OutlineEdge, fraction: number): Point2 => (fraction <= 0 ? e.from : fraction >= 1 ? e.to : anyCurve(e).at(fraction));

/**
 * Points along an edge, the first included and the last left out, so that flattened edges chain without repeats.
 * Parameter: deviation, m, the largest distance of a chord from the curve (default 0.1 mm); at most 64 pieces.
 */
export function flatten(e: OutlineEdge, deviation = 1e-4): Point2[] {
  if (e.kind === 'line') return [e.from];
  if (e.kind === 'arc') {
    const arc = arcThrough(e.from, e.via, e.to);
    if (!arc) return [e.from];
    // A chord over the angle a leaves the circle by r (1 - cos(a/2)).
    const step = 2 * libm.acos(Math.max(0, 1 - deviation / arc.radius));
    const { at } = arcCurve(arc, e.from, e.to);
    const n = pieces(Math.abs(arc.sweep) / Math.max(step, 1e-6));
    return Array.from({ length: n }, (_, i) => at(i / n));
  }
  const [p, q] = e.control;
  // A Bezier piece leaves its chord by at most 3/4 of the second difference over n^2.
  const bend = Math.max(libm.hypot(e.from[0] - 2 * p[0] + q[0], e.from[1] - 2 * p[1] + q[1]), libm.hypot(p[0] - 2 * q[0] + e.to[0], p[1] - 2 * q[1] + e.to[1]));
  const n = pieces(Math.sqrt((0.75 * bend) / deviation));
  return Array.from({ length: n }, (_, i) => (i === 0 ? e.from : cubicPoint(e.from, p, q, e.to, i / n)));
}

const pieces = (wanted: number): number => Math.min(64, Math.max(2, Math.ceil(wanted)));

/** Closed polygon of a chain of edges, without repeated last point. */
export const polygonOf = (edges: readonly OutlineEdge[], deviation?: number): Point2[] => edges.flatMap((e) => flatten(e, deviation));

/** Signed area inside a closed chain of edges, m2; positive = counterclockwise. Exact: Green's theorem, edge by edge. */
export const outlineArea = (edges: readonly OutlineEdge[]): number => edges.reduce((sum, e) => sum + anyCurve(e).areaTerm, 0);
