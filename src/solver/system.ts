import { type Bodies, createBodies } from './contact/body/bodies.ts';
import { commitBodies, evaluateBodies } from './contact/body/body-force.ts';
import { applySchur, createSchur, factorSchur, type Schur } from './contact/body/body-schur.ts';
import { applyBodies, cutAtBodies, slowBodies } from './contact/body/body-steps.ts';
import { applyPairs, commitPairs, evaluatePairs } from './contact/cloth/pair-force.ts';
import { activate, createPairContact, type PairContact } from './contact/cloth/pairs.ts';
import { findPairs, truncatePairs } from './contact/cloth/truncate.ts';
import { remember, type Slip } from './contact/coulomb.ts';
import { applySpans, commitSpans, createSpanContact, evaluateSpans, type SpanContact } from './contact/edge-face/span-force.ts';
import { truncateSpans } from './contact/edge-face/span-steps.ts';
import { commitFriction, createSupportContact, evaluateSupports, type SupportContact, truncateAtSupports } from './contact/support/support.ts';
import { apply } from './elastic/action.ts';
import { createElastic, type Elastic, evaluate, linearise } from './elastic/elastic.ts';
import { assembleMatrix } from './elastic/matrix.ts';
import { addHand, type Hand } from './rest/hand.ts';
import { analyse, type Factor, factorise, type Symbolic, solve } from './sparse/index.ts';
import type { Model } from './types.ts';

/** One model with everything needed to evaluate and to take Newton steps; its arrays are working storage, mutated freely. */
export interface System {
  readonly model: Model;
  readonly el: Elastic;
  readonly contact: SupportContact;
  /** Supports against the sheet between its points, or null where all are flat. */ readonly spans: SpanContact | null;
  /** Cloth on cloth, or null where the sheet cannot meet itself. */ readonly pairs: PairContact | null;
  /** Rigid contents, or null. */ readonly bodies: Bodies | null;
  /** Their part of the preconditioner, or null. */ readonly schur: Schur | null;
  /** The preconditioner's matrix, in the blocks of el.shell.pattern. */ readonly matrix: Float64Array;
  readonly symbolic: Symbolic;
  factor: Factor | undefined;
  /** What a watcher holds, or null. */ hand: Hand | null;
  /** 3, current body acceleration, m/s2: gravity plus a nudge. */ readonly pull: Float64Array;
  /** 9n contact stiffness blocks of the last evaluation */ readonly diag: Float64Array;
  /** Mean vertex weight, N: the unit of the residual. */ readonly unit: number;
  counts: { factorisations: number; cgIterations: number };
  readonly cg: { readonly r: Float64Array; readonly z: Float64Array; readonly p: Float64Array; readonly Ap: Float64Array };
}

export interface SystemOptions {
  /** Arc-corrected edge lengths (the cure for membrane locking). Default true. */ readonly arcs?: boolean;
  /** Contact of the sheet with itself. Default false. The start must be free of crossings. */ readonly selfContact?: boolean;
}

/** Builds a system: rest data, slave factor, matrix pattern and its fill-reducing order. */
export function createSystem(model: Model, options: SystemOptions = {}): System {
  const el = createElastic(model, options.arcs ?? true);
  const n3 = 3 * model.vertexCount,
    f = (k: number) => new Float64Array(k);
  const bodies = createBodies(model),
    sheet = bodies?.sheet ?? model.vertexCount;
  let total = 0;
  for (let i = 0; i < sheet; i++) total += model.mass[i]!;
  const g = Math.hypot(...model.gravity) || 9.80665;
  const contact = createSupportContact(model);
  return {
    model,
    el,
    contact,
    spans: createSpanContact(model, contact),
    pairs: options.selfContact ? createPairContact(model) : null,
    bodies,
    schur: bodies && createSchur(bodies),
    matrix: new Float64Array(el.shell.values.length),
    symbolic: analyse(el.shell.pattern),
    factor: undefined,
    hand: null,
    pull: Float64Array.from(model.gravity),
    diag: f(9 * model.vertexCount),
    unit: (total / sheet) * g,
    counts: { factorisations: 0, cgIterations: 0 },
    cg: { r: f(n3), z: f(n3), p: f(n3), Ap: f(n3) },
  };
}

export interface Energies {
  readonly stretch: number;
  readonly bend: number;
  readonly weight: number;
  readonly contact: number;
  readonly total: number;
}

