import { lineariseExact, prepareExact, solveExact } from '../newton.ts';
import { forces, residualOf, type System } from '../system.ts';
import type { Work } from '../work.ts';
import { type AtRest, AWAY, nudged, takeHold } from './nudge-load.ts';

/** What the state at rest answers to a nudge along one axis, by its exact Hessian and by how that changes; m, largest movement of a vertex. */
export interface Answer {
  readonly linear: number;
  /** Of the second order, at the full nudge. */ readonly quadratic: number;
}

/** How the answers are solved: the mass factor of the nudges' own steps, 1/s2; CG's tolerance and most iterations. */
const MASS_FACTOR = 1e-8;
const CG = 1e-3;
const CG_MOST = 120;
/** Largest movement, m, by which the second derivative is taken by differences. */
const STEP = 1e-5;

/**
 * Answers to a nudge along x and along y: the first two terms of the way u(s) = s d + s^2 u2 that a rest state goes while a share s of the nudge is laid on,
 *   H d = -f,   H u2 = -1/2 g''[d, d],
 * H the exact Hessian at rest, f what the nudge adds to the unbalanced forces, g'' the second derivative of the gradient (by differences of forces along d).
 * What friction held, and a nudge starts without, is added to d on its worse side. Two or three solves an axis with one factor; null where CG meets negative curvature or does not arrive. Leaves gravity as it was.
 * Source: series of an equilibrium path (Cochelin 1994, "A path-following technique via an asymptotic-numerical method"; from memory), two terms.
 */
export function* answersToNudge(rubbing: System, { x, formulation }: AtRest): Work<[Answer | null, Answer | null]> {
  // Sheets that touch may slide in a nudge and not slide back (a flap on its bag): they are asked as if they did not rub. Working arrays are shared.
  const sys: System = { ...rubbing, pairs: rubbing.pairs && { ...rubbing.pairs, friction: 0 } };
  const rest = sys.model.gravity,
    f = (): Float64Array => new Float64Array(x.length),
    [own, g, d, slip, second, y] = [f(), f(), f(), f(), f(), f()],
    sheet = 3 * (sys.bodies?.sheet ?? sys.model.vertexCount);
  function* solved(load: Float64Array, out: Float64Array): Work<boolean> {
    const its = yield* solveExact(sys, load, out, MASS_FACTOR, CG, CG_MOST);
    return its >= 0 && its < CG_MOST;
  }
  sys.acceleration.set(rest);
  takeHold(rubbing, x);
  forces(sys, x, own, formulation);
  // Less than this the nudges themselves leave unbalanced.
  const still = residualOf(sys, own) < AWAY;
  if (!(yield* prepareExact(sys, MASS_FACTOR)) || (!still && !(yield* solved(own, slip)))) return [null, null];
  function* along(s: number): Work<Answer | null> {
    yield;
    sys.acceleration.set(nudged(rest, s));
    forces(sys, x, g, formulation);
    sys.acceleration.set(rest);
    yield;
    for (let i = 0; i < g.length; i++) g[i] = g[i]! - own[i]!;
    if (!(yield* solved(g, d))) return null;
    const linear = Math.max(largest(slip, d, 1, sheet), largest(slip, d, -1, sheet));
    const share = STEP / largest(d, d, 0, d.length);
    second.set(own);
    for (let i = 0; i < second.length; i++) second[i] = -2 * second[i]!;
    for (const way of [share, -share]) {
      for (let i = 0; i < y.length; i++) y[i] = x[i]! + way * d[i]!;
      forces(sys, y, g, formulation);
      yield;
      for (let i = 0; i < g.length; i++) second[i] = second[i]! + g[i]!;
    }
    for (let i = 0; i < second.length; i++) second[i] = second[i]! / (2 * share * share);
    forces(sys, x, g, formulation);
    yield;
    lineariseExact(sys);
    yield;
    return (yield* solved(second, y)) ? { linear, quadratic: largest(y, y, 0, sheet) } : null;
  }
  return [yield* along(0), yield* along(2)];
}

/** Largest movement of a vertex in a + sign b, of the first `length` numbers. */
function largest(a: Float64Array, b: Float64Array, sign: 1 | 0 | -1, length: number): number {
  let most = 0;
  for (let q = 0; q < length; q += 3) {
    const u = a[q]! + sign * b[q]!,
      v = a[q + 1]! + sign * b[q + 1]!,
      w = a[q + 2]! + sign * b[q + 2]!;
    most = Math.max(most, u * u + v * v + w * w);
  }
  return Math.sqrt(most);
}
