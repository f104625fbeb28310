import { libm } from '../../../numerics/index.ts';
import type { SupportShape } from '../../types.ts';
import { distance } from '../support/shapes.ts';

/** Steps of a search along a line, at most; most need four to eight. */
const STEPS = 40;
/** A search ends where its bracket is this share of the line. */
const NARROW = 1e-9;
/** A slope under this, m along the line, is none. */
const LEVEL = 1e-15;

const out4 = new Float64Array(4);

/**
 * What is minimised over an edge or a face: the distance to a convex shape, plus `bulge`/2 times the square of the way from its middle. With bulge = 0 that is
 * the distance; with a little of it a sheet that lies along a flat of the shape is nearest at one place that moves with it, not at either rim by turns.
 */
export interface Seek {
  shape: SupportShape;
  /** 1/m */ bulge: number;
  /** 3: middle of the edge or face. */ readonly middle: Float64Array;
}

/** The nearest place of an edge or a face. Mutable. */
export interface Nearest {
  /** Distance and bulge, m */ d: number;
  /** 3: the shape's outward normal there */ readonly n: Float64Array;
  /** Share of the way from the first end to the second; of a face, on the line parallel to its first side that holds the place. */ t: number;
  /** Face only: share of the way from the first side to the corner opposite it. */ s: number;
  /** Face only: the place lies on no side. */ inside: boolean;
}

export const createNearest = (): Nearest => ({ d: 0, n: new Float64Array(3), t: 0, s: 0, inside: false });

/** Slope of what is sought at a place, toward (ex, ey, ez); the place's distance and normal are in out4. */
function slope(seek: Seek, x: number, y: number, z: number, ex: number, ey: number, ez: number): number {
  const { bulge, middle: m } = seek;
  return (out4[1]! + bulge * (x - m[0]!)) * ex + (out4[2]! + bulge * (y - m[1]!)) * ey + (out4[3]! + bulge * (z - m[2]!)) * ez;
}

function keep(seek: Seek, x: number, y: number, z: number, out: Nearest, t: number): void {
  const { bulge, middle: m } = seek;
  out.d = out4[0]! + 0.5 * bulge * (libm.square(x - m[0]!) + libm.square(y - m[1]!) + libm.square(z - m[2]!));
  out.n[0] = out4[1]!;
  out.n[1] = out4[2]!;
  out.n[2] = out4[3]!;
  out.t = t;
}

/**
 * Least of what is sought along the segment p (6: both ends): it is convex, so its slope rises through one root. Regula falsi, with every third step a bisection.
 */
export function nearestOnSegment(seek: Seek, p: Float64Array, out: Nearest): void {
  const { shape } = seek,
    ax = p[0]!,
    ay = p[1]!,
    az = p[2]!,
    ex = p[3]! - ax,
    ey = p[4]! - ay,
    ez = p[5]! - az;
  distance(shape, ax, ay, az, out4);
  const fl = slope(seek, ax, ay, az, ex, ey, ez);
  keep(seek, ax, ay, az, out, 0);
  if (fl >= 0) return;
  distance(shape, p[3]!, p[4]!, p[5]!, out4);
  const fh = slope(seek, p[3]!, p[4]!, p[5]!, ex, ey, ez);
  keep(seek, p[3]!, p[4]!, p[5]!, out, 1);
  if (fh <= 0) return;
  begin(along, fl, fh);
  for (let k = 0; k < STEPS && along.high - along.low > NARROW; k++) {
    const t = trial(along, k),
      x = ax + t * ex,
      y = ay + t * ey,
      z = az + t * ez;
    distance(shape, x, y, z, out4);
    keep(seek, x, y, z, out, t);
    if (narrow(along, t, slope(seek, x, y, z, ex, ey, ez))) return;
  }
}

/** A bracket of shares 0 .. 1 between which a rising slope goes through nothing: fl < 0 at `low`, fh > 0 at `high`; fh = 0: not known before a step has gone past the root. */
interface Bracket {
  low: number;
  high: number;
  fl: number;
  fh: number;
}

const along: Bracket = { low: 0, high: 1, fl: 0, fh: 0 },
  inward: Bracket = { low: 0, high: 1, fl: 0, fh: 0 };

