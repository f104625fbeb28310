import { forces, residualOf } from '../system.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import { descend } from './monotone-descent.ts';
import { type PseudoTransientResult, pseudoTransient } from './pseudo-transient.ts';
import { CRUMPLED, finish, heightKept, largestMovement, lowered, newton, notFollowed, type RestState, type Run, report, TRUST_RADIUS } from './settle-run.ts';
import { recheckStability } from './stability.ts';
import { fallOf } from './watched-fall.ts';

/** Step of the fall to rest, s, and its damping: implicit Euler itself damps at this step; the drag stops the last swinging. */
const FALL_STEP = 1 / 30;
const FALL_DRAG = 3;
/**
 * Simulated time, s, after which a fall is tried to be let down to rest by energy-lowering steps, and every how much again. Where folds touch, steps of real time
 * jerk on while those come to rest (a flat tote in heavy canvas: 66 s of fall, 3 s of 50 such steps); sooner the thing still topples, and 400 of them do not follow it.
 */
const DESCENT_AFTER = 1.5;
const DESCENT_EVERY = 1;
/**
 * Steps of letting down after which a fall goes on where they are still short: of eleven soft bags at 20 mm three took 6, 15 and 21 % fewer factorisations for it,
 * three 1-2 % more, the others the same (before: four hundred steps at a time). No cure for the slowest heaps: a flat tote of 1933 points in muslin takes 114 s either way.
 */
const MAX_SHORT_STEPS = 80;
/** Speed, m/s, below which a sheet is about to rest. */
const SLOW = 0.02;
/** Longest fall, s. */
const FALL_TIME = 10;

/**
 * Transient fall: lets x (mutated) fall with its real masses, and from DESCENT_AFTER on down to rest by energy-lowering steps. Plain triangles first: they fall fast
 * and hold their folds. What comes to rest nearly whole is then asked again in the formulation `wanted`: arc-corrected edges may let go of a wall that plain
 * triangles held up (they lock); a crumpled heap stays as it is.
 */
export function* transientFall(run: Run, x: Float64Array, wanted: Formulation): Work<RestState> {
  const { sys, o } = run,
    corrected = wanted === 'arc-corrected',
    height = () => heightKept(o.watch, x),
    heap = (r: PseudoTransientResult) => r.status === 'settled' && r.stable && !(corrected && height() >= CRUMPLED);
  const g = new Float64Array(x.length);
  let formulation: Formulation = 'plain';
  const begin = () => fallOf(sys, x, { formulation, iterations: 3, drag: FALL_DRAG });
  let fall = begin(),
    tryAt = 0.3,
    failed = 0,
    descentAt = DESCENT_AFTER;
  for (let t = 0; t < FALL_TIME; ) {
    yield;
    if (t >= descentAt) {
      formulation = 'plain';
      const down = yield* descend(run, x, formulation, { least: Number.NEGATIVE_INFINITY, maxShortSteps: MAX_SHORT_STEPS });
      if (run.cancelled) break;
      if (heap(down)) return finish(run, down, x, 'fall', false);
      fall = begin();
      descentAt = t + DESCENT_EVERY;
    }
    const { speed, iterations, exact } = yield* fall.stepping(FALL_STEP);
    t += FALL_STEP;
    run.iterations += iterations;
    x.set(fall.x);
    if (!report(run, 'sinking', t / FALL_TIME, x) || !lowered(run, x) || !Number.isFinite(speed) || notFollowed(run, x)) break;
    if (speed > 3 * SLOW || t < tryAt) continue;
    const whole = corrected && height() >= CRUMPLED;
    if (whole && formulation === 'plain' && failed < 2) {
      if (speed > SLOW) continue;
      formulation = wanted;
      tryAt = t + 0.2;
      fall = begin();
    }
    const energies = forces(sys, x, g, formulation),
      residual = residualOf(sys, g);
    if (residual < run.tolerance) {
      const still = yield* recheckStability(sys, { status: 'settled', formulation, residual, iterations: 0, energies, stable: exact }, x);
      if (still.stable) return finish(run, still, x, 'fall', false);
    }
    if (speed > SLOW / 4) continue;
    const y = x.slice(),
      near = yield* newton(run, y, formulation, 'settling', x, 25);
    if (run.cancelled) break;
    if (near.status === 'settled' && near.stable && largestMovement(y, x) < TRUST_RADIUS) return finish(run, near, y, 'fall', false);
    // Folds tighter than an arc can follow show as Newton steps that do not settle, long before the height says so.
    if (++failed === 2) formulation = 'plain';
    tryAt = t + 0.3;
    fall = begin();
  }
  // The longest fall is over in the midst of a step: let down for as long as it takes, so that what is told is at rest or near it.
  if (!run.cancelled && !notFollowed(run, x) && x.every(Number.isFinite)) {
    formulation = 'plain';
    const down = yield* descend(run, x, formulation, { least: Number.NEGATIVE_INFINITY });
    if (!run.cancelled && heap(down)) return finish(run, down, x, 'fall', false);
  }
  const end = yield* recheckStability(sys, evaluated(run, x, formulation), x);
  return finish(run, end, x, 'fall', end.status !== 'settled' && height() < 0.5);
}

/** The state as it is: residual and energies without a step. */
function evaluated(run: Run, x: Float64Array, formulation: Formulation): PseudoTransientResult {
  return pseudoTransient(run.sys, x, {
    formulation,
    tolerance: run.tolerance,
    dt: 1,
    grow: 1,
    dtMax: 1,
    cap: TRUST_RADIUS,
    monotone: true,
    maxIterations: 0,
  });
}
