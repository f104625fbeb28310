/**
 * Sign of the volume of tetrahedron abcd: 1 when d lies below a, b, c seen counterclockwise, 0 when within rounding.
 * Error bound 7.77e-16 x permanent (Shewchuk 1997, orient3d stage A).
 * @param x 3 per point  @param a,b,c,d numbers of points
 */
export function orientation(x: ArrayLike<number>, a: number, b: number, c: number, d: number): -1 | 0 | 1 {
  const dx = x[3 * d]!;
  const dy = x[3 * d + 1]!;
  const dz = x[3 * d + 2]!;
  const adx = x[3 * a]! - dx;
  const ady = x[3 * a + 1]! - dy;
  const adz = x[3 * a + 2]! - dz;
  const bdx = x[3 * b]! - dx;
  const bdy = x[3 * b + 1]! - dy;
  const bdz = x[3 * b + 2]! - dz;
  const cdx = x[3 * c]! - dx;
  const cdy = x[3 * c + 1]! - dy;
  const cdz = x[3 * c + 2]! - dz;
  const bc = bdx * cdy - cdx * bdy;
  const ca = cdx * ady - adx * cdy;
  const ab = adx * bdy - bdx * ady;
  const det = adz * bc + bdz * ca + cdz * ab;
  const permanent =
    (Math.abs(bdx * cdy) + Math.abs(cdx * bdy)) * Math.abs(adz) +
    (Math.abs(cdx * ady) + Math.abs(adx * cdy)) * Math.abs(bdz) +
    (Math.abs(adx * bdy) + Math.abs(bdx * ady)) * Math.abs(cdz);
  const bound = 7.771561172376103e-16 * permanent;
  return det > bound ? 1 : det < -bound ? -1 : 0;
}
