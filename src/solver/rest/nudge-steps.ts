import { frictionState, restoreState } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import { pseudoTransientSteps } from './pseudo-transient.ts';
import { largestMovement, MAX_PROJECTED, TRUST_RADIUS } from './settle-run.ts';

/** What all steps under a nudge share. */
const common = (formulation: Formulation, tolerance: number) => ({ formulation, tolerance, dtMax: 1e4, cap: 0.005, cg: 1e-2 });

/** Stages in which a nudge that moves the bag far is laid on, and taken off again. */
const RAMP = 2;
/**
 * First pseudo-time step of a stage, s. Boxes of 500 to 2000 uN m at 20 mm: with three stages from 0.02 s 26 to 37 % more directions than with two from 0.5 s, the movement left the same to 0.02 mm;
 * with one stage those that move by more than TRUST_RADIUS are left to the descent.
 */
const RAMP_FROM = 0.5;

/** How a nudge was laid on: with the factor at hand, up a ramp, by descent; null: it did not come to rest. */
export type Way = 'near' | 'ramp' | 'descent' | null;

/**
 * Settles y (mutated) under the acceleration `to` from rest under `from`: first with the factor at hand, unless that is known to be in vain (`far`); then by Newton steps up a ramp, each stage staying within
 * TRUST_RADIUS of the one before, so that no other rest shape is jumped to; then by monotone descent.
 */
export function* settleUnder(
  sys: System,
  y: Float64Array,
  formulation: Formulation,
  tolerance: number,
  from: readonly number[],
  to: readonly number[],
  far: boolean,
): Work<Way> {
  const start = y.slice(),
    friction = frictionState(sys);
  if (!far) {
    sys.acceleration.set(to);
    const near = yield* pseudoTransientSteps(sys, y, {
      ...common(formulation, tolerance),
      dt: 1e4,
      grow: 1,
      monotone: false,
      maxIterations: 12,
      keepFactor: true,
      watch: halving(),
    });
    if (near.status === 'settled' && largestMovement(y, start) < TRUST_RADIUS) return 'near';
    y.set(start);
    restoreState(sys, start, friction);
  }
  if (yield* ramp(sys, y, formulation, tolerance, from, to)) return 'ramp';
  y.set(start);
  restoreState(sys, start, friction);
  sys.acceleration.set(to);
  const slow = yield* pseudoTransientSteps(sys, y, {
    ...common(formulation, tolerance),
    dt: 0.02,
    grow: 2,
    monotone: true,
    correct: true,
    maxIterations: 150,
  });
  return slow.status === 'settled' ? 'descent' : null;
}

function* ramp(sys: System, y: Float64Array, formulation: Formulation, tolerance: number, from: readonly number[], to: readonly number[]): Work<boolean> {
  const before = new Float64Array(y.length);
  for (let k = 1; k <= RAMP; k++) {
    for (let c = 0; c < 3; c++) sys.acceleration[c] = from[c]! + ((to[c]! - from[c]!) * k) / RAMP;
    before.set(y);
    const r = yield* pseudoTransientSteps(sys, y, {
      ...common(formulation, tolerance),
      dt: RAMP_FROM,
      grow: 10,
      monotone: false,
      maxProjected: MAX_PROJECTED,
      maxIterations: 25,
    });
    if (r.status !== 'settled' || !r.stable || largestMovement(y, before) >= TRUST_RADIUS) return false;
  }
  return true;
}

/**
 * Goes on while each two steps at least halve the residual: with an old factor, what does not is not going to arrive. One step alone may do less where the sheet
 * has turned and is only then found to be strained: of 8 oz canvas as lining it went 455, 108, 57, 9, 0.02.
 */
function halving(): (step: number, residual: number) => boolean {
  let [before, last] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  return (_, residual) => {
    const goes = residual < before / 2;
    [before, last] = [last, residual];
    return goes;
  };
}
