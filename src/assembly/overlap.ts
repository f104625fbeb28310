import type { Point2 } from '../bag/types.ts';

/** Nearer than this a point is on the side, m. */
const ON_SIDE = 1e-9;

/** Twice the signed area of a polygon, positive counterclockwise. */
const twiceArea = (p: readonly Point2[]): number =>
  p.reduce((sum, a, i) => {
    const b = p[(i + 1) % p.length]!;
    return sum + a[0] * b[1] - b[0] * a[1];
  }, 0);

/**
 * Area that a polygon (counterclockwise) shares with a counterclockwise triangle, m2: the polygon clipped by one side of the triangle after the other
 * (Sutherland and Hodgman 1974, "Reentrant polygon clipping"). Exact to rounding where the polygon does not cross itself.
 * Parameters: polygon; triangle corners [x0 y0 x1 y1 x2 y2], from entry `at` of the array.
 */
export function sharedArea(polygon: readonly Point2[], triangle: ArrayLike<number>, at = 0): number {
  let left: readonly Point2[] = polygon;
  for (let k = 0; k < 3 && left.length > 0; k++) {
    const [ax, ay] = [triangle[at + 2 * k]!, triangle[at + 2 * k + 1]!];
    const n = (k + 1) % 3;
    const [dx, dy] = [triangle[at + 2 * n]! - ax, triangle[at + 2 * n + 1]! - ay];
    const side = ([x, y]: Point2): number => dx * (y - ay) - dy * (x - ax);
    const kept: Point2[] = [];
    left.forEach((p, i) => {
      const q = left[(i + 1) % left.length]!;
      const [sp, sq] = [side(p), side(q)];
      if (sp >= 0) kept.push(p);
      if (sp >= 0 !== sq >= 0) {
        const t = sp / (sp - sq);
        kept.push([p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]);
      }
    });
    left = kept;
  }
  return Math.max(0, twiceArea(left) / 2);
}

/** Length of the segment from a to b inside a counterclockwise triangle, m; what runs along one of its sides is not inside. Parameters as above. */
export function lengthInside(a: Point2, b: Point2, triangle: ArrayLike<number>, at = 0): number {
  let [from, to] = [0, 1];
  for (let k = 0; k < 3; k++) {
    const [ax, ay] = [triangle[at + 2 * k]!, triangle[at + 2 * k + 1]!];
    const n = (k + 1) % 3;
    const [dx, dy] = [triangle[at + 2 * n]! - ax, triangle[at + 2 * n + 1]! - ay];
    const length = Math.hypot(dx, dy);
    const [sa, sb] = [a, b].map(([x, y]) => (dx * (y - ay) - dy * (x - ax)) / length - ON_SIDE) as [number, number];
    if (sa < 0 && sb < 0) return 0;
    if (sa < 0) from = Math.max(from, sa / (sa - sb));
    if (sb < 0) to = Math.min(to, sa / (sa - sb));
  }
  return Math.max(0, to - from) * Math.hypot(b[0] - a[0], b[1] - a[1]);
}
