import { polygonArea } from '../numerics/index.ts';
import type { Point2 } from './types.ts';

/** What of a polygon lies in a convex one, joined by edges there and back where it falls in pieces: its area is right (Sutherland and Hodgman 1974). */
export function within(polygon: readonly Point2[], convex: readonly Point2[]): Point2[] {
  const turn = Math.sign(polygonArea(convex));
  let kept: Point2[] = [...polygon];
  convex.forEach((a, i) => {
    const b = convex[(i + 1) % convex.length];
    const inside = ([x, y]: Point2): number => turn * ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]));
    kept = kept.flatMap((p, k): Point2[] => {
      const q = kept[(k + 1) % kept.length];
      const [dp, dq] = [inside(p), inside(q)];
      const w = dp / (dp - dq);
      const cut: Point2[] = dp > 0 !== dq > 0 ? [[p[0] + w * (q[0] - p[0]), p[1] + w * (q[1] - p[1])]] : [];
      return dp > 0 ? [p, ...cut] : cut;
    });
  });
  return kept;
}
