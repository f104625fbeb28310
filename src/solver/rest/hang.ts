import { createRunning } from '../contact/support/running.ts';
import { frictionState, restoreState } from '../contact-state.ts';
import { forces, type System } from '../system.ts';
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
/** How often a strap that lies between two supports is let go once more. */
const ROUNDS = 2;
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
  sys.preconditioner.hangs = true;
  const running = model.cables ? createRunning(model.cables, x) : null;
  contact.running = running;
  const rough = yield* run('hanging', 'plain', PLAIN_TOLERANCE, 0);
  const even =
    goesOn && rough.status !== 'diverged' && formulation !== 'plain' ? yield* run('settling', formulation, PLAIN_TOLERANCE, rough.iterations) : rough;
  contact.running = null;
  if (!goesOn || even.status === 'diverged') return even;
  const before = even === rough ? rough.iterations : rough.iterations + even.iterations;
  const fine = yield* run('settling', formulation, tolerance, before, Math.max(LEFT_STEPS, MAX_STEPS - even.iterations));
  let steps = before + fine.iterations;
  // Between the flanks of a hook a strap sticks before it has sunk in, and locks a pull on the hook after all (2.33 N, its legs 1.57 N): let go again, 1.64 N, and again, 1.60 N.
  let reached = fine;
  for (let round = 0; round < ROUNDS && goesOn && reached.status === 'settled' && wedged(sys); round++) {
    const kept = x.slice(),
      grip = frictionState(sys);
    contact.running = running;
    const loose = yield* run('settling', formulation, PLAIN_TOLERANCE, steps, LEFT_STEPS);
    contact.running = null;
    const again = goesOn && loose.status === 'settled' ? yield* run('settling', formulation, tolerance, steps, LEFT_STEPS) : null;
    steps += loose.iterations + (again?.iterations ?? 0);
    if (again?.status === 'settled') reached = again;
    else {
      x.set(kept);
      restoreState(sys, x, grip);
      forces(sys, x, new Float64Array(x.length), formulation);
      break;
    }
  }
  if (reached.status === 'settled') return { ...reached, iterations: steps };
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

/** Does any point of a strap touch two supports? */
function wedged({ contact, model }: System): boolean {
  const [first, ...others] = contact.distances.map((d, s) => ({ d, reach: model.supports[s]!.offset }));
  if (!first || others.length === 0 || !model.cables) return false;
  const strapPoints = new Set(model.cables.contactEdges);
  for (const v of strapPoints) {
    const touched = [first, ...others].filter(({ d, reach }) => d[v]! < reach).length;
    if (touched > 1) return true;
  }
  return false;
}
