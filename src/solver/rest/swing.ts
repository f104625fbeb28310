import { frictionState, restoreState } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { Work } from '../work.ts';
import { HUNG_STEPS } from './hang.ts';
import { nudged, SIDES } from './nudge-load.ts';
import { type PseudoTransientResult, pseudoTransientSteps } from './pseudo-transient.ts';
import { largestMovement, REST, type RestState, type SettleOptions } from './settle-run.ts';

/** Most steps of a swing aside, and of the way back. */
const MAX_STEPS = 300;
/** Residual to which a swing aside is followed: it is passed through, not judged. */
const ASIDE = 1e-2;

/**
 * The nudge test of a bag on its straps, at rest at x with the friction it has there: it swings aside by some 3 % of its height and back, by energy-lowering steps
 * like those that brought it to rest. Returns the largest movement left of the points `rim`, m (a belly that falls into other folds hangs no differently); null
 * where a way back was not followed to rest, so that nothing can be said. Leaves friction and gravity as they were.
 */
export function* swingFourWays(
  sys: System,
  { x, formulation }: Pick<RestState, 'x' | 'formulation'>,
  rim: Uint32Array,
  progress?: SettleOptions['progress'],
): Work<number | null> {
  const rest = sys.model.gravity,
    friction = frictionState(sys),
    mouth = pick(x, rim);
  let worst: number | null = 0;
  for (let s = 0; s < SIDES && worst !== null; s++) {
    const y = x.slice();
    let told = true;
    const swing = (tolerance: number, half: number): Work<PseudoTransientResult> =>
      pseudoTransientSteps(sys, y, {
        ...HUNG_STEPS,
        formulation,
        tolerance,
        maxIterations: MAX_STEPS,
        watch: (k, _, at) => {
          told = progress?.('nudged', (s + (half + k / MAX_STEPS) / 2) / 4, at) !== false;
          return told;
        },
      });
    sys.acceleration.set(nudged(rest, s));
    yield* swing(ASIDE, 0);
    sys.acceleration.set(rest);
    const back = told ? yield* swing(Math.max(REST, 1e-3), 1) : null;
    worst = back?.status === 'settled' ? Math.max(worst, largestMovement(pick(y, rim), mouth)) : null;
    restoreState(sys, x, friction);
  }
  return worst;
}

const pick = (x: Float64Array, points: Uint32Array): Float64Array =>
  Float64Array.from({ length: 3 * points.length }, (_, i) => x[3 * points[(i / 3) | 0]! + (i % 3)]!);
