import { within } from '../bag/index.ts';
import type { Point2 } from '../bag/types.ts';
import { libm, polygonArea } from '../numerics/index.ts';

/** Nearer than this a point is on the side, m. */
const ON_SIDE = 1e-9;

/**
 * Area that a polygon (counterclockwise) shares with a counterclockwise triangle, m2; exact to rounding where the polygon does not cross itself.
 * Parameters: polygon; triangle corners [x0 y0 x1 y1 x2 y2], from entry `at` of the array.
 */
export function sharedArea(polygon: readonly Point2[], triangle: ArrayLike<number>, at = 0): number {
  const corners = [0, 2, 4].map((k): Point2 => [triangle[at + k]!, triangle[at + k + 1]!]);
  return Math.max(0, polygonArea(within(polygon, corners)));
}

/** Length of the segment from a to b inside a counterclockwise triangle, m; what runs along one of its sides is not inside. Parameters as above. */
export function lengthInside(a: Point2, b: Point2, triangle: ArrayLike<number>, at = 0): number {
  let [from, to] = [0, 1];
  for (let k = 0; k < 3; k++) {
    const [ax, ay] = [triangle[at + 2 * k]!, triangle[at + 2 * k + 1]!];
    const n = (k + 1) % 3;
    const [dx, dy] = [triangle[at + 2 * n]! - ax, triangle[at + 2 * n + 1]! - ay];
    const length = libm.hypot(dx, dy);
    const [sa, sb] = [a, b].map(([x, y]) => (dx * (y - ay) - dy * (x - ax)) / length - ON_SIDE) as [number, number];
    if (sa < 0 && sb < 0) return 0;
    if (sa < 0) from = Math.max(from, sa / (sa - sb));
    if (sb < 0) to = Math.min(to, sa / (sa - sb));
  }
  return Math.max(0, to - from) * libm.hypot(b[0] - a[0], b[1] - a[1]);
}
