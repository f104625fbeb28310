import { giveBack, gripOf, type System } from '../system.ts';
import type { Work } from '../work.ts';
import { type RelaxOptions, type RelaxResult, relaxing } from './pseudo-transient.ts';
import { furthest } from './settle-run.ts';

/** Energy-lowering steps of a bag on its straps. */
export const HUNG_STEPS = { dt: 0.02, grow: 2, dtMax: 1e4, cap: 0.02, monotone: true, regrip: true, cg: 1e-2 } as const satisfies Partial<RelaxOptions>;

/** Residual to which the plain triangles are brought before arcs are asked: their shape is then within a millimetre of the last one. */
const ROUGH = 1e-2;
/** Most steps of each of the two runs. */
const MOST = 800;
/** Residual from which the last steps may be plain Newton steps, and how far those may move anything, m. */
const NEAR = 1e-2;
const SAME = 1e-3;

/**
 * Brings a bag on its straps (x, mutated) to rest by energy-lowering steps alone. Big Newton steps, which serve a standing bag well, end in a two-step
 * cycle where a tight strap lifts off the bar and comes back (measured: residual 370 for ever); a fall swings for seconds, because a strap's points weigh
 * next to nothing. Plain triangles first, then arc-corrected edges. Returns the last run, with the steps of both.
 */
export function* hanging(
  sys: System,
  x: Float64Array,
  tolerance: number,
  tell: (stage: string, fraction: number, x: Float64Array) => boolean,
): Work<RelaxResult> {
  const wanted = sys.el.arcs;
  let told = true;
  const run = (stage: string, to: number, from: number): Work<RelaxResult> =>
    relaxing(sys, x, {
      ...HUNG_STEPS,
      tolerance: to,
      maxIterations: MOST,
      watch: (k, _, at) => {
        told = tell(stage, (from + k) / (2 * MOST), at);
        return told;
      },
    });
  sys.el.arcs = false;
  const rough = yield* run('hanging', wanted ? ROUGH : tolerance, 0);
  sys.el.arcs = wanted;
  if (!wanted || !told || rough.status === 'diverged') return rough;
  const fine = yield* run('settling', tolerance, rough.iterations);
  const steps = rough.iterations + fine.iterations;
  if (!told || fine.status !== 'notConverged' || fine.residual > NEAR) return { ...fine, iterations: steps };
  // Where energies differ by less than rounding no step is taken to lower them; this near, plain Newton steps end it or change nothing.
  const y = x.slice(),
    grip = gripOf(sys);
  const last = yield* relaxing(sys, y, { tolerance, dt: 1, grow: 10, dtMax: 1e4, cap: 0.005, monotone: false, maxIterations: 25, cg: 1e-3 });
  if (last.status === 'settled' && furthest(y, x) < SAME) {
    x.set(y);
    return { ...last, iterations: steps + last.iterations };
  }
  giveBack(sys, x, grip);
  return { ...fine, iterations: steps + last.iterations };
}