/** Energies at x and the gradient (overwritten into g, zero at held vertices); also fills sys.diag. */
export function forces(sys: System, x: Float64Array, g: Float64Array): Energies {
  const { model, pull } = sys;
  g.fill(0);
  sys.diag.fill(0);
  const { stretch, bend } = evaluate(sys.el, x, g);
  const contact =
    evaluateSupports(sys.contact, x, g, sys.diag) +
    (sys.spans ? evaluateSpans(sys.spans, x, g, sys.diag) : 0) +
    (sys.pairs ? evaluatePairs(sys.pairs, x, g, sys.diag) : 0) +
    (sys.bodies ? evaluateBodies(sys.bodies, x, g, sys.diag) : 0) +
    (sys.hand ? addHand(sys.hand, x, g, sys.diag) : 0);
  let weight = 0;
  const sheet = sys.bodies?.sheet ?? model.vertexCount,
    down = model.gravity,
    full = down[0] * down[0] + down[1] * down[1] + down[2] * down[2] || 1;
  for (let v = 0; v < model.vertexCount; v++) {
    // A rotation has inertia but no weight.
    const m = v > sheet && (v - sheet) % 2 === 1 ? 0 : model.mass[v]!;
    for (let k = 0; k < 3; k++) {
      weight -= m * pull[k]! * x[3 * v + k]!;
      g[3 * v + k] = g[3 * v + k]! - m * pull[k]!;
    }
    if (model.load) {
      const q = 3 * v,
        // What weighs on the vertex is pulled aside with the cloth; zero but in a nudge.
        mass = (model.load[q]! * down[0] + model.load[q + 1]! * down[1] + model.load[q + 2]! * down[2]) / full;
      for (let k = 0; k < 3; k++) {
        const f = model.load[q + k]! + mass * (pull[k]! - down[k]!);
        weight -= f * x[q + k]!;
        g[q + k] = g[q + k]! - f;
      }
    }
    if (model.held[v]) g[3 * v] = g[3 * v + 1] = g[3 * v + 2] = 0;
  }
  return { stretch, bend, weight, contact, total: stretch + bend + weight + contact };
}

/** Largest unbalanced force on a free vertex over the mean vertex weight; of a rigid body, force and torque over its reach against its own weight. */
export function residualOf(sys: System, g: Float64Array): number {
  const sheet = sys.bodies?.sheet ?? sys.model.vertexCount;
  let worst = 0;
  for (const b of sys.bodies?.list ?? [])
    for (let q = 3 * b.at; q < 3 * b.at + 6; q += 3) {
      const f = Math.hypot(g[q]!, g[q + 1]!, g[q + 2]!) * (sys.unit / (sys.model.mass[b.at]! * (Math.hypot(...sys.pull) || 9.80665)));
      if (!(f <= worst)) worst = f;
    }
  for (let v = 0; v < sheet; v++) {
    const f = Math.sqrt(g[3 * v]! * g[3 * v]! + g[3 * v + 1]! * g[3 * v + 1]! + g[3 * v + 2]! * g[3 * v + 2]!);
    if (!(f <= worst)) worst = f;
  }
  return worst / sys.unit;
}

