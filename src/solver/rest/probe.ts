import { downhill, forces, type System } from '../system.ts';
import type { RelaxResult } from './pseudo-transient.ts';

/** Seed of the load that a balance is probed with. */
const SEED = 0x51ab;

/** mulberry32, -1..1. */
function noise(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2147483648 - 1;
  };
}

/**
 * The way in which a state at rest gives, scaled to a largest movement of 1 m (3n), where it is an unstable balance such as a strip that stands straight
 * above its buckling load; null where it is stable, undefined where that cannot be told (downhill). Found by asking for the answer to a load of chance (seeded): the pivots of the preconditioner's matrix,
 * which tell the solver's `stable`, miss some and give out early at others. Costs a factorisation and some tens of products.
 */
export function givesWay(sys: System, x: Float64Array): Float64Array | null | undefined {
  const g = new Float64Array(x.length),
    next = noise(SEED);
  forces(sys, x, g);
  for (let i = 0; i < g.length; i++) g[i] = sys.model.held[(i / 3) | 0] ? 0 : sys.unit * next();
  const d = downhill(sys, g);
  if (d === undefined) return undefined;
  let largest = 0;
  for (const v of d ?? []) largest = Math.max(largest, Math.abs(v));
  return d && largest > 0 && Number.isFinite(largest) ? d.map((v) => v / largest) : null;
}

/**
 * A result at x that was not found stable, probed: pivots of the preconditioner's matrix turn negative where folds press long before the exact Hessian does (a backpack
 * in muslin lay at rest to 2e-9 through 10 s of fall, taken for a balance about to give). Call with what touches at x known. Rigid contents, which may roll freely, keep the pivots' word.
 */
export const proved = (sys: System, r: RelaxResult, x: Float64Array): RelaxResult =>
  r.status !== 'settled' || r.stable || sys.bodies ? r : { ...r, stable: givesWay(sys, x) === null };
