import { bodyKernel } from './contact/body/door.ts';
import { applyPairs } from './contact/cloth/pair-force.ts';
import { applySpans } from './contact/edge-face/span-force.ts';
import { apply } from './elastic/action.ts';
import { linearise } from './elastic/elastic.ts';
import { hasFactor, makingPreconditioner, precondition } from './preconditioner.ts';
import type { System } from './system.ts';
import { toEnd, type Work } from './work.ts';

export interface StepOptions {
  /** Factor of the mass matrix added to the Hessian, 1/s2. */ readonly massFactor: number;
  /** Predicted stress of the mixed-integration-point step, or null. */ readonly predicted: Float64Array | null;
  /** Relative residual at which CG stops. */ readonly tolerance: number;
  /** Start with the positive (projected) form at once. */ readonly positive: boolean;
  /** Most iterations of CG; default CG_LIMIT. */ readonly limit?: number;
  /** Keep the last factor as preconditioner: only for states close to the one it was made for. */ readonly keepFactor?: boolean;
}

/** Most iterations of CG with a factor made for the step, and with a kept one. */
export const CG_LIMIT = 40;
const CG_LIMIT_KEPT = 60;

export interface StepResult {
  /** The projected Hessian had to be used: the exact one has negative curvature here. */ readonly projected: boolean;
  readonly cgIterations: number;
  /** false: even the projected matrix could not be factorised. */ readonly ok: boolean;
}

/**
 * Newton direction d from (H + massFactor M) d = -g. Exact Hessian first; only when its matrix has a negative pivot, or CG
 * meets negative curvature, the projected one (projected-only freezes buckling). Call right after forces(). Mutates d.
 */
export const newtonDirection = (sys: System, g: Float64Array, d: Float64Array, o: StepOptions): StepResult => toEnd(findingDirection(sys, g, d, o));

/** The same in steps: large meshes let others look in between fronts and products. */
export function* findingDirection(sys: System, g: Float64Array, d: Float64Array, o: StepOptions): Work<StepResult> {
  if (!o.positive) {
    const its = yield* solvingFor(sys, g, d, o, false);
    if (its !== undefined && its >= 0) return { projected: false, cgIterations: its, ok: true };
  }
  const its = yield* solvingFor(sys, g, d, o, true);
  return { projected: true, cgIterations: Math.max(0, its ?? 0), ok: its !== undefined };
}

/** CG iterations of one linearisation, exact or projected; -1 where CG met negative curvature, undefined where its matrix has a pivot that is not positive. */
function* solvingFor(sys: System, g: Float64Array, d: Float64Array, o: StepOptions, projected: boolean): Work<number | undefined> {
  lineariseSystem(sys, o.predicted, projected);
  yield;
  const kept = o.keepFactor && !projected && hasFactor(sys);
  if (!kept && !(yield* makingPreconditioner(sys, o.massFactor))) return undefined;
  const its = yield* conjugateGradients(sys, g, d, o.massFactor, o.tolerance, o.limit ?? (o.keepFactor ? CG_LIMIT_KEPT : CG_LIMIT));
  const { has, cg } = sys.preconditioner;
  if (its >= 0 && (has === 'nothing' || has === 'arcs')) cg[has] = its;
  return its;
}

function lineariseSystem(sys: System, predicted: Float64Array | null, projected: boolean): void {
  linearise(sys.el, predicted, projected);
  if (sys.bodies) sys.bodies.exact = !projected;
  if (sys.spans) sys.spans.exact = !projected;
}

/**
 * Makes ready to solve with the exact Hessian at the state of the last forces(): its linearisation, and as preconditioner the factor of the projected matrix, which is
 * positive where the exact matrix need not be (that one only resembles the exact Hessian and fails first, 17 % below a standing strip's critical load).
 * false where not even the projected matrix can be factorised: something may move freely.
 */
export function* prepareExact(sys: System, massFactor: number): Work<boolean> {
  lineariseSystem(sys, null, true);
  const made = yield* makingPreconditioner(sys, massFactor);
  lineariseExact(sys);
  return made;
}

