import type { Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';

export type Cubic = readonly [Point2, Point2, Point2, Point2];

const between = (a: Point2, b: Point2, t: number): Point2 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/** A cubic cut at parameter t into two that together are the same curve (de Casteljau). */
export function cutCubic([p0, p1, p2, p3]: Cubic, t: number): [Cubic, Cubic] {
  const [a, b, c] = [between(p0, p1, t), between(p1, p2, t), between(p2, p3, t)];
  const [d, e] = [between(a, b, t), between(b, c, t)];
  const f = between(d, e, t);
  return [
    [p0, a, d, f],
    [f, e, c, p3],
  ];
}

const at = ([p0, p1, p2, p3]: Cubic, t: number): Point2 => {
  const s = 1 - t;
  const [a, b, c, d] = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
  return [a * p0[0] + b * p1[0] + c * p2[0] + d * p3[0], a * p0[1] + b * p1[1] + c * p2[1] + d * p3[1]];
};

/** Parameter of the place on a cubic nearest to a point of it: the best of 64, then halved steps down to 1e-12. */
export function nearestParameter(curve: Cubic, p: Point2): number {
  const far = (t: number): number => libm.hypot(at(curve, t)[0] - p[0], at(curve, t)[1] - p[1]);
  let best = 0;
  for (let i = 1; i <= 64; i++) if (far(i / 64) < far(best)) best = i / 64;
  for (let step = 1 / 128; step > 1e-12; step /= 2) for (const t of [best - step, best + step]) if (t >= 0 && t <= 1 && far(t) < far(best)) best = t;
  return best;
}
