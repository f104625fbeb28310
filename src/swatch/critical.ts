import { createSystem, forces, newtonDirection, pseudoTransient } from '../solver/index.ts';
import type { Formulation, Model } from '../solver/types.ts';

/**
 * Factor at which a stiffness, positive below it, falls to zero: by the chord of the last two over factor^power, never going past it (the stiffness is NaN
 * there), halting each time 0.5 % short. NaN when 24 steps do not find it. Parameters: stiffness of a factor; a factor surely below the sought one; power.
 */
export function firstZero(stiffness: (factor: number) => number, from: number, power: 1 | 2): number {
  let [before, now, tooMuch] = [from, from * 1.05, Number.POSITIVE_INFINITY];
  let kBefore = stiffness(before);
  for (let it = 0; it < 24; it++) {
    const k = stiffness(now);
    if (!(k > 0)) {
      // The chord overshot: stiffness bends down where another softening goes before.
      tooMuch = now;
      now = (before + now) / 2;
      continue;
    }
    const [p, q] = power === 1 ? [before, now] : [before * before, now * now];
    const there = q - (k * (q - p)) / (k - kBefore);
    const zero = Math.min(tooMuch, power === 1 ? there : Math.sqrt(there));
    // At 1 % from it the chord's zero is good to the square of that.
    if (zero - now < 0.01 * zero) return zero;
    [before, kBefore] = [now, k];
    now = Math.min(Math.max(now, zero * 0.995), (now + tooMuch) / 2);
  }
  return Number.NaN;
}

/** What a search for the load of buckling found. */
export interface Critical {
  /** Weight at which the straight state gives way, over the true weight. */ readonly factor: number;
  readonly status: 'settled' | 'notConverged' | 'diverged';
  readonly residual: number;
  /** 3n, the straight state nearest to it. */ readonly x: Float64Array;
}

/**
 * Factor on gravity at which a straight state loses its stability, without ever going past it: the compliance c to a small sideways pull grows
 * without bound there, and 1/c falls to zero nearly in a straight line over factor^power (Southwell 1932). Settles the straight state at rising weights
 * and follows the chord of 1/c to zero, halting each time 0.5 % short of it.
 * Parameters: model; formulation of its edges; straight start; sideways direction; a factor surely below the sought one; power 1 where the sign of the weight matters,
 * 2 where it does not (tipping over sideways).
 */
export function criticalFactor(
  model: Model,
  formulation: Formulation,
  start: Float64Array,
  side: readonly [number, number, number],
  from: number,
  power: 1 | 2,
): Critical {
  const sys = createSystem(model);
  // A second system keeps the factor of the lightest state as preconditioner: nearer the critical weight the factorised matrix, which only
  // resembles the exact operator, gives out first (by 17 % of the load on structured meshes).
  const probe = createSystem(model);
  const x = start.slice();
  const N = x.length;
  const g = new Float64Array(N);
  const d = new Float64Array(N);
  let status: Critical['status'] = 'settled';
  let residual = 0;
  const stiffness = (factor: number): number => {
    for (let k = 0; k < 3; k++) sys.acceleration[k] = probe.acceleration[k] = model.gravity[k] * factor;
    const how = { formulation, tolerance: 1e-5, dt: 1, grow: 100, dtMax: 1e8, cap: 0.005, monotone: false, maxIterations: 40, cg: 1e-6 };
    const r = pseudoTransient(sys, x, how);
    status = r.status;
    residual = r.residual;
    forces(probe, x, g, formulation);
    for (let v = 0; v < model.vertexCount; v++) for (let k = 0; k < 3; k++) g[3 * v + k] = model.held[v] ? 0 : -model.mass[v] * side[k];
    const step = newtonDirection(probe, g, d, { massFactor: 0, predicted: null, tolerance: 1e-4, positive: false, keepFactor: true });
    if (!step.ok || step.projected) return Number.NaN;
    let work = 0;
    for (let i = 0; i < N; i++) work -= g[i] * d[i];
    return 1 / work;
  };
  const factor = firstZero(stiffness, from, power);
  return { factor, status: Number.isNaN(factor) ? 'notConverged' : status, residual, x };
}
