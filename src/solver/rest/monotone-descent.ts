import { frictionState, restoreState } from '../contact-state.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import { type PseudoTransientOptions, type PseudoTransientResult, pseudoTransientSteps } from './pseudo-transient.ts';
import { COLLAPSED, CRUMPLED, heightKept, largestMovement, lowered, newton, notFollowed, type Run, report, TRUST_RADIUS } from './settle-run.ts';
import { recheckStability } from './stability.ts';

/** The descent's first step, s, its growth and longest movement, m, and its most steps: the procedure that gave one answer over meshes and seeds. */
const DESCENT = { dt: 0.01, grow: 1.6, cap: 0.005 } as const;
const MAX_STEPS = 400;
/** Steps with CG at its limit (PseudoTransientOptions.maxUnsolved) after which the descent goes on with plain triangles. */
const MAX_UNSOLVED = 5;

/**
 * Monotone descent: energy-lowering steps from x (mutated), none longer than 5 mm. Near the threshold a bag has several rest shapes, and a path that never gains
 * energy takes the same one on every mesh (a fall overshoots: one box stood from D = 2.0e-4 on one mesh and 3.5e-4 N*m on another). Left when the bag has
 * collapsed. Where its folds get tighter than the mesh's arcs can follow, the arcs' stiffness is nothing that the factor knows: CG runs to its limit in
 * every step and 400 such steps lead nowhere. From there plain triangles go on; what they bring to rest nearly whole is asked again with arcs: by Newton steps,
 * and where those stray (plain triangles lock, and hold up what arcs let go) by energy-lowering ones. The result tells the formulation that it ended in.
 */
export function* monotoneDescent(run: Run, x: Float64Array): Work<PseudoTransientResult> {
  const { sys, o } = run,
    corrected = run.formulation === 'arc-corrected',
    height = () => heightKept(o.watch, x);
  const whole = yield* descend(run, x, run.formulation, corrected ? { maxUnsolved: MAX_UNSOLVED } : {});
  if (run.cancelled || whole.status !== 'notConverged' || !corrected || height() < COLLAPSED || notFollowed(run, x)) return whole;
  const plain = yield* descend(run, x, 'plain');
  if (run.cancelled || plain.status !== 'settled' || height() < CRUMPLED) return plain;
  const y = x.slice(),
    friction = frictionState(sys),
    again = yield* newton(run, y, run.formulation, 'settling', x, 25);
  if (again.status === 'settled' && again.stable && largestMovement(y, x) < TRUST_RADIUS) {
    x.set(y);
    return again;
  }
  if (run.cancelled) return again;
  // What plain triangles held up by locking goes further than Newton steps are trusted.
  y.set(x);
  restoreState(sys, x, friction);
  const further = yield* descend(run, y, run.formulation, { maxUnsolved: MAX_UNSOLVED });
  if (run.cancelled || (further.status === 'settled' && further.stable) || heightKept(o.watch, y) < COLLAPSED) {
    x.set(y);
    return further;
  }
  restoreState(sys, x, friction);
  return plain;
}

/** Where the descent ends besides rest and MAX_STEPS. */
interface Ends extends Pick<PseudoTransientOptions, 'maxUnsolved' | 'maxShortSteps'> {
  /** Height kept; default COLLAPSED. */ readonly least?: number;
}

/** The descent's steps from x (mutated), in one formulation. */
export function* descend(run: Run, x: Float64Array, formulation: Formulation, { least = COLLAPSED, ...ends }: Ends = {}): Work<PseudoTransientResult> {
  const r = yield* pseudoTransientSteps(run.sys, x, {
    formulation,
    tolerance: run.tolerance,
    ...DESCENT,
    dtMax: 1e4,
    monotone: true,
    correct: true,
    maxIterations: MAX_STEPS,
    cg: 1e-2,
    ...ends,
    watch: (k, _, at) => report(run, 'settling', k / MAX_STEPS, at) && lowered(run, at) && heightKept(run.o.watch, at) >= least && !notFollowed(run, at),
  });
  run.iterations += r.iterations;
  return yield* recheckStability(run.sys, r, x);
}
