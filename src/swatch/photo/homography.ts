import type { Pixel } from './types.ts';

/** Long and short side of an ID-1 card, m. Source: ISO/IEC 7810. */
export const CARD = [0.0856, 0.05398] as const;

/** A plane seen through a pinhole: rows of a 3 x 3 matrix. */
export type Homography = readonly number[];

/** Where a homography takes a place. */
export function mapped(h: Homography, [x, y]: Pixel): Pixel {
  const w = h[6]! * x + h[7]! * y + h[8]!;
  return [(h[0]! * x + h[1]! * y + h[2]!) / w, (h[3]! * x + h[4]! * y + h[5]!) / w];
}

/**
 * From a rectangle of `size` (corners [0, 0], [w, 0], [w, h], [0, h]) to four places. A line stays a line; a lens that bends lines is left out.
 * Assumes a convex quadrilateral. Source: Heckbert 1989, Fundamentals of Texture Mapping, 2.2.3 (from memory); checked by mapping the corners back.
 */
export function fromRectangle(size: readonly [number, number], corners: readonly Pixel[]): Homography {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners as [Pixel, Pixel, Pixel, Pixel];
  const [sx, sy] = [x0 - x1 + x2 - x3, y0 - y1 + y2 - y3];
  const [dx1, dx2, dy1, dy2] = [x1 - x2, x3 - x2, y1 - y2, y3 - y2];
  const det = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / det;
  const k = (dx1 * sy - sx * dy1) / det;
  const [w, h] = size;
  return [(x1 - x0 + g * x1) / w, (x3 - x0 + k * x3) / h, x0, (y1 - y0 + g * y1) / w, (y3 - y0 + k * y3) / h, y0, g / w, k / h, 1];
}

/** The way back: the adjugate, which is the inverse up to a factor that cancels. */
export function inverse(m: Homography): Homography {
  const [a, b, c, d, e, f, g, h, i] = m as [number, number, number, number, number, number, number, number, number];
  return [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
}
