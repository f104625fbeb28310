import { evaluate } from './elastic/elastic.ts';
import { relax, type RelaxResult } from './relax.ts';
import { createSystem, type System } from './system.ts';
import type { Model, Progress, Settled } from './types.ts';

/** Residual (over the mean vertex weight) below which a state may carry a verdict; 1e-2 gives false "stands" (measured). */
export const REST = 1e-4;
/** Movement from the start, m, up to which big Newton steps are trusted not to have jumped to another branch. */
export const TRUSTED = 0.02;

export interface SettleOptions {
  /** Default REST. */ readonly tolerance?: number;
  /** Vertices whose mean height says whether the thing has fallen, and that height at the start, m. */
  readonly watch?: { readonly verts: Uint32Array; readonly height: number };
  readonly progress?: Progress;
  /** Default true, see elastic/arc.ts. */ readonly arcs?: boolean;
  /** Iterations allowed to the flow path; default 600. */ readonly maxIterations?: number;
}

export interface RestState extends RelaxResult {
  readonly x: Float64Array;
  readonly factorisations: number;
  /** Passed below half the watched height and still moving: ended there. */ readonly stillFalling: boolean;
  /** Which path ended: big Newton steps near the start, or the energy-lowering flow. */ readonly path: 'newton' | 'flow';
  readonly cancelled: boolean;
}

/**
 * Settles x0 (3n, not mutated): big mixed-integration-point Newton steps first; if the result lies more than TRUSTED from the start,
 * is unstable or did not settle, again from the start by the flow path (every step lowers the energy, at most 5 mm a step), because
 * near the threshold a bag has several equilibria and the path decides. A flow that passes below half the watched height is ended.
 */
export function rest(sys: System, x0: Float64Array, o: SettleOptions = {}): RestState {
  const tolerance = o.tolerance ?? REST, before = sys.counts.factorisations;
  let x = x0.slice(), cancelled = false;
  const tell = (stage: string, fraction: number) => {
    if (o.progress?.(stage, fraction, x) === false) cancelled = true;
    return !cancelled;
  };
  // The iteration's convergence is fast but not monotone, so only the count says how far a run can still go.
  const quick = relax(sys, x, {
    tolerance, dt: 0.01, grow: 2.5, dtMax: 1e4, cap: TRUSTED, monotone: false, maxIterations: 40, cg: 1e-3,
    watch: (k, _, at) => tell('settling', k / 40) && furthest(at, x0) < 3 * TRUSTED,
  });
  const done = (r: RelaxResult, path: RestState['path'], stillFalling: boolean, iterations: number): RestState => ({
    ...r, iterations, x, path, stillFalling, cancelled, factorisations: sys.counts.factorisations - before,
  });
  if (cancelled || (quick.status === 'settled' && quick.stable && furthest(x, x0) < TRUSTED)) return done(quick, 'newton', false, quick.iterations);
  const moved = furthest(x, x0);
  if (sys.model.supports.length === 0 && quick.status === 'settled' && quick.stable && moved < Number.POSITIVE_INFINITY && !o.watch) {
    // A held strip has one equilibrium to hang in: no second branch to be mistaken for.
    return done(quick, 'newton', false, quick.iterations);
  }
  x = x0.slice();
  return flow(sys, x, o, tolerance, tell, done, quick.iterations);
}

function flow(
  sys: System, x: Float64Array, o: SettleOptions, tolerance: number, tell: (stage: string, f: number) => boolean,
  done: (r: RelaxResult, path: 'flow', stillFalling: boolean, iterations: number) => RestState, spent: number,
): RestState {
  const most = o.maxIterations ?? 600;
  let falling = false;
  const slow = relax(sys, x, {
    tolerance, dt: 0.01, grow: 1.6, dtMax: 1e4, cap: 0.005, monotone: true, maxIterations: most, cg: 1e-2,
    watch: (k, _, at) => {
      if (o.watch && meanHeight(at, o.watch.verts) < 0.5 * o.watch.height) falling = true;
      return tell('sinking', k / most) && !falling;
    },
  });
  return done(slow, 'flow', falling, spent + slow.iterations);
}

/** Largest distance of a vertex from where it was, m. */
export function furthest(a: Float64Array, b: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < a.length; i += 3) {
    const d = (a[i]! - b[i]!) ** 2 + (a[i + 1]! - b[i + 1]!) ** 2 + (a[i + 2]! - b[i + 2]!) ** 2;
    if (!(d <= worst)) worst = d;
  }
  return Math.sqrt(worst);
}

export function meanHeight(x: Float64Array, verts: Uint32Array): number {
  let s = 0;
  for (const v of verts) s += x[3 * v + 2]!;
  return s / Math.max(1, verts.length);
}

/** Forces of held vertices and supports on the sheet at rest, N (3n): what balances weight and sheet at each vertex. */
export function reactions(sys: System, x: Float64Array): { held: Float64Array; supports: Float64Array } {
  const held = new Float64Array(x.length), supports = new Float64Array(x.length);
  for (const f of sys.contact.force) for (let i = 0; i < f.length; i++) supports[i] = supports[i]! + f[i]!;
  // At a held vertex the clip carries the sheet's pull plus the vertex's own weight.
  const g = sheetGradient(sys, x);
  for (let v = 0; v < sys.model.vertexCount; v++) {
    if (!sys.model.held[v]) continue;
    for (let k = 0; k < 3; k++) held[3 * v + k] = g[3 * v + k]! - sys.model.mass[v]! * sys.pull[k]!;
  }
  return { held, supports };
}

function sheetGradient(sys: System, x: Float64Array): Float64Array {
  const g = new Float64Array(x.length);
  evaluate(sys.el, x, g);
  return g;
}

/** One model from positions to rest: the general entry, for swatches and any other program. x0 is not mutated. */
export function settle(model: Model, x0: Float64Array, o: SettleOptions = {}): Settled {
  const sys = createSystem(model, { arcs: o.arcs ?? true });
  const r = rest(sys, x0, o);
  const f = reactions(sys, r.x), reaction = new Float64Array(x0.length);
  for (let i = 0; i < reaction.length; i++) reaction[i] = f.held[i]! + f.supports[i]!;
  return {
    status: r.status, x: r.x, residual: r.residual, iterations: r.iterations, factorisations: r.factorisations, stable: r.stable, reaction,
    contact: { touching: sys.contact.touching, deepestPenetration: sys.contact.deepest, crossings: 0 },
    energy: { stretch: r.energies.stretch, bend: r.energies.bend, weight: r.energies.weight },
  };
}
