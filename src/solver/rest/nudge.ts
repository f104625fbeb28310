import { frictionState, resetFriction, restoreState, updateAnchors } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import { HUNG_STEPS } from './hang.ts';
import { type PseudoTransientResult, pseudoTransientSteps } from './pseudo-transient.ts';
import { largestMovement, MAX_PROJECTED, REST, type RestState, type SettleOptions, TRUST_RADIUS } from './settle-run.ts';

/** Lateral gravity of the nudge test as a fraction of g: a few per cent, what a hand brushing past does (common practice, no source). */
export const NUDGE = 0.03;
/** Movement left after a nudge, m, that still counts as having come back: half of a maker's tolerance of 5 mm. */
export const CAME_BACK = 0.0025;
/** Sides a nudge comes from. */
const SIDES = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;

/** Gravity and the nudge's pull from side s, m/s2. */
const nudged = (rest: readonly [number, number, number], s: number): [number, number, number] => {
  const g = Math.hypot(...rest);
  return [rest[0] + SIDES[s]![0] * NUDGE * g, rest[1] + SIDES[s]![1] * NUDGE * g, rest[2]];
};

/**
 * Pulls sideways from four sides, lets go each time, and returns the largest movement left, m (Infinity: it went over or did not settle).
 * The factor at hand serves as preconditioner until CG takes longer for it than a new one would: the states differ little as long as the bag stands.
 */
export function* nudgeFourWays(sys: System, { x, formulation }: Pick<RestState, 'x' | 'formulation'>, o: Pick<SettleOptions, 'progress'>): Work<number> {
  let worst = 0;
  const sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount);
  for (let s = 0; s < 4; s++) {
    sys.acceleration.set(sys.model.gravity);
    // Friction starts afresh each time, from the rest state.
    resetFriction(sys);
    updateAnchors(sys, x);
    const rest = sys.model.gravity,
      side = nudged(rest, s);
    const y = x.slice(),
      away = yield* settleUnder(sys, y, formulation, 1e-3, rest, side),
      back = away && (yield* settleUnder(sys, y, formulation, Math.max(REST, 1e-3), side, rest));
    sys.acceleration.set(rest);
    // A ball that rolls on in the bag is no matter of the bag's.
    worst = Math.max(worst, back ? largestMovement(y.subarray(0, sheet), x) : Number.POSITIVE_INFINITY);
    if (o.progress?.('nudged', (s + 1) / 4, y) === false || worst === Number.POSITIVE_INFINITY) break;
  }
  return worst;
}

/** Steps in which a nudge that moves the bag far is laid on, and taken off again. */
const RAMP = 3;

/**
 * Settles y (mutated) under the pull `to` from rest under `from`: first with the factor at hand; then by Newton steps up a ramp, each stage staying within
 * TRUST_RADIUS of the one before, so that no other rest shape is jumped to; then by steps that lower the energy.
 */
function* settleUnder(
  sys: System,
  y: Float64Array,
  formulation: Formulation,
  tolerance: number,
  from: readonly number[],
  to: readonly number[],
): Work<boolean> {
  const start = y.slice(),
    friction = frictionState(sys);
  sys.acceleration.set(to);
  const near = yield* pseudoTransientSteps(sys, y, {
    formulation,
    tolerance,
    dt: 1e4,
    grow: 1,
    dtMax: 1e4,
    cap: 0.005,
    monotone: false,
    maxIterations: 12,
    cg: 1e-2,
    keepFactor: true,
    watch: halving(),
  });

  if (near.status === 'settled' && largestMovement(y, start) < TRUST_RADIUS) return true;
  y.set(start);
  restoreState(sys, start, friction);
  if (yield* ramp(sys, y, formulation, tolerance, from, to)) return true;
  y.set(start);
  restoreState(sys, start, friction);
  sys.acceleration.set(to);
  const slow = yield* pseudoTransientSteps(sys, y, {
    formulation,
    tolerance,
    dt: 0.02,
    grow: 2,
    dtMax: 1e4,
    cap: 0.005,
    monotone: true,
    maxIterations: 150,
    cg: 1e-2,
  });
  return slow.status === 'settled';
}

function* ramp(sys: System, y: Float64Array, formulation: Formulation, tolerance: number, from: readonly number[], to: readonly number[]): Work<boolean> {
  const before = new Float64Array(y.length);
  for (let k = 1; k <= RAMP; k++) {
    for (let c = 0; c < 3; c++) sys.acceleration[c] = from[c]! + ((to[c]! - from[c]!) * k) / RAMP;
    before.set(y);
    const r = yield* pseudoTransientSteps(sys, y, {
      formulation,
      tolerance,
      dt: 0.02,
      grow: 10,
      dtMax: 1e4,
      cap: 0.005,
      monotone: false,
      maxProjected: MAX_PROJECTED,
      maxIterations: 25,
      cg: 1e-2,
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

/** Most steps of a swing aside, and of the way back. */
const MAX_STEPS = 300;
/** Residual to which a swing aside is followed: it is passed through, not judged. */
const ASIDE = 1e-2;

/**
 * The same of a bag on its straps, at rest at x with the grip it has there: it swings aside by some 3 % of its height and back, by energy-lowering steps like those that
 * brought it to rest. Returns the largest movement left of the points `rim`, m (a belly that falls into other folds hangs no differently); null where a way back
 * was not followed to rest, so that nothing can be said. Leaves the grip of x and its pull.
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
  for (let s = 0; s < 4 && worst !== null; s++) {
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
