import type { SeamType } from '../bag/types.ts';

/**
 * Hinge spring of a finished seam, N*m/rad per metre of seam, and whether it is set to the drafted angle.
 *   plain, turned: 0 - the panels meet at the stitch line alone; the allowances stand off it and carry no moment across.
 *   lapped, bound, topstitched: (D1 + D2)/a - the layers overlap over the allowance a and bend there as two loose sheets.
 *   fold: (D1 + D2)/(2 a) - one sheet creased over about twice the allowance stated for the fold.
 * An estimate: no measured seam was found; a seam's `hinge` in the bag file overrides it. 0 is the cautious side, because a
 * stiffer seam can only help a wall to stand.
 * @param d1 @param d2 rigidity of the panels beside the seam, N*m. @param allowance m, > 0
 */
export function seamSpring(type: SeamType, d1: number, d2: number, allowance: number): number {
  switch (type) {
    case 'plain':
    case 'turned':
      return 0;
    case 'lapped':
    case 'bound':
    case 'topstitched':
      return (d1 + d2) / allowance;
    case 'fold':
      return (d1 + d2) / (2 * allowance);
  }
}
