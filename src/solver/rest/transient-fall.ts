import { forces, residualOf } from '../system.ts';
import type { Work } from '../work.ts';
import { lower } from './monotone-descent.ts';
import { proved } from './probe.ts';
import { type RelaxResult, relax } from './pseudo-transient.ts';
import { CRUMPLED, finish, furthest, heightKept, leftAlone, newton, type RestState, type Run, TRUSTED, tell } from './settle-run.ts';
import { fallOf } from './watched-fall.ts';

/** Step of the fall to rest, s, and its damping: implicit Euler itself damps at this step; the drag stops the last swinging. */
const FALL_STEP = 1 / 30;
const FALL_DRAG = 3;
/**
 * Simulated time, s, after which a fall is tried to be let down to rest by energy-lowering steps, and every how much again. Where folds touch, steps of real time
 * jerk on while those arrive (a flat tote in heavy canvas: 66 s of fall, 3 s of 50 such steps); sooner the thing still topples, and 400 of them do not follow it.
 */
const EASE = 1.5;
const EASE_AGAIN = 1;
/**
 * Steps of letting down after which a fall goes on where they still creep: of eleven soft bags at 20 mm three took 6, 15 and 21 % fewer factorisations for it, three 1-2 % more, the
 * others the same (before: four hundred steps at a time). No cure for the slowest heaps: a flat tote of 1933 points in muslin takes 114 s either way.
 */
const CREEPS = 80;
/** Speed, m/s, below which a sheet is about to rest. */
const STILL = 0.02;
/** Longest fall, s. */
const FALL_TIME = 10;

/**
 * Lets x (mutated) fall, and from EASE on down to rest by energy-lowering steps. Plain triangles first: they fall fast and hold their folds. What comes to rest nearly whole is then asked again
 * with arc-corrected edges, which may let go of a wall that plain triangles held up (they lock); a crumpled heap stays as it is.
 */
export function* sink(run: Run, x: Float64Array): Work<RestState> {
  const { sys, o } = run,
    wanted = sys.el.arcs,
    begin = () => fallOf(sys, x, { iterations: 3, drag: FALL_DRAG }),
    height = () => heightKept(o.watch, x);
  sys.el.arcs = false;
  const g = new Float64Array(x.length);
  let fall = begin(),
    tryAt = 0.3,
    failed = 0,
    easeAt = EASE;
  for (let t = 0; t < FALL_TIME; ) {
    yield;
    if (t >= easeAt) {
      sys.el.arcs = false;
      const down = yield* lower(run, x, { least: Number.NEGATIVE_INFINITY, creeping: CREEPS });
      if (run.cancelled) break;
      if (down.status === 'settled' && down.stable && !(wanted && height() >= CRUMPLED)) return finish(run, down, x, 'fall', false);
      fall = begin();
      easeAt = t + EASE_AGAIN;
    }
    const { speed, iterations, exact } = fall.step(FALL_STEP);
    t += FALL_STEP;
    run.iterations += iterations;
    x.set(fall.x);
    if (!tell(run, 'sinking', t / FALL_TIME, x) || !Number.isFinite(speed) || leftAlone(run, x)) break;
    if (speed > 3 * STILL || t < tryAt) continue;
    const whole = wanted && height() >= CRUMPLED;
    if (whole && !sys.el.arcs && failed < 2) {
      if (speed > STILL) continue;
      sys.el.arcs = true;
      tryAt = t + 0.2;
      fall = begin();
    }
    const energies = forces(sys, x, g),
      residual = residualOf(sys, g);
    if (residual < run.tolerance) {
      const still = proved(sys, { status: 'settled', residual, iterations: 0, energies, stable: exact }, x);
      if (still.stable) return finish(run, still, x, 'fall', false);
    }
    if (speed > STILL / 4) continue;
    const y = x.slice(),
      near = yield* newton(run, y, 'settling', x, 25);
    if (run.cancelled) break;
    if (near.status === 'settled' && near.stable && furthest(y, x) < TRUSTED) return finish(run, near, y, 'fall', false);
    // Folds tighter than an arc can follow show as Newton steps that do not settle, long before the height says so.
    if (++failed === 2) sys.el.arcs = false;
    tryAt = t + 0.3;
    fall = begin();
  }
  // The longest fall is over in the midst of a step: let down for as long as it takes, so that what is told is at rest or near it.
  if (!run.cancelled && !leftAlone(run, x) && x.every(Number.isFinite)) {
    sys.el.arcs = false;
    const down = yield* lower(run, x, { least: Number.NEGATIVE_INFINITY });
    if (!run.cancelled && down.status === 'settled' && down.stable && !(wanted && height() >= CRUMPLED)) return finish(run, down, x, 'fall', false);
  }
  const end = proved(sys, measured(run, x), x);
  return finish(run, end, x, 'fall', end.status !== 'settled' && height() < 0.5);
}

/** The state as it is: residual and energies without a step. */
function measured(run: Run, x: Float64Array): RelaxResult {
  return relax(run.sys, x, { tolerance: run.tolerance, dt: 1, grow: 1, dtMax: 1, cap: TRUSTED, monotone: true, maxIterations: 0 });
}
