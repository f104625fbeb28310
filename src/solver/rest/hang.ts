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
/** Most steps of each of the two runs. */
const MAX_STEPS = 800;
/** Residual from which the last steps may be plain Newton steps, and how far those may move anything, m. */
const NEWTON_BELOW = 1e-2;
const SAME_SHAPE = 1e-3;

/**
 * Brings a bag on its straps (x, mutated) to rest by energy-lowering steps alone. Big Newton steps, which serve a standing bag well, end in a two-step
 * cycle where a tight strap lifts off the bar and comes back (measured: residual 370 for ever); a fall swings for seconds, because a strap's points weigh
 * next to nothing. Plain triangles first, then the formulation asked for. Returns the last run, with the steps of both.
 */
export function* hanging(
  sys: System,
  x: Float64Array,
  tolerance: number,
  formulation: Formulation,
  report: (stage: string, fraction: number, x: Float64Array) => boolean,
): Work<PseudoTransientResult> {
  let goesOn = true;
  const run = (stage: string, as: Formulation, to: number, from: number): Work<PseudoTransientResult> =>
    pseudoTransientSteps(sys, x, {
      ...HUNG_STEPS,
      formulation: as,
      tolerance: to,
      maxIterations: MAX_STEPS,
      watch: (k, _, at) => {
        goesOn = report(stage, (from + k) / (2 * MAX_STEPS), at);
        return goesOn;
      },
    });
  const corrected = formulation === 'arc-corrected';
  const rough = yield* run('hanging', 'plain', corrected ? PLAIN_TOLERANCE : tolerance, 0);
  if (!corrected || !goesOn || rough.status === 'diverged') return rough;
  const fine = yield* run('settling', formulation, tolerance, rough.iterations);
  const steps = rough.iterations + fine.iterations;
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
