/** Does an outline cross or touch itself? Looked for on the flattened polygon, 0.1 mm true to the curves. */
import { far } from './curve.ts';
import type { Point2 } from './types.ts';

/** Closer than this two lines of one outline count as touching, m. */
const TOUCH = 1e-6;

const side = (a: Point2, b: Point2, p: Point2): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

function toSegment(p: Point2, a: Point2, b: Point2): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const len2 = dx * dx + dy * dy;
  const t = len2 > 0 ? Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / len2)) : 0;
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** The place where segments ab and cd meet, or null. Touching counts. */
export function meeting(a: Point2, b: Point2, c: Point2, d: Point2): Point2 | null {
  if (Math.max(a[0], b[0]) + TOUCH < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) + TOUCH < Math.min(a[0], b[0])) return null;
  if (Math.max(a[1], b[1]) + TOUCH < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) + TOUCH < Math.min(a[1], b[1])) return null;
  const s1 = side(a, b, c);
  const s2 = side(a, b, d);
  const s3 = side(c, d, a);
  const s4 = side(c, d, b);
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
    if (toSegment(p, q, r) <= TOUCH) return p;
  return null;
}

/** First place where a closed polygon crosses, touches or doubles back on itself, or null. */
export function selfCrossing(points: readonly Point2[]): Point2 | null {
  const n = points.length;
  for (let i = 0; i < n; i++) {
    const a = points[i];
    const b = points[(i + 1) % n];
    const after = points[(i + 2) % n];
    // Neighbours share a point; they are at fault only when the second runs back along the first.
    const back = (b[0] - a[0]) * (after[0] - b[0]) + (b[1] - a[1]) * (after[1] - b[1]) < 0;
    if (back && Math.abs(side(a, b, after)) <= 1e-9 * far(a, b) * far(b, after)) return b;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const p = meeting(a, b, points[j], points[(j + 1) % n]);
      if (p) return p;
    }
  }
  return null;
}

/** First place where two closed polygons meet, or null. */
export function polygonsMeet(one: readonly Point2[], other: readonly Point2[]): Point2 | null {
  for (let i = 0; i < one.length; i++)
    for (let j = 0; j < other.length; j++) {
      const p = meeting(one[i], one[(i + 1) % one.length], other[j], other[(j + 1) % other.length]);
      if (p) return p;
    }
  return null;
}
