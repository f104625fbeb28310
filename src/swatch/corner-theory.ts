import type { Three } from '../bag/types.ts';
import { shoot } from '../material/index.ts';
import { libm } from '../numerics/index.ts';

/** Steps over the strip: drops to 1e-8. */
const STEPS = 400;
const RIGHT = Math.PI / 2;

/** A strip that hangs from a seam: slope below level at the seam, rad; drop and reach of its tip over L; torque of its weight about the seam, over B/L. */
export interface Hung {
  readonly slope: number;
  readonly drop: number;
  readonly reach: number;
  readonly torque: number;
}

/** By the slope of its tip below level: d'' = -K s cos(d), s from the tip, where no moment acts; its end moment is the seam's. */
function hung(K: number, tip: number): Hung {
  const end = shoot((s, d) => -K * s * libm.cos(d), tip, 0, 1, STEPS);
  return { slope: end.theta, drop: end.up, reach: end.along, torque: -end.bend };
}

/** The tip slope at which `over` changes from false to true. */
function halved(K: number, over: (h: Hung) => boolean): Hung {
  let [low, high] = [-RIGHT, RIGHT];
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (over(hung(K, mid))) high = mid;
    else low = mid;
  }
  return hung(K, (low + high) / 2);
}

/**
 * The strip of a corner: one piece is clamped upright, the other hangs from the seam. psi is the fold, 0 = the second piece runs on in the line of the first.
 * Seam up: psi = 90 deg + slope, the weight folds it further, k (psi - rest) = torque; seam down: psi = 90 deg - slope, the weight opens it.
 * Exact elastica (inextensible, linear in bending) with an end hinge; computed.
 * @param K w L^3/B. @param kappa k L/B, k the hinge's stiffness per metre of seam. @param rest rad
 */
export const cornerStrip = (K: number, kappa: number, rest: number, seamDown = false): Hung =>
  halved(K, ({ slope, torque }) => (seamDown ? kappa * (RIGHT - slope - rest) + torque : torque - kappa * (RIGHT + slope - rest)) < 0);

/**
 * Hinge from the drops of both ways up, over L: [k L/B, rest rad]. Each drop gives slope and torque at the seam without the hinge; then
 * k = (T_up + T_down)/(psi_up - psi_down), rest = psi_up - T_up/k. Null where the seam does not give between the two: the hinge is stiffer than can be read.
 * @param up @param down drops of the tip below the seam over L, negative above
 */
export function cornerHinge(K: number, up: number, down: number): readonly [kappa: number, rest: number] | null {
  const [a, b] = [up, down].map((drop) => halved(K, (h) => h.drop > drop));
  const gives = a!.slope + b!.slope;
  if (!(gives > 1e-9)) return null;
  const kappa = (a!.torque + b!.torque) / gives;
  return [kappa, RIGHT + a!.slope - a!.torque / kappa];
}

/** A seam's hinge as read: N*m/rad per metre, rad. A high end that cannot be told is infinite. */
export interface ReadHinge {
  readonly stiffness: Three;
  readonly rest: Three;
}

/** Readings of one seam, m: length of the hanging piece, mean drops, and how far each may be off. */
export interface CornerDrops {
  readonly length: number;
  readonly up: number;
  readonly down: number;
  readonly error: number;
}

/**
 * The hinge with what the readings leave open: every combination of both drops off by their error either way and both ends of the strip's rigidity. Null where the middle
 * figures already say a seam that does not give.
 * @param weight N/m2. @param rigidity low, mid, high of the hanging piece across the seam, N*m
 */
export function readHinge({ length, up, down, error }: CornerDrops, weight: number, rigidity: Three): ReadHinge | null {
  const at = (B: number, du: number, dd: number): readonly [number, number] | null => {
    const made = cornerHinge((weight * libm.cube(length)) / B, (up + du) / length, (down + dd) / length);
    return made && [(made[0] * B) / length, made[1]];
  };
  const mid = at(rigidity[1], 0, 0);
  if (!mid) return null;
  const all = rigidity.flatMap((B) => [-error, error].flatMap((du) => [-error, error].map((dd) => at(B, du, dd))));
  const known = [mid, ...all.filter((h) => h !== null)];
  const ends = (k: 0 | 1): [number, number] => [Math.min(...known.map((h) => h[k])), Math.max(...known.map((h) => h[k]))];
  const [[soft, stiff], [low, high]] = [ends(0), ends(1)];
  return { stiffness: [soft, mid[0], known.length <= all.length ? Number.POSITIVE_INFINITY : stiff], rest: [low, mid[1], high] };
}
