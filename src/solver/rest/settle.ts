import { evaluateBodies } from '../contact/body/body-force.ts';
import { evaluatePairs } from '../contact/cloth/pair-force.ts';
import { evaluate } from '../elastic/elastic.ts';
import { createSystem, type System } from '../system.ts';
import type { Model, Settled } from '../types.ts';
import { toEnd, type Work } from '../work.ts';
import { hanging } from './hang.ts';
import { flow, lower } from './monotone-descent.ts';
import { givesWay, proved } from './probe.ts';
import type { RelaxResult } from './pseudo-transient.ts';
import { finish, furthest, leftAlone, newton, REST, type RestState, type Run, type SettleOptions, TRUSTED, tell } from './settle-run.ts';
import { sink } from './transient-fall.ts';

/**
 * Settles x0 (3n, not mutated). Big mixed-integration-point Newton steps first; if the result lies more than TRUSTED from the start,
 * is unstable or did not settle, energy-lowering steps go again from the start, because near the threshold a bag has several equilibria and the
 * path decides; what gives way on it is let fall from there with its real masses. A fall that has not come to rest in FALL_TIME but lies below half the watched height is told as such:
 * slumped, and still falling.
 */
export function* resting(sys: System, x0: Float64Array, o: SettleOptions = {}): Work<RestState> {
  const free = sys.model.supports.length === 0 && !o.watch;
  const run: Run = { sys, o, free, tolerance: o.tolerance ?? REST, iterations: 0, before: sys.counts.factorisations, cancelled: false };
  const x = x0.slice();
  if (sys.model.cords) {
    const hung = yield* hanging(sys, x, run.tolerance, (stage, fraction, at) => tell(run, stage, fraction, at));
    run.iterations += hung.iterations;
    return finish(run, proved(sys, hung, x), x, 'flow', false);
  }
  const quick = yield* newton(run, x, 'settling', x0, 40);
  // A held strip has one equilibrium to hang in: there is no second branch to be mistaken for.
  if (free && quick.status === 'settled' && !run.cancelled) return yield* steady(run, quick, x);
  if (run.cancelled || (quick.status === 'settled' && quick.stable && furthest(x, x0) < TRUSTED)) return finish(run, quick, x, 'newton', false);
  if (run.free || run.cancelled) return yield* sink(run, x0.slice());
  x.set(x0);
  const slow = yield* flow(run, x);
  if (run.cancelled || (slow.status === 'settled' && slow.stable) || leftAlone(run, x)) return finish(run, slow, x, 'flow', false);
  return yield* sink(run, x);
}

/** The same at one go. */
export const rest = (sys: System, x0: Float64Array, o: SettleOptions = {}): RestState => toEnd(resting(sys, x0, o));

/** How far an unstable balance is pushed the way it gives, m, and how often. */
const PUSH = 1e-3;
const PUSHES = 4;

/**
 * What is held by clips alone and came to rest at x (mutated), unless that is an unstable balance: then pushed off it and let go down from there. A straight
 * strip that stands above its buckling load is at rest to the last digit; nobody will ever see it stand. Told as unstable when it will not leave.
 */
function* steady(run: Run, first: RelaxResult, x: Float64Array): Work<RestState> {
  let at = first;
  for (let k = 0; k < PUSHES; k++) {
    const way = givesWay(run.sys, x);
    if (!way) return finish(run, { ...at, stable: way === null }, x, k === 0 ? 'newton' : 'flow', false);
    const y = x.map((v, i) => v + PUSH * way[i]!);
    const down = yield* lower(run, y);
    const end = run.cancelled || down.status === 'settled' ? down : yield* newton(run, y, 'settling', y.slice(), 60);
    if (run.cancelled || end.status !== 'settled') return finish(run, end, y, 'flow', false);
    x.set(y);
    at = end;
  }
  return finish(run, { ...at, stable: givesWay(run.sys, x) === null }, x, 'flow', false);
}

/** Forces of held vertices and supports on the sheet at rest, N (3n): what balances weight and sheet at each vertex. */
export function reactions(sys: System, x: Float64Array): { held: Float64Array; supports: Float64Array } {
  const held = new Float64Array(x.length),
    supports = new Float64Array(x.length);
  for (const f of sys.contact.force) for (let i = 0; i < f.length; i++) supports[i] = supports[i]! + f[i]!;
  // What supports carry of rigid contents stands at the first body's centre.
  if (sys.bodies) for (let k = 0; k < 3; k++) supports[3 * sys.bodies.sheet + k] = sys.bodies.carried[k]!;
  // At a held vertex the clip carries the sheet's pull, what touches it there, and the vertex's own weight.
  const g = sheetGradient(sys, x);
  for (let v = 0; v < sys.model.vertexCount; v++) {
    if (!sys.model.held[v]) continue;
    for (let k = 0; k < 3; k++) held[3 * v + k] = g[3 * v + k]! - sys.model.mass[v]! * sys.pull[k]!;
  }
  return { held, supports };
}

/** Pull of sheet, straps and whatever touches the sheet besides supports, on every vertex, N (3n). */
function sheetGradient(sys: System, x: Float64Array): Float64Array {
  const g = new Float64Array(x.length);
  evaluate(sys.el, x, g);
  if (sys.pairs) evaluatePairs(sys.pairs, x, g, null);
  if (sys.bodies) evaluateBodies(sys.bodies, x, g, null);
  return g;
}

/** One model from positions to rest: the general entry, for swatches and any other program. x0 is not mutated. */
export function settle(model: Model, x0: Float64Array, o: SettleOptions = {}): Settled {
  const sys = createSystem(model, { arcs: o.arcs ?? true });
  const r = rest(sys, x0, o);
  const f = reactions(sys, r.x),
    reaction = new Float64Array(x0.length);
  for (let i = 0; i < reaction.length; i++) reaction[i] = f.held[i]! + f.supports[i]!;
  return {
    status: r.status,
    x: r.x,
    residual: r.residual,
    iterations: r.iterations,
    factorisations: r.factorisations,
    stable: r.stable,
    reaction,
    contact: { touching: sys.contact.touching, deepestPenetration: sys.contact.deepest },
    energy: { stretch: r.energies.stretch, bend: r.energies.bend, weight: r.energies.weight },
  };
}
