import { giveBack, gripOf } from '../system.ts';
import type { Work } from '../work.ts';
import { proved } from './probe.ts';
import { type RelaxOptions, type RelaxResult, relaxing } from './pseudo-transient.ts';
import { CRUMPLED, furthest, GIVEN_WAY, heightKept, leftAlone, newton, type Run, TRUSTED, tell } from './settle-run.ts';

/** The flow's first step, s, its growth and longest movement, m, and its most steps: the procedure that gave one answer over meshes and seeds. */
const FLOW = { dt: 0.01, grow: 1.6, cap: 0.005 } as const;
const FLOW_STEPS = 400;
/** Steps with CG at its limit (RelaxOptions.hard) after which arcs are given up on the flow. */
const HARD = 5;

/**
 * Energy-lowering steps from x (mutated), none longer than 5 mm: near the threshold a bag has several rest shapes, and a path that never gains energy
 * takes the same one on every mesh (a fall overshoots: one box stood from D = 2.0e-4 on one mesh and 3.5e-4 N*m on another). Left when the bag has
 * given way. Where its folds get tighter than the mesh's arcs can follow, the arcs' stiffness is nothing that the factor knows: CG runs to its limit in
 * every step and 400 such steps lead nowhere. From there plain triangles go on; what they bring to rest nearly whole is asked again with arcs: by Newton steps,
 * and where those stray (plain triangles lock, and hold up what arcs let go) by energy-lowering ones.
 */
export function* flow(run: Run, x: Float64Array): Work<RelaxResult> {
  const { sys, o } = run,
    wanted = sys.el.arcs,
    height = () => heightKept(o.watch, x);
  const whole = yield* lower(run, x, wanted ? { hard: HARD } : {});
  if (run.cancelled || whole.status !== 'notConverged' || !wanted || height() < GIVEN_WAY || leftAlone(run, x)) return whole;
  sys.el.arcs = false;
  const plain = yield* lower(run, x);
  if (run.cancelled || plain.status !== 'settled' || height() < CRUMPLED) return plain;
  sys.el.arcs = true;
  const y = x.slice(),
    grip = gripOf(sys),
    again = yield* newton(run, y, 'settling', x, 25);
  if (again.status === 'settled' && again.stable && furthest(y, x) < TRUSTED) {
    x.set(y);
    return again;
  }
  if (run.cancelled) return again;
  // What plain triangles held up by locking goes further than Newton steps are trusted.
  y.set(x);
  giveBack(sys, x, grip);
  const further = yield* lower(run, y, { hard: HARD });
  if (run.cancelled || (further.status === 'settled' && further.stable) || heightKept(o.watch, y) < GIVEN_WAY) {
    x.set(y);
    return further;
  }
  sys.el.arcs = false;
  giveBack(sys, x, grip);
  return plain;
}

/** Where the flow ends besides rest and FLOW_STEPS. */
interface Ends extends Pick<RelaxOptions, 'hard' | 'creeping'> {
  /** Height kept; default GIVEN_WAY. */ readonly least?: number;
}

/** The flow's steps from x (mutated). */
export function* lower(run: Run, x: Float64Array, { least = GIVEN_WAY, ...ends }: Ends = {}): Work<RelaxResult> {
  const r = yield* relaxing(run.sys, x, {
    tolerance: run.tolerance,
    ...FLOW,
    dtMax: 1e4,
    monotone: true,
    correct: true,
    maxIterations: FLOW_STEPS,
    cg: 1e-2,
    ...ends,
    watch: (k, _, at) => tell(run, 'settling', k / FLOW_STEPS, at) && heightKept(run.o.watch, at) >= least && !leftAlone(run, at),
  });
  run.iterations += r.iterations;
  return proved(run.sys, r, x);
}
