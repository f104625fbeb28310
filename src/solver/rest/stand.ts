import { frictionState, resetFriction, restoreState } from '../contact-state.ts';
import { forces, type System } from '../system.ts';
import type { Work } from '../work.ts';
import { type Grounded, restingOnHard, restOn } from './hard-supports.ts';
import { CAME_BACK, type Nudged, nudgeFourWays } from './nudge.ts';
import { NUDGE } from './nudge-load.ts';
import { COLLAPSED, heightKept, type SettleOptions, STANDS_ABOVE } from './settle-run.ts';

/** Heights kept between which the inward start is run as well: above, the bag stands; below, it lies, and a heap's height is chance anyway. */
const INWARD_BELOW = 0.95;
const INWARD_ABOVE = COLLAPSED;
/** Heights kept that differ by more than this are two different shapes. */
const SAME_HEIGHT = 0.02;

export interface StandOptions extends SettleOptions {
  /** Makes the 3n start with the walls pressed inward; run when the outward start loses height. */ readonly inward?: () => Float64Array;
  /** Told when rest was reached, before the nudge test: for the caller's clock. */ readonly settled?: () => void;
  /** Run the nudge test. Default true. */ readonly nudge?: boolean;
  /** Movement left after a nudge, m, that counts as having come back. */ readonly cameBack?: number;
  /** Nudge from all four sides, whatever the linear answer says. Default false. */ readonly everyNudge?: boolean;
  /** How many times harder than hard supports are; default 1. For measuring what is left to gain. */ readonly hardness?: number;
}

export interface Stood {
  readonly rest: Grounded;
  readonly nudge: Nudged & { readonly tested: boolean; readonly comesBack: boolean; readonly fraction: number };
  /** height null: not run, or it crumpled as the outward start had slumped and was followed no further (then differs is false: the word is the same). */
  readonly inward: {
    readonly ran: boolean;
    readonly height: number | null;
    readonly differs: boolean /** Its rest, where height is known. */;
    readonly x: Float64Array | null;
  };
}

/**
 * The standing procedure: from the stuffed start (walls outward) to rest; if it lost height, again from the inward start, because a
 * real band of rigidities has two rest shapes and then both are told; then nudged from four sides.
 */
export function* standing(sys: System, start: Float64Array, o: StandOptions): Work<Stood> {
  const first = yield* restingOnHard(sys, start, o, o.hardness);
  const friction = frictionState(sys);
  const kept = (x: Float64Array) => heightKept(o.watch, x);
  let inward: Stood['inward'] = { ran: false, height: null, differs: false, x: null };
  if (!first.cancelled && !first.stillFalling && first.status === 'settled' && o.inward && kept(first.x) < INWARD_BELOW && kept(first.x) >= INWARD_ABOVE) {
    resetFriction(sys);
    const second = yield* restingOnHard(
      sys,
      o.inward(),
      {
        ...o,
        lowered: undefined,
        // Another heap would not change the word: following a second one to rest took two thirds of a soft bag's time.
        onlyStanding: kept(first.x) < STANDS_ABOVE,
        progress: o.progress && ((_, f, x) => o.progress?.('filled the other way', f, x)),
      },
      o.hardness,
    );
    const height = second.notFollowed ? null : kept(second.x);
    const elsewhere = (h: number): boolean => second.stillFalling || (second.status === 'settled' && Math.abs(h - kept(first.x)) > SAME_HEIGHT);
    inward = { ran: true, height, differs: height !== null && elsewhere(height), x: height === null ? null : second.x };
  }
  if (inward.ran) {
    restOn(sys, first.supports, o.hardness);
    restoreState(sys, first.x, friction);
  }
  const tested = (o.nudge ?? true) && first.status === 'settled' && !first.cancelled && kept(first.x) >= STANDS_ABOVE;
  o.settled?.();
  const cameBack = o.cameBack ?? CAME_BACK;
  const nudged: Nudged = tested
    ? yield* nudgeFourWays(sys, first, { progress: o.progress, every: o.everyNudge, cameBack })
    : { worstShift: 0, sides: 0, answer: null, left: null };
  // Leaves forces, anchors and contact counts of the state that is reported, not those of the last nudge.
  if (inward.ran || tested) restoreState(sys, first.x, friction);
  forces(sys, first.x, new Float64Array(first.x.length), first.formulation);
  return { rest: first, nudge: { tested, comesBack: tested && nudged.worstShift < cameBack, fraction: NUDGE, ...nudged }, inward };
}
