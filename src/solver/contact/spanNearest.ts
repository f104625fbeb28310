import type { SupportShape } from '../types.ts';
import { distance } from './shapes.ts';

/** Steps of a search along a line, at most; most need four to eight. */
const STEPS = 40;
/** A search ends where its bracket is this share of the line. */
const NARROW = 1e-9;

const out4 = new Float64Array(4),
  line = new Float64Array(6);

/** The nearest point of an edge or a face to a convex shape. Mutable. */
export interface Nearest {
  /** Signed distance, m */ d: number;
  /** 3: the shape's outward normal there */ readonly n: Float64Array;
  /** Share of the way from the first end to the second; of a face, on the line parallel to its first side that holds the point. */ t: number;
  /** Face only: share of the way from the first side to the corner opposite it. */ s: number;
}

export const createNearest = (): Nearest => ({ d: 0, n: new Float64Array(3), t: 0, s: 0 });

function keep(out: Nearest, t: number): void {
  out.d = out4[0]!;
  out.n[0] = out4[1]!;
  out.n[1] = out4[2]!;
  out.n[2] = out4[3]!;
  out.t = t;
}

/**
 * Least signed distance of the segment p (6: both ends) to a convex shape, where it lies between the ends: along a straight line the distance is convex, so its
 * slope n.(b - a) rises through one root. Regula falsi, with every third step a bisection. slopeA < 0 < slopeB: slopes at the ends.
 */
export function nearestOnSegment(shape: SupportShape, p: Float64Array, slopeA: number, slopeB: number, out: Nearest): void {
  const [ax, ay, az] = [p[0]!, p[1]!, p[2]!],
    [ex, ey, ez] = [p[3]! - ax, p[4]! - ay, p[5]! - az];
  let low = 0,
    high = 1,
    fl = slopeA,
    fh = slopeB,
    t = 0;
  for (let k = 0; k < STEPS && high - low > NARROW; k++) {
    t = k % 3 === 2 ? (low + high) / 2 : low + ((high - low) * fl) / (fl - fh);
    distance(shape, ax + t * ex, ay + t * ey, az + t * ez, out4);
    const f = out4[1]! * ex + out4[2]! * ey + out4[3]! * ez;
    if (f === 0) break;
    if (f < 0) {
      low = t;
      fl = f;
    } else {
      high = t;
      fh = f;
    }
  }
  keep(out, t);
}

/**
 * Least signed distance over the triangle p (9: corners a, b, c) where it lies inside: the least distance of the lines parallel to a-b is convex in the share s
 * of the way to c and is searched by the same rule. slope < 0: how it begins at s = 0. Where c itself is nearest, s comes up to 1.
 */
export function nearestInFace(shape: SupportShape, p: Float64Array, slope: number, out: Nearest): void {
  let low = 0,
    high = 1,
    fl = slope,
    fh = 0;
  for (let k = 0; k < STEPS && high - low > NARROW; k++) {
    // The slope at the far end stays unknown until a step has gone past the root.
    const s = k % 3 === 2 || fh === 0 ? (low + high) / 2 : low + ((high - low) * fl) / (fl - fh);
    for (let i = 0; i < 3; i++) {
      line[i] = p[i]! + s * (p[6 + i]! - p[i]!);
      line[3 + i] = p[3 + i]! + s * (p[6 + i]! - p[3 + i]!);
    }
    nearestOnLine(shape, line, out);
    out.s = s;
    let f = 0;
    for (let i = 0; i < 3; i++) f += out.n[i]! * (p[6 + i]! - p[i]! - out.t * (p[3 + i]! - p[i]!));
    if (f === 0) break;
    if (f < 0) {
      low = s;
      fl = f;
    } else {
      high = s;
      fh = f;
    }
  }
}

/** The same for a segment whose nearest point may be an end. */
function nearestOnLine(shape: SupportShape, p: Float64Array, out: Nearest): void {
  const slope = () => out4[1]! * (p[3]! - p[0]!) + out4[2]! * (p[4]! - p[1]!) + out4[3]! * (p[5]! - p[2]!);
  distance(shape, p[0]!, p[1]!, p[2]!, out4);
  const fa = slope();
  keep(out, 0);
  if (fa >= 0) return;
  distance(shape, p[3]!, p[4]!, p[5]!, out4);
  const fb = slope();
  keep(out, 1);
  if (fb > 0) nearestOnSegment(shape, p, fa, fb, out);
}

const corner = new Float64Array(9),
  side = createNearest();

/** Least signed distance over the whole triangle p (9: its corners), m: at a corner, on a side or inside. */
export function leastOverFace(shape: SupportShape, p: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 3; k++) {
    for (let i = 0; i < 9; i++) corner[i] = p[(3 * k + i) % 9]!;
    nearestOnLine(shape, corner, side);
    least = Math.min(least, side.d);
    let slope = 0;
    for (let i = 0; i < 3; i++) slope += side.n[i]! * (corner[6 + i]! - corner[i]! - side.t * (corner[3 + i]! - corner[i]!));
    if (side.t === 0 || side.t === 1 || !(slope < 0)) continue;
    nearestInFace(shape, corner, slope, side);
    least = Math.min(least, side.d);
  }
  return least;
}
