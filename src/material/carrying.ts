import { libm } from '../numerics/index.ts';
/** Statics of a bag that is carried: straps over a hook, tilt, and what loose contents push against the walls. Closed forms, massless straps. */

/**
 * Tension of one strap over a hook, N, both ends sewn to the bag: T = W/(2 cos a), tan a = (spacing/2)/drop.
 * Parameters: weight W N on this strap; spacing of its anchors m; drop, hook above anchors, m (> 0).
 * Assumes a level bag, a slack-free strap and a hook that is a point. Source: statics.
 */
export const strapTension = (weight: number, spacing: number, drop: number): number => (weight / 2) * libm.hypot(1, spacing / (2 * drop));

/** Angle of each strap leg from the vertical, rad. Parameters as strapTension. */
export const strapAngle = (spacing: number, drop: number): number => libm.atan(spacing / (2 * drop));

/** Pull toward the middle at each anchor, N: (W/2) tan a; this is what draws the mouth together. Parameters as strapTension. */
export const inwardPull = (weight: number, spacing: number, drop: number): number => (weight * spacing) / (4 * drop);

/** Tilt of a hanging bag, rad: atan(e/d). Parameters: e, centre of mass off the line of the hook, m; d, below the hook, m. Source: statics. */
export const hangingTilt = (offset: number, depth: number): number => libm.atan2(offset, depth);

/** Sideways over downward pressure of loose contents: (1 - sin phi)/(1 + sin phi). Parameter: angle of repose, rad. Source: Rankine's active pressure. */
export const sidePressureRatio = (repose: number): number => (1 - libm.sin(repose)) / (1 + libm.sin(repose));
