import { seeded } from '../../numerics/index.ts';
import { negativeCurvatureDirection } from '../newton.ts';
import { forces, type System } from '../system.ts';
import type { Formulation } from '../types.ts';
import type { Work } from '../work.ts';
import type { PseudoTransientResult } from './pseudo-transient.ts';

/** Seed of the random load that an equilibrium is probed with. */
const SEED = 0x51ab;

/**
 * The mode in which an equilibrium is unstable, scaled to a largest movement of 1 m (3n), such as the sway of a strip that stands straight above its buckling
 * load; null where it is stable, undefined where that cannot be told (negativeCurvatureDirection). Found by asking for the answer to a random load (seeded):
 * the pivots of the preconditioner's matrix, which tell the solver's `stable`, miss some and fail early at others. Costs a factorisation and some tens of products.
 */
export function* unstableMode(sys: System, x: Float64Array, formulation: Formulation): Work<Float64Array | null | undefined> {
  const g = new Float64Array(x.length),
    next = seeded(SEED);
  forces(sys, x, g, formulation);
  for (let i = 0; i < g.length; i++) g[i] = sys.model.held[(i / 3) | 0] ? 0 : sys.meanWeight * (2 * next() - 1);
  const d = yield* negativeCurvatureDirection(sys, g);
  if (d === undefined) return undefined;
  let largest = 0;
  for (const v of d ?? []) largest = Math.max(largest, Math.abs(v));
  return d && largest > 0 && Number.isFinite(largest) ? d.map((v) => v / largest) : null;
}

/**
 * A result at x that was not found stable, checked by the exact Hessian: pivots of the preconditioner's matrix turn negative where folds press, long before the
 * Hessian does (a backpack in muslin lay at rest to 2e-9 through 10 s of fall, taken for an equilibrium about to give way). Call with what touches at x known.
 * Rigid contents, which may roll freely, keep the pivots' word.
 */
export function* recheckStability(sys: System, r: PseudoTransientResult, x: Float64Array): Work<PseudoTransientResult> {
  return r.status !== 'settled' || r.stable || sys.bodies ? r : { ...r, stable: (yield* unstableMode(sys, x, r.formulation)) === null };
}