function begin(b: Bracket, fl: number, fh: number): void {
  b.low = 0;
  b.high = 1;
  b.fl = fl;
  b.fh = fh;
}

/** Where to ask for the slope in step k. */
const trial = (b: Bracket, k: number): number => (k % 3 === 2 || b.fh === 0 ? (b.low + b.high) / 2 : b.low + ((b.high - b.low) * b.fl) / (b.fl - b.fh));

/** Takes the slope f at t into the bracket; true where it is level. */
function narrow(b: Bracket, t: number, f: number): boolean {
  if (Math.abs(f) < LEVEL) return true;
  if (f < 0) {
    b.low = t;
    b.fl = f;
  } else {
    b.high = t;
    b.fh = f;
  }
  return false;
}

const line = new Float64Array(6);

/** Slope of what is sought from the place in `found` on the face p's line at `found.s` toward the corner c. */
function slopeInward(seek: Seek, p: Float64Array, found: Nearest): number {
  const { bulge, middle: m } = seek;
  let f = 0;
  for (let i = 0; i < 3; i++) {
    const base = p[i]! + found.t * (p[3 + i]! - p[i]!),
      at = base + found.s * (p[6 + i]! - base);
    f += (found.n[i]! + bulge * (at - m[i]!)) * (p[6 + i]! - base);
  }
  return f;
}

/**
 * Least of what is sought over the triangle p (9: corners a, b, c) where it lies inside: the least of the lines parallel to a-b is convex in the share s of the way
 * to c and is searched by the same rule. `first`, below zero: slope at s = 0.
 */
function nearestInside(seek: Seek, p: Float64Array, first: number, out: Nearest): void {
  begin(inward, first, 0);
  for (let k = 0; k < STEPS && inward.high - inward.low > NARROW; k++) {
    const s = trial(inward, k);
    for (let i = 0; i < 3; i++) {
      line[i] = p[i]! + s * (p[6 + i]! - p[i]!);
      line[3 + i] = p[3 + i]! + s * (p[6 + i]! - p[3 + i]!);
    }
    nearestOnSegment(seek, line, out);
    out.s = s;
    if (narrow(inward, s, slopeInward(seek, p, out))) return;
  }
}

const turned = new Float64Array(9),
  side = createNearest();

/**
 * Least of what is sought over the triangle p (9: its corners). Returns the corner opposite the side that is nearest; that side's nearest place is in `rim` (t from
 * the corner after it), the triangle's own, with the same side first, in `out`; out.inside: it lies on no side.
 */
export function nearestOfFace(seek: Seek, p: Float64Array, rim: Nearest, out: Nearest): number {
  let opposite = -1;
  for (let k = 0; k < 3; k++) {
    for (let i = 0; i < 6; i++) line[i] = p[(3 * (k + 1) + i) % 9]!;
    nearestOnSegment(seek, line, side);
    if (opposite >= 0 && side.d >= rim.d) continue;
    opposite = k;
    rim.d = side.d;
    rim.n.set(side.n);
    rim.t = side.t;
  }
  rim.s = 0;
  for (let i = 0; i < 9; i++) turned[i] = p[(3 * (opposite + 1) + i) % 9]!;
  const first = slopeInward(seek, turned, rim);
  // Convex: unless it falls off inward from the nearest side, nothing inside is nearer.
  out.inside = rim.t > 0 && rim.t < 1 && first < 0;
  if (out.inside) nearestInside(seek, turned, first, out);
  else {
    out.d = rim.d;
    out.n.set(rim.n);
    out.t = rim.t;
    out.s = 0;
  }
  return opposite;
}

const exact: Seek = { shape: { kind: 'sphere', centre: [0, 0, 0], radius: 0 }, bulge: 0, middle: new Float64Array(3) },
  rimOnly = createNearest(),
  whole = createNearest();

/** Least signed distance over the triangle p (9: its corners), m: at a corner, on a side or inside. */
export function leastOverFace(shape: SupportShape, p: Float64Array): number {
  exact.shape = shape;
  nearestOfFace(exact, p, rimOnly, whole);
  return whole.d;
}
