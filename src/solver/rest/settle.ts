import { bodyKernel } from '../contact/body/door.ts';
import { evaluatePairs } from '../contact/cloth/pair-force.ts';
import { putBackCords, saveCords } from '../elastic/cords.ts';
import { evaluate } from '../elastic/elastic.ts';
import type { System } from '../system.ts';
import type { Formulation } from '../types.ts';
import { toEnd, type Work } from '../work.ts';
import { hanging } from './hang.ts';
import { descend, monotoneDescent } from './monotone-descent.ts';
import type { PseudoTransientResult } from './pseudo-transient.ts';
import {
  finish,
  largestMovement,
  newton,
  notFollowed,
  REST,
  type RestState,
  type Run,
  report,
  type SettleOptions,
  standsNear,
  strapped,
  TRUST_RADIUS,
} from './settle-run.ts';
import { recheckStability, unstableMode } from './stability.ts';
import { transientFall } from './transient-fall.ts';

/**
 * Settles x0 (3n, not mutated). Big mixed-integration-point Newton steps first; if the result lies more than TRUST_RADIUS from the start,
 * is unstable or did not settle, energy-lowering steps go again from the start, because near the threshold a bag has several equilibria and the
 * path decides; what gives way on it is let fall from there with its real masses. A fall that has not come to rest in FALL_TIME but lies below half the watched height is told as such:
 * slumped, and still falling.
 */
export function* resting(sys: System, x0: Float64Array, o: SettleOptions = {}): Work<RestState> {
  const free = sys.model.supports.length === 0 && !o.watch,
    formulation = o.formulation ?? 'arc-corrected';
  const run: Run = { sys, o, formulation, free, tolerance: o.tolerance ?? REST, iterations: 0, before: sys.counts.factorisations, cancelled: false };
  const x = x0.slice();
  if (strapped(sys.model)) {
    const hung = yield* hanging(sys, x, run.tolerance, formulation, (stage, fraction, at) => report(run, stage, fraction, at));
    run.iterations += hung.iterations;
    return finish(run, yield* recheckStability(sys, hung, x), x, 'descent', false);
  }
  const cords = sys.el.cords && saveCords(sys.el.cords, sys.el.cables!);
  const quick = yield* newton(run, x, formulation, 'settling', x0, 40, o.rough);
  if (o.rough !== undefined && quick.residual < o.rough && standsNear(run, x, x0)) return finish(run, quick, x, 'newton', false);
  // A held strip has one equilibrium to hang in: there is no second branch to be mistaken for.
  if (free && quick.status === 'settled' && !run.cancelled) return yield* heldEquilibrium(run, quick, x);
  if (run.cancelled || (quick.status === 'settled' && quick.stable && largestMovement(x, x0) < TRUST_RADIUS)) return finish(run, quick, x, 'newton', false);
  if (run.free || run.cancelled) return yield* transientFall(run, x0.slice(), formulation);
  x.set(x0);
  if (cords) putBackCords(sys.el.cords!, sys.el.cables!, cords);
  const slow = yield* monotoneDescent(run, x);
  if (run.cancelled || (slow.status === 'settled' && slow.stable) || notFollowed(run, x)) return finish(run, slow, x, 'descent', false);
  // A descent that has given up arcs for tight folds leaves a fall without them.
  return yield* transientFall(run, x, slow.formulation);
}

/** The same at one go. */
export const rest = (sys: System, x0: Float64Array, o: SettleOptions = {}): RestState => toEnd(resting(sys, x0, o));

/** How far an unstable equilibrium is pushed along its mode, m, and how often. */
const PUSH = 1e-3;
const PUSHES = 4;

/**
 * What is held by clips alone and came to rest at x (mutated), unless that is an unstable equilibrium: then pushed off it and let go down from there. A straight
 * strip that stands above its buckling load is at rest to the last digit; nobody will ever see it stand. Told as unstable when it will not leave.
 */
function* heldEquilibrium(run: Run, first: PseudoTransientResult, x: Float64Array): Work<RestState> {
  const { sys, formulation } = run;
  let at = first;
  for (let k = 0; k < PUSHES; k++) {
    const mode = yield* unstableMode(sys, x, formulation);
    if (!mode) return finish(run, { ...at, stable: mode === null }, x, k === 0 ? 'newton' : 'descent', false);
    const y = x.map((v, i) => v + PUSH * mode[i]!);
    const down = yield* descend(run, y, formulation);
    const end = run.cancelled || down.status === 'settled' ? down : yield* newton(run, y, formulation, 'settling', y.slice(), 60);
    if (run.cancelled || end.status !== 'settled') return finish(run, end, y, 'descent', false);
    x.set(y);
    at = end;
  }
  return finish(run, { ...at, stable: (yield* unstableMode(sys, x, formulation)) === null }, x, 'descent', false);
}

/** Forces of held vertices and supports on the sheet at rest, N (3n): what balances weight and sheet at each vertex. formulation: what x rests in. */
export function reactions(sys: System, x: Float64Array, formulation: Formulation): { held: Float64Array; supports: Float64Array } {
  const held = new Float64Array(x.length),
    supports = new Float64Array(x.length);
  for (const f of sys.contact.force) for (let i = 0; i < f.length; i++) supports[i] = supports[i]! + f[i]!;
  // What supports carry of rigid contents stands at the first body's centre.
  if (sys.bodies) for (let k = 0; k < 3; k++) supports[3 * sys.bodies.sheet + k] = sys.bodies.carried[k]!;
  // At a held vertex the clip carries the sheet's force, what touches it there, and the vertex's own weight.
  const g = sheetGradient(sys, x, formulation);
  for (let v = 0; v < sys.model.vertexCount; v++) {
    if (!sys.model.held[v]) continue;
    for (let k = 0; k < 3; k++) held[3 * v + k] = g[3 * v + k]! - sys.model.mass[v]! * sys.acceleration[k]!;
  }
  return { held, supports };
}

/** Force of sheet, straps and whatever touches the sheet besides supports, on every vertex, N (3n). */
function sheetGradient(sys: System, x: Float64Array, formulation: Formulation): Float64Array {
  const g = new Float64Array(x.length);
  evaluate(sys.el, x, g, formulation);
  if (sys.pairs) evaluatePairs(sys.pairs, x, g, null);
  if (sys.bodies) bodyKernel().evaluateBodies(sys.bodies, x, g, null);
  return g;
}
