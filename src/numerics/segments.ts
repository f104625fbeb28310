import * as libm from './libm/index.ts';
/** Straight segments in the plane: distance, side, and where two of them meet. */

export type Point = readonly [number, number];

/** Twice the signed area of triangle abp: positive when p lies to the left of a -> b. */
export const sideOf = (a: Point, b: Point, p: Point): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

/** Fraction 0..1 along a -> b of its point nearest to p; 0 where a and b are one point. */
export function nearestFraction(p: Point, a: Point, b: Point): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const len2 = dx * dx + dy * dy;
  return len2 > 0 ? Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / len2)) : 0;
}

/** Distance of p from segment ab. */
export function distanceToSegment(p: Point, a: Point, b: Point): number {
  const t = nearestFraction(p, a, b);
  return libm.hypot(p[0] - a[0] - t * (b[0] - a[0]), p[1] - a[1] - t * (b[1] - a[1]));
}

/** The place where segments ab and cd meet, or null. Closer than `touch` at an end counts as meeting there. */
export function meetingPoint(a: Point, b: Point, c: Point, d: Point, touch: number): Point | null {
  if (Math.max(a[0], b[0]) + touch < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) + touch < Math.min(a[0], b[0])) return null;
  if (Math.max(a[1], b[1]) + touch < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) + touch < Math.min(a[1], b[1])) return null;
  const s1 = sideOf(a, b, c);
  const s2 = sideOf(a, b, d);
  const s3 = sideOf(c, d, a);
  const s4 = sideOf(c, d, b);
  if (s1 * s2 < 0 && s3 * s4 < 0) {
    const t = s3 / (s3 - s4);
    return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
  }
  for (const [p, q, r] of [
    [c, a, b],
    [d, a, b],
    [a, c, d],
    [b, c, d],
  ] as const)
    if (distanceToSegment(p, q, r) <= touch) return p;
  return null;
}

/** Fraction along pq where segment ab meets it, both ends with a micron's reach; null when it does not, or runs along it. */
export function crossingFraction(p: Point, q: Point, a: Point, b: Point): number | null {
  const ex = q[0] - p[0];
  const ey = q[1] - p[1];
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const det = ex * dy - ey * dx;
  if (Math.abs(det) <= 1e-9 * libm.hypot(ex, ey) * libm.hypot(dx, dy)) return null;
  const t = ((a[0] - p[0]) * dy - (a[1] - p[1]) * dx) / det;
  const s = ((a[0] - p[0]) * ey - (a[1] - p[1]) * ex) / det;
  const reach = 1e-6 / libm.hypot(dx, dy);
  return t >= -1e-9 && t <= 1 + 1e-9 && s >= -reach && s <= 1 + reach ? Math.min(1, Math.max(0, t)) : null;
}
