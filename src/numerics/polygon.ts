/** Closed polygons in the plane, without a repeated last point. */
import { distanceToSegment, type Point } from './segments.ts';

/** Signed area; positive = counterclockwise. Shoelace formula. */
export function polygonArea(points: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < points.length; i++) {
    const a = points[i]!;
    const b = points[(i + 1) % points.length]!;
    twice += a[0] * b[1] - b[0] * a[1];
  }
  return twice / 2;
}

/** Is a point inside (even-odd rule)? */
export function insidePolygon(p: Point, points: readonly Point[]): boolean {
  let inside = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const a = points[i]!;
    const b = points[j]!;
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside;
}

/** Distance of a point from the nearest side, inside or out. */
export function distanceToPolygon(p: Point, points: readonly Point[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < points.length; i++) least = Math.min(least, distanceToSegment(p, points[i]!, points[(i + 1) % points.length]!));
  return least;
}
