/** When one stack is certain to do no better than another: the one rule of statics that a search may lean on. */
import type { Laminate } from '../../material/types.ts';

/** Axes this near are one, rad. */
const SAME_AXES = 1e-6;
/** Rounding, as a share. */
const ROUNDING = 1e-9;

/** Is s times b's bending energy at least a's, whatever the curvature? Both matrices in one set of axes: s B - A positive semidefinite. */
function noStiffer(a: Laminate, b: Laminate, s: number): boolean {
  if (Math.abs(a.angle - b.angle) > SAME_AXES) return false;
  const [p, q, r, t] = b.bending.map((v, i) => s * v * (1 + ROUNDING) - a.bending[i]!) as [number, number, number, number];
  return p >= 0 && q >= 0 && t >= 0 && p * q - r * r >= -ROUNDING * s * s * b.bending[0] * b.bending[1];
}

/**
 * Is a bag of the laminates `a` softer and no lighter than one of `b`, panel by panel? Then for some s > 0 every bending rigidity of a is at most s times b's and every mass at
 * least s times b's: rigidity and mass times the same factor give the same shape. What else weighs on the bag does not grow with that factor: s is 1 where it carries something
 * or hangs (what is in it may hold it up as well), at most 1 where straps weigh on it, any where its own weight alone acts.
 * Assumes that stretch plays no part (a bag's strains are well under 1 %), nor the thickness by which its cloth touches itself.
 * The mass of what lies on its table plays no part: it is borne where it lies.
 * Parameters: laminates of the same panels and regions in the same order; what s may be; which of them lie on the table.
 */
export function isSofter(a: readonly Laminate[], b: readonly Laminate[], factor: 'one' | 'up to one' | 'any', lies: readonly boolean[] = []): boolean {
  let s = factor === 'any' ? Number.POSITIVE_INFINITY : 1;
  for (let i = 0; i < a.length; i++) if (!lies[i]) s = Math.min(s, a[i]!.arealMass / b[i]!.arealMass);
  if (s === Number.POSITIVE_INFINITY) return false;
  if (factor === 'one') {
    if (s < 1 - ROUNDING) return false;
    s = 1;
  }
  // The largest factor that the masses allow is the easiest on the rigidities.
  for (let i = 0; i < a.length; i++) if (!noStiffer(a[i]!, b[i]!, s)) return false;
  return true;
}