/** out = (H + massFactor M) p on free vertices; held ones give zero. */
function action(sys: System, massFactor: number, p: Float64Array, out: Float64Array): void {
  const { model, diag } = sys;
  apply(sys.el, p, out);
  if (sys.spans) applySpans(sys.spans, p, out);
  if (sys.pairs) applyPairs(sys.pairs, p, out);
  if (sys.bodies) applyBodies(sys.bodies, p, out);
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

export interface StepOptions {
  /** Factor of the mass matrix added to the Hessian, 1/s2. */ readonly massFactor: number;
  /** Predicted stress of the mixed-integration-point step, or null. */ readonly predicted: Float64Array | null;
  /** Relative residual at which CG stops. */ readonly tolerance: number;
  /** Start with the positive (projected) form at once. */ readonly positive: boolean;
  /** Most iterations of CG; default CG_LIMIT. */ readonly limit?: number;
  /** Keep the last factor as preconditioner: only for states close to the one it was made for. */ readonly keepFactor?: boolean;
}

/** Most iterations of CG with a factor made for the step. */
export const CG_LIMIT = 40;

export interface StepResult {
  /** The projected Hessian had to be used: the exact one has negative curvature here. */ readonly projected: boolean;
  readonly cgIterations: number;
  /** false: even the projected matrix could not be factorised. */ readonly ok: boolean;
}

/**
 * Newton direction d from (H + massFactor M) d = -g. Exact Hessian first; only when its matrix has a negative pivot, or CG
 * meets negative curvature, the projected one (projected-only freezes buckling). Call right after forces(). Mutates d.
 */
export function newtonDirection(sys: System, g: Float64Array, d: Float64Array, o: StepOptions): StepResult {
  for (const positive of o.positive ? [true] : [false, true]) {
    linearise(sys.el, o.predicted, positive);
    if (sys.bodies) sys.bodies.exact = !positive;
    if (sys.spans) sys.spans.exact = !positive;
    if (!(o.keepFactor && sys.factor && sys.factor.failedAt < 0 && !positive)) {
      assembleMatrix(sys.el, sys.matrix, sys.diag, o.massFactor);
      sys.factor = factorise(sys.symbolic, sys.matrix, sys.factor);
      sys.counts.factorisations++;
      if (sys.factor.failedAt >= 0) continue;
      const { factor } = sys;
      if (sys.schur && !factorSchur(sys.schur, sys.bodies!, o.massFactor, (b, x) => solve(sys.symbolic, factor, b, x))) continue;
    }
    const its = conjugateGradients(sys, g, d, o.massFactor, o.tolerance, o.limit ?? (o.keepFactor ? 60 : CG_LIMIT));
    if (its >= 0) return { projected: positive, cgIterations: its, ok: true };
    if (positive) return { projected: true, cgIterations: 0, ok: true };
  }
  return { projected: true, cgIterations: 0, ok: false };
}

/** Most products in a search for negative curvature. */
const SEARCH = 300;

/**
 * A direction (3n) in which the exact Hessian bends downward, found by CG on the load g; null where CG solves for it without meeting one; undefined where not even the
 * projected matrix can be factorised (something may move freely), so that nothing can be said. Its
 * preconditioner is the factor of the projected matrix, which is positive where the exact operator's own need not be: that one only resembles the operator
 * and gives out first (by 17 % of a standing strip's load). Call right after forces(); the linearisation is left exact.
 */
export function downhill(sys: System, g: Float64Array): Float64Array | null | undefined {
  linearise(sys.el, null, true);
  assembleMatrix(sys.el, sys.matrix, sys.diag, 0);
  sys.factor = factorise(sys.symbolic, sys.matrix, sys.factor);
  sys.counts.factorisations++;
  linearise(sys.el, null, false);
  if (sys.spans) sys.spans.exact = true;
  if (sys.factor.failedAt >= 0) return undefined;
  return conjugateGradients(sys, g, new Float64Array(g.length), 0, 1e-6, SEARCH) < 0 ? sys.cg.p.slice() : null;
}

/** Preconditioned CG for (H + mM) d = -g. Returns iterations, or -1 on negative curvature (d then holds the preconditioned gradient step). */
function conjugateGradients(sys: System, g: Float64Array, d: Float64Array, massFactor: number, tolerance: number, limit: number): number {
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
  for (let it = 1; it <= limit; it++) {
    action(sys, massFactor, p, Ap);
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

function precondition(sys: System, r: Float64Array, z: Float64Array): void {
  solve(sys.symbolic, sys.factor!, r, z);
  if (sys.schur) applySchur(sys.schur, sys.bodies!, r, z);
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

/** Friction anchors follow the accepted state x. */
export function commit(sys: System, x: Float64Array): void {
  commitFriction(sys.contact, x);
  if (sys.spans) commitSpans(sys.spans, x);
  if (sys.pairs) commitPairs(sys.pairs, x);
  if (sys.bodies) commitBodies(sys.bodies, x);
}

/** Finds what touches at x, without a step: before the first forces() of a run. */
export function enter(sys: System, x: Float64Array): void {
  if (!sys.pairs) return;
  findPairs(sys.pairs, x, new Float64Array(x.length));
  activate(sys.pairs, x);
}

/** Shortens the step d (mutated) so that neither a support nor the sheet itself is passed through. */
export function limitStep(sys: System, x: Float64Array, d: Float64Array): void {
  truncateAtSupports(sys.contact, x, d);
  if (sys.spans) truncateSpans(sys.spans, x, d);
  if (sys.bodies) cutAtBodies(sys.bodies, x, d);
  if (sys.pairs) truncatePairs(sys.pairs, x, d);
  if (sys.bodies) slowBodies(sys.bodies, x, d);
}

/** Finds what touches at x, the end (or the start) of the step last limited. */
export function arrive(sys: System, x: Float64Array): void {
  if (sys.pairs) activate(sys.pairs, x);
}

/** Every family of contacts that remembers by key: cloth on cloth, supports and bodies between the sheet's points. */
const slips = (sys: System): Slip[] => [sys.pairs, sys.spans, sys.bodies?.spans].filter((s) => !!s);

/** What friction remembers: where the table grips each vertex, and how far each touching pair is stretched sideways. */
export interface Grip {
  readonly anchors: readonly Float64Array[];
  readonly slips: readonly Slip[];
  readonly bodies: readonly Float64Array[];
}

/** Copy of the grip as it is, to be given back with the positions it belongs to. */
export const gripOf = (sys: System): Grip => ({
  anchors: sys.contact.anchors.map((a) => a.slice()),
  slips: slips(sys).map((s) => ({ memory: new Map(s.memory), committed: s.committed.slice() })),
  bodies: (sys.bodies?.slots ?? []).map((s) => s.memory.slice()),
});

/** Nothing has gripped yet: for a start of its own. */
export function letGo(sys: System): void {
  for (const a of sys.contact.anchors) a.fill(Number.NaN);
  for (const s of slips(sys)) s.memory.clear();
  for (const s of sys.bodies?.slots ?? []) s.memory.fill(Number.NaN);
}

/** Back to the state x with the grip it was left with; forces() then gives that state's forces again. */
export function giveBack(sys: System, x: Float64Array, grip: Grip): void {
  sys.contact.anchors.forEach((a, s) => {
    a.set(grip.anchors[s]!);
  });
  slips(sys).forEach((s, i) => {
    remember(s, grip.slips[i]!.memory, grip.slips[i]!.committed);
  });
  sys.bodies?.slots.forEach((s, i) => {
    s.memory.set(grip.bodies[i]!);
  });
  enter(sys, x);
}
