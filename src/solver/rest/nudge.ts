import { resetFriction, updateAnchors } from '../contact-state.ts';
import { prepareExact, solveExact } from '../newton.ts';
import { forces, residualOf, type System } from '../system.ts';
import type { Work } from '../work.ts';
import { settleUnder } from './nudge-steps.ts';
import { largestMovement, REST, type RestState, type SettleOptions } from './settle-run.ts';

/** Lateral gravity of the nudge test as a fraction of g: a few per cent, what a hand brushing past does (common practice, no source). */
export const NUDGE = 0.03;
/** Movement left after a nudge, m, that still counts as having come back: half of a maker's tolerance of 5 mm. */
export const CAME_BACK = 0.0025;
/** Residual to which a nudge is followed, there and back. */
const AWAY = 1e-3;
/** Sides a nudge comes from: +x, -x, +y, -y. */
export const SIDES = 4;

/** Gravity and the nudge from side s, m/s2. */
export const nudged = (rest: readonly [number, number, number], s: number): [number, number, number] => {
  const aside = (s % 2 === 0 ? NUDGE : -NUDGE) * Math.hypot(...rest);
  return s < 2 ? [rest[0] + aside, rest[1], rest[2]] : [rest[0], rest[1] + aside, rest[2]];
};

type AtRest = Pick<RestState, 'x' | 'formulation'>;

export interface Nudged {
  /** Largest movement left after any nudge that was tried, m; Infinity: it went over or did not settle. */ readonly worstShift: number;
  /** Sides from which it was really nudged. */ readonly sides: number;
  /** Largest movement of the linear answer to a nudge along x and along y, m; Infinity where there is none; null where it was not asked (every nudge). */
  readonly answer: readonly [number, number] | null;
}

/**
 * Linear answer, m, up to which a nudge is sure to come back and is not tried. Of the bags and boxes measured, all that answered by up to 10.8 mm came back,
 * and from 19.8 mm on some did not (README.md, "Nudges"): half of the first.
 */
const SURE = 0.005;

/**
 * Accelerates the bag sideways from four sides, lets go each time, and tells the largest movement left. An axis along which the exact Hessian's linear answer is
 * small is not tried; the softest axis comes first, and the first side that does not come back is the last. `every`: all four sides, whatever they answer.
 * The factor at hand serves as preconditioner until CG takes longer for it than a new one would: the states differ little as long as the bag stands.
 * Leaves gravity as it was, friction as the last nudge left it.
 */
export function* nudgeFourWays(
  sys: System,
  rest: AtRest,
  { progress, every = false }: Pick<SettleOptions, 'progress'> & { readonly every?: boolean },
): Work<Nudged> {
  const answer = every ? null : linearAnswers(sys, rest);
  const xFirst = answer === null || answer[0] >= answer[1];
  let worst = 0,
    sides = 0;
  for (let k = 0; k < SIDES; k++) {
    const s = xFirst ? k : (k + 2) % SIDES;
    if (answer !== null && answer[s < 2 ? 0 : 1] < SURE) continue;
    const { shift, x } = yield* nudge(sys, rest, s);
    worst = Math.max(worst, shift);
    sides++;
    if (progress?.('nudged', (k + 1) / SIDES, x) === false || worst === Number.POSITIVE_INFINITY || (!every && worst >= CAME_BACK)) break;
  }
  return { worstShift: worst, sides, answer };
}

/** A nudge starts with no friction but that of the state at rest. */
function takeHold(sys: System, x: Float64Array): void {
  resetFriction(sys);
  updateAnchors(sys, x);
}

/** One nudge from side s and back: movement left, m, and where it ended. */
function* nudge(sys: System, { x, formulation }: AtRest, s: number): Work<{ shift: number; x: Float64Array }> {
  const rest = sys.model.gravity,
    aside = nudged(rest, s),
    sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount);
  sys.acceleration.set(rest);
  takeHold(sys, x);
  const y = x.slice(),
    away = yield* settleUnder(sys, y, formulation, AWAY, rest, aside),
    back = away && (yield* settleUnder(sys, y, formulation, Math.max(REST, AWAY), aside, rest));
  sys.acceleration.set(rest);
  // A ball that rolls on in the bag is no matter of the bag's.
  return { shift: back ? largestMovement(y.subarray(0, sheet), x) : Number.POSITIVE_INFINITY, x: y };
}

/** How the linear answer is solved: the mass factor of the nudges' own steps, 1/s2; CG's tolerance and most iterations. */
const MASS_FACTOR = 1e-8;
const CG = 1e-3;
const CG_MOST = 120;

/**
 * Largest movement, m, of d = -H^-1 g along x and along y, either way: H the exact Hessian at rest, g the unbalanced forces when a nudge sets in. They are what the
 * nudge adds, and what the friction held that a nudge starts without. Infinity where CG meets negative curvature or does not solve it.
 */
function linearAnswers(sys: System, { x, formulation }: AtRest): [number, number] {
  const rest = sys.model.gravity,
    own = new Float64Array(x.length),
    g = new Float64Array(x.length),
    slip = new Float64Array(x.length),
    d = new Float64Array(x.length),
    sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount);
  const solved = (load: Float64Array, out: Float64Array): boolean => {
    const its = solveExact(sys, load, out, MASS_FACTOR, CG, CG_MOST);
    return its >= 0 && its < CG_MOST;
  };
  sys.acceleration.set(rest);
  takeHold(sys, x);
  forces(sys, x, own, formulation);
  // Less than this the nudges themselves leave unbalanced.
  const still = residualOf(sys, own) < AWAY;
  if (!prepareExact(sys, MASS_FACTOR) || (!still && !solved(own, slip))) return [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const along = (s: number): number => {
    sys.acceleration.set(nudged(rest, s));
    forces(sys, x, g, formulation);
    for (let i = 0; i < g.length; i++) g[i] = g[i]! - own[i]!;
    return solved(g, d) ? Math.max(largest(slip, d, 1, sheet), largest(slip, d, -1, sheet)) : Number.POSITIVE_INFINITY;
  };
  const answer: [number, number] = [along(0), along(2)];
  sys.acceleration.set(rest);
  return answer;
}

/** Largest movement of a vertex in a + sign b, of the first `length` numbers. */
function largest(a: Float64Array, b: Float64Array, sign: 1 | -1, length: number): number {
  let most = 0;
  for (let q = 0; q < length; q += 3) {
    const u = a[q]! + sign * b[q]!,
      v = a[q + 1]! + sign * b[q + 1]!,
      w = a[q + 2]! + sign * b[q + 2]!;
    most = Math.max(most, u * u + v * v + w * w);
  }
  return Math.sqrt(most);
}
