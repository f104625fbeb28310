/**
 * Why a pure-bending tester and a cantilever read one cloth differently. Yarns that slide on one another bend by M = B k + H while they are bent
 * further and by M = B k - H while they are let back. The tester reports the slope B and the width 2H (2HB) of the loop between the two; a strip pushed out over
 * an edge is bent for the first time and has to overcome H as well, so it hangs less; one that was bent further and let back hangs more. A
 * reading lies between the two branches. H is taken as whole from the first curvature on, which makes the branches bounds.
 * Sources: definitions of B and 2HB, Kawabata 1980 (from memory); hysteresis from friction between yarns: Lahey and Heppler, doi 10.1115/1.1629757 (abstract).
 */
import { libm } from '../numerics/index.ts';
import { bendingLength, FIXED_ANGLE, FIXED_ANGLE_LOAD, GRAVITY } from '../units/index.ts';

/** Bent for the first time, or let back from further. */
export type Branch = 'bent up' | 'let back';

const STEPS = 200;

interface Tip {
  readonly slope: number;
  readonly along: number;
  readonly down: number;
}

/** Integrates theta' = -k(M), M' = s cos(theta) from the tip, s = 0..length; lengths in bending lengths c, moments in w c^2. */
function integrate(length: number, friction: number, branch: Branch, tipSlope: number): Tip {
  const bend = branch === 'bent up' ? (M: number) => Math.max(0, M - friction) : (M: number) => M + friction;
  const h = length / STEPS;
  let [t, M, along, down] = [tipSlope, 0, 0, 0];
  for (let i = 0; i < STEPS; i++) {
    const s = i * h;
    const middle = s + h / 2;
    const [k1, m1] = [-bend(M), s * libm.cos(t)];
    const t2 = t + (h / 2) * k1;
    const [k2, m2] = [-bend(M + (h / 2) * m1), middle * libm.cos(t2)];
    const t3 = t + (h / 2) * k2;
    const [k3, m3] = [-bend(M + (h / 2) * m2), middle * libm.cos(t3)];
    const t4 = t + h * k3;
    const [k4, m4] = [-bend(M + h * m3), (s + h) * libm.cos(t4)];
    along += (h / 6) * (libm.cos(t) + 2 * libm.cos(t2) + 2 * libm.cos(t3) + libm.cos(t4));
    down += (h / 6) * (libm.sin(t) + 2 * libm.sin(t2) + 2 * libm.sin(t3) + libm.sin(t4));
    t += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    M += (h / 6) * (m1 + 2 * m2 + 2 * m3 + m4);
  }
  return { slope: t, along, down };
}

function bisect(low: number, high: number, below: (q: number) => boolean): number {
  for (let i = 0; i < 50; i++) {
    const mid = (low + high) / 2;
    if (below(mid)) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}

/**
 * Chord angle below level, rad, of a strip clamped level whose yarns rub. Parameters: overhang over the bending length c = (B/w)^(1/3);
 * friction H/(w c^2); branch. Source: see the head of this file.
 */
export function chordWithFriction(length: number, friction: number, branch: Branch): number {
  const tip = bisect(0, Math.PI, (slope) => integrate(length, friction, branch, slope).slope < 0);
  const end = integrate(length, friction, branch, tip);
  return libm.atan2(end.down, end.along);
}

/** The two branches' readings. */
export interface FrictionReadings {
  /** Rigidity that the 41.5 deg rule B = w (O/2)^3 makes of each overhang, N*m. */ readonly bentUp: number;
  readonly letBack: number;
}

/**
 * What a 41.5 deg cantilever reads, N*m, of a cloth whose pure-bending test gave the slope B (N*m) and the hysteresis 2HB (N). Parameters: also its areal
 * mass, kg/m2. Assumes friction that is whole from the first curvature on: bounds, not estimates.
 */
export function cantileverReadings(slope: number, hysteresis: number, arealMass: number): FrictionReadings {
  const c = bendingLength(slope, arealMass);
  const friction = hysteresis / 2 / (arealMass * GRAVITY * c * c);
  const rule = (branch: Branch) => {
    const hangs = (q: number) => chordWithFriction(q, friction, branch) < FIXED_ANGLE;
    // Friction alone carries a strip of sqrt(2 H/w). Let back, a strip may curl right round, so the first length that hangs far enough is looked for.
    const step = branch === 'bent up' ? 3 + 2 * Math.sqrt(2 * friction) : 0.1 / (1 + friction);
    let shorter = 0;
    while (hangs(shorter + step)) shorter += step;
    const length = bisect(shorter, shorter + step, hangs);
    return (slope * libm.cube(length)) / FIXED_ANGLE_LOAD;
  };
  return { bentUp: rule('bent up'), letBack: rule('let back') };
}
