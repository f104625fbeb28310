/** Does an outline cross or touch itself? Looked for on the flattened polygon, 0.1 mm true to the curves. */
import { meetingPoint, sideOf } from '../numerics/index.ts';
import { far } from './curve.ts';
import type { Point2 } from './types.ts';

/** Closer than this two lines of one outline count as touching, m. */
const TOUCH = 1e-6;

/** First place where a closed polygon crosses, touches or doubles back on itself, or null. */
export function selfCrossing(points: readonly Point2[]): Point2 | null {
  const n = points.length;
  for (let i = 0; i < n; i++) {
    const a = points[i];
    const b = points[(i + 1) % n];
    const after = points[(i + 2) % n];
    // Neighbours share a point; they are at fault only when the second runs back along the first.
    const back = (b[0] - a[0]) * (after[0] - b[0]) + (b[1] - a[1]) * (after[1] - b[1]) < 0;
    if (back && Math.abs(sideOf(a, b, after)) <= 1e-9 * far(a, b) * far(b, after)) return b;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const p = meetingPoint(a, b, points[j], points[(j + 1) % n], TOUCH);
      if (p) return p;
    }
  }
  return null;
}

/** First place where two closed polygons meet, or null. */
export function polygonsMeet(one: readonly Point2[], other: readonly Point2[]): Point2 | null {
  for (let i = 0; i < one.length; i++)
    for (let j = 0; j < other.length; j++) {
      const p = meetingPoint(one[i], one[(i + 1) % one.length], other[j], other[(j + 1) % other.length], TOUCH);
      if (p) return p;
    }
  return null;
}
