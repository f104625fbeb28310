import type { System } from '../system.ts';
import type { Work } from '../work.ts';
import { type AtRest, AWAY, nudged, SIDES, takeHold } from './nudge-load.ts';
import { type Answer, answersToNudge } from './nudge-screen.ts';
import { settleUnder, type Way } from './nudge-steps.ts';
import { largestMovement, REST, type SettleOptions, TRUST_RADIUS } from './settle-run.ts';

/** Movement left after a nudge, m, that still counts as having come back, where the caller does not say: of a bag of 250 mm (report/thresholds.ts). */
export const CAME_BACK = 0.0025;

export interface Nudged {
  /** Largest movement left after any nudge that was tried, m; Infinity: it went over or did not settle. */ readonly worstShift: number;
  /** Sides from which it was really nudged. */ readonly sides: number;
  /** What the state answers to a nudge along x and along y; null where it was not asked (every nudge), or has no answer. */
  readonly answer: readonly [Answer | null, Answer | null] | null;
  /** Where the nudge that moved it most left it at rest, all unknowns; null where every one came back, or that one went over. */ readonly left: Float64Array | null;
}

/**
 * Answer to a nudge up to which it is sure to come back and is not tried: linear, m, and second order over it. Measured: README.md, "Nudges". By the linear answer
 * alone a bucket that answered by 1.4 mm passed, and goes over: its second order was half of that. Where sheets touch, what has slid stays behind, at most all of
 * the answer: there it must be under what may stay behind. Never more than twice that.
 */
const SURE = 0.005;
const STRAIGHT = 0.1;

const comesBack = (a: Answer | null, sure: number): boolean => a !== null && a.linear < sure && a.quadratic < STRAIGHT * a.linear;
const softness = (a: Answer | null): number => a?.linear ?? Number.POSITIVE_INFINITY;

/**
 * Accelerates the bag sideways from four sides, lets go each time, and tells the largest movement left. An axis along which the answer is small and straight
 * (nudge-screen.ts) is not tried; the softest axis comes first, and the first side that does not come back is the last. `every`: all four sides, whatever they answer.
 * The factor at hand serves as preconditioner until CG takes longer for it than a new one would: the states differ little as long as the bag stands.
 * Leaves gravity as it was, friction as the last nudge left it.
 */
export function* nudgeFourWays(
  sys: System,
  rest: AtRest,
  {
    progress,
    every = false,
    cameBack = CAME_BACK,
  }: Pick<SettleOptions, 'progress'> & {
    readonly every?: boolean;
    /** m that may stay behind. */ readonly cameBack?: number;
  },
): Work<Nudged> {
  const answer = every ? null : yield* answersToNudge(sys, rest);
  const sure = (sys.pairs?.active ?? 0) > 0 ? cameBack : Math.min(SURE, 2 * cameBack),
    xFirst = answer === null || softness(answer[0]) >= softness(answer[1]);
  let worst = 0,
    sides = 0,
    left: Float64Array | null = null;
  // The other side of an axis goes as the first did.
  const far = [0, 1].map((axis) => (answer?.[axis]?.linear ?? 0) >= TRUST_RADIUS);
  for (let k = 0; k < SIDES; k++) {
    const s = xFirst ? k : (k + 2) % SIDES;
    if (answer !== null && comesBack(answer[s < 2 ? 0 : 1], sure)) continue;
    const axis = s < 2 ? 0 : 1,
      { shift, x, away } = yield* nudge(sys, rest, s, far[axis]!);
    far[axis] ||= away !== 'near';
    if (shift >= cameBack && shift > worst) left = Number.isFinite(shift) ? x : null;
    worst = Math.max(worst, shift);
    sides++;
    if (progress?.('nudged', (k + 1) / SIDES, x) === false || worst === Number.POSITIVE_INFINITY || (!every && worst >= cameBack)) break;
  }
  return { worstShift: worst, sides, answer, left };
}

/**
 * One nudge from side s and back: movement left, m, where it ended, and how it was laid on. far: a step with the factor at hand is known to be in vain. What such a step did not
 * lay on none takes off again.
 */
function* nudge(sys: System, { x, formulation }: AtRest, s: number, far: boolean): Work<{ shift: number; x: Float64Array; away: Way }> {
  const rest = sys.model.gravity,
    aside = nudged(rest, s),
    sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount);
  sys.acceleration.set(rest);
  takeHold(sys, x);
  const y = x.slice(),
    away = yield* settleUnder(sys, y, formulation, AWAY, rest, aside, far),
    back = away && (yield* settleUnder(sys, y, formulation, Math.max(REST, AWAY), aside, rest, away !== 'near'));
  sys.acceleration.set(rest);
  // A ball that rolls on in the bag is no matter of the bag's.
  return { shift: back ? largestMovement(y.subarray(0, sheet), x) : Number.POSITIVE_INFINITY, x: y, away };
}