/** The same with the preconditioner at hand: after other states were evaluated, call forces() and this. */
export const lineariseExact = (sys: System): void => lineariseSystem(sys, null, false);

/** d from (H + massFactor M) d = -g after prepareExact: iterations of CG, `limit` where it did not arrive, -1 where it met negative curvature. Mutates d. */
export const solveExact = (sys: System, g: Float64Array, d: Float64Array, massFactor: number, tolerance: number, limit: number): Work<number> =>
  conjugateGradients(sys, g, d, massFactor, tolerance, limit);

/** Most products in a search for negative curvature. */
const SEARCH = 300;

/**
 * A direction (3n) of negative curvature of the exact Hessian, found by CG on the load g; null where CG solves for it without meeting one; undefined where
 * nothing can be said (prepareExact). Call right after forces(); the linearisation is left exact.
 */
export function* negativeCurvatureDirection(sys: System, g: Float64Array): Work<Float64Array | null | undefined> {
  if (!(yield* prepareExact(sys, 0))) return undefined;
  return (yield* solveExact(sys, g, new Float64Array(g.length), 0, 1e-6, SEARCH)) < 0 ? sys.cg.p.slice() : null;
}

/** out = (H + massFactor M) p on free vertices; held ones give zero. */
function applyHessian(sys: System, massFactor: number, p: Float64Array, out: Float64Array): void {
  const { model, diag } = sys;
  apply(sys.el, p, out);
  if (sys.spans) applySpans(sys.spans, p, out);
  if (sys.pairs) applyPairs(sys.pairs, p, out);
  if (sys.bodies) bodyKernel().applyBodies(sys.bodies, p, out);
  for (let v = 0; v < model.vertexCount; v++) {
    const q = 3 * v;
    if (model.held[v]) {
      out[q] = out[q + 1] = out[q + 2] = 0;
      continue;
    }
    const a = p[q]!,
      b = p[q + 1]!,
      c = p[q + 2]!,
      d = 9 * v,
      w = massFactor * model.mass[v]!;
    out[q] = out[q]! + w * a + diag[d]! * a + diag[d + 1]! * b + diag[d + 2]! * c;
    out[q + 1] = out[q + 1]! + w * b + diag[d + 3]! * a + diag[d + 4]! * b + diag[d + 5]! * c;
    out[q + 2] = out[q + 2]! + w * c + diag[d + 6]! * a + diag[d + 7]! * b + diag[d + 8]! * c;
  }
}

/** Points that CG's products have gone over, after which it lets others look in: some 20 ms. */
const SLICE = 15e3;

/** Preconditioned CG for (H + mM) d = -g. Returns iterations, or -1 on negative curvature (d then holds the preconditioned gradient step). */
function* conjugateGradients(sys: System, g: Float64Array, d: Float64Array, massFactor: number, tolerance: number, limit: number): Work<number> {
  const { r, z, p, Ap } = sys.cg,
    N = g.length;
  for (let i = 0; i < N; i++) {
    r[i] = -g[i]!;
    d[i] = 0;
  }
  precondition(sys, r, z);
  p.set(z);
  let rz = dot(r, z);
  const stop = tolerance * tolerance * rz;
  if (!(rz > 0)) return 0;
  for (let it = 1, spent = 0; it <= limit; it++) {
    spent += sys.model.vertexCount;
    if (spent > SLICE) {
      yield;
      spent = 0;
    }
    applyHessian(sys, massFactor, p, Ap);
    const curvature = dot(p, Ap);
    if (!(curvature > 0)) {
      if (it === 1) d.set(z);
      return -1;
    }
    const a = rz / curvature;
    for (let i = 0; i < N; i++) {
      d[i] = d[i]! + a * p[i]!;
      r[i] = r[i]! - a * Ap[i]!;
    }
    sys.counts.cgIterations++;
    precondition(sys, r, z);
    const next = dot(r, z);
    if (!(next > stop)) return it;
    const b = next / rz;
    rz = next;
    for (let i = 0; i < N; i++) p[i] = z[i]! + b * p[i]!;
  }
  return limit;
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}
