import { createRunning } from '../contact/support/running.ts';
import { frictionState, restoreState } from '../contact-state.ts';
import type { System } from '../system.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import { type PseudoTransientOptions, type PseudoTransientResult, pseudoTransientSteps } from './pseudo-transient.ts';
import { largestMovement } from './settle-run.ts';

/** Energy-lowering steps of a bag on its straps. */
export const HUNG_STEPS = {
  dt: 0.02,
  grow: 2,
  dtMax: 1e4,
  cap: 0.02,
  monotone: true,
  energyAfterFriction: true,
  cg: 1e-2,
} as const satisfies Partial<PseudoTransientOptions>;

/** Residual to which plain triangles are brought before arc-corrected ones: their shape is then within a millimetre of the last one. */
const PLAIN_TOLERANCE = 1e-2;
/** Most steps of the run with plain triangles, and of those with arcs; what is left of these for the last one at least. */
const MAX_STEPS = 800;
const LEFT_STEPS = 300;
/** Residual from which the last steps may be plain Newton steps, and how far those may move anything, m. */
const NEWTON_BELOW = 1e-2;
const SAME_SHAPE = 1e-3;

/**
 * Brings a bag on its straps (x, mutated) to rest by energy-lowering steps alone. Big Newton steps, which serve a standing bag well, end in a two-step
 * cycle where a tight strap lifts off the bar and comes back (measured: residual 370 for ever); a fall swings for seconds, because a strap's points weigh
 * next to nothing. Plain triangles first, then the formulation asked for; on both ways straps run freely over what they lie on, held by their highest point
 * (contact/support/running.ts), and only then friction holds them where they are. Returns the last run, with the steps of all.
 */
export function* hanging(
  sys: System,
  x: Float64Array,
  tolerance: number,
  formulation: Formulation,
  report: (stage: string, fraction: number, x: Float64Array) => boolean,
): Work<PseudoTransientResult> {
  let goesOn = true;
  const run = (stage: string, as: Formulation, to: number, from: number, most = MAX_STEPS): Work<PseudoTransientResult> =>
    pseudoTransientSteps(sys, x, {
      ...HUNG_STEPS,
      formulation: as,
      tolerance: to,
      maxIterations: most,
      watch: (k, _, at) => {
        goesOn = report(stage, (from + k) / (2 * MAX_STEPS), at);
        return goesOn;
      },
    });
  const { contact, model } = sys;
  contact.running = model.cables ? createRunning(model.cables, x) : null;
  const rough = yield* run('hanging', 'plain', PLAIN_TOLERANCE, 0);
  const even =
    goesOn && rough.status !== 'diverged' && formulation !== 'plain' ? yield* run('settling', formulation, PLAIN_TOLERANCE, rough.iterations) : rough;
  contact.running = null;
  if (!goesOn || even.status === 'diverged') return even;
  const before = even === rough ? rough.iterations : rough.iterations + even.iterations;
  const fine = yield* run('settling', formulation, tolerance, before, Math.max(LEFT_STEPS, MAX_STEPS - even.iterations));
  const steps = before + fine.iterations;
  if (!goesOn || fine.status !== 'notConverged' || fine.residual > NEWTON_BELOW) return { ...fine, iterations: steps };
  // Where energies differ by less than rounding no step is taken to lower them; this near, plain Newton steps end it or change nothing.
  const y = x.slice(),
    friction = frictionState(sys);
  const last = yield* pseudoTransientSteps(sys, y, {
    formulation,
    tolerance,
    dt: 1,
    grow: 10,
    dtMax: 1e4,
    cap: 0.005,
    monotone: false,
    maxIterations: 25,
    cg: 1e-3,
  });
  if (last.status === 'settled' && largestMovement(y, x) < SAME_SHAPE) {
    x.set(y);
    return { ...last, iterations: steps + last.iterations };
  }
  restoreState(sys, x, friction);
  return { ...fine, iterations: steps + last.iterations };
}
