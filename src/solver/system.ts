import { GRAVITY, libm } from '../numerics/index.ts';
import type { Bodies } from './contact/body/bodies.ts';
import type { Schur } from './contact/body/body-schur.ts';
import { bodiesOf, bodyKernel } from './contact/body/door.ts';
import { evaluatePairs } from './contact/cloth/pair-force.ts';
import { createPairContact, type PairContact } from './contact/cloth/pairs.ts';
import { createSpanContact, evaluateSpans, type SpanContact } from './contact/edge-face/span-force.ts';
import { createSupportContact, evaluateSupports, type SupportContact } from './contact/support/support.ts';
import { cordsOff } from './elastic/cords.ts';
import { creatingElastic, type Elastic, evaluate } from './elastic/elastic.ts';
import { createPreconditioner, type Preconditioner } from './preconditioner.ts';
import { addHand, type Hand } from './rest/hand.ts';
import { analyse } from './sparse/index.ts';
import type { Formulation, Model } from './types.ts';
import { toEnd, type Work } from './work.ts';

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
  readonly preconditioner: Preconditioner;
  /** What a watcher holds, or null. */ hand: Hand | null;
  /** 3, current body acceleration, m/s2: gravity plus a nudge. */ readonly acceleration: Float64Array;
  /** 9n contact stiffness blocks of the last evaluation */ readonly diag: Float64Array;
  /** Mean vertex weight, N: the unit of the residual. */ readonly meanWeight: number;
  counts: { factorisations: number; cgIterations: number };
  readonly cg: { readonly r: Float64Array; readonly z: Float64Array; readonly p: Float64Array; readonly Ap: Float64Array };
}

export interface SystemOptions {
  /** Contact of the sheet with itself. Default false. The start must be free of crossings. */ readonly selfContact?: boolean;
}

/** Builds a system: rest data, the factor of the condensed unknowns, matrix pattern and its fill-reducing order. */
export const createSystem = (model: Model, options: SystemOptions = {}): System => toEnd(creatingSystem(model, options));

/** The same in steps. */
export function* creatingSystem(model: Model, options: SystemOptions = {}): Work<System> {
  const el = yield* creatingElastic(model);
  yield;
  const n3 = 3 * model.vertexCount,
    f = (k: number) => new Float64Array(k);
  const bodies = bodiesOf(model),
    sheet = bodies?.sheet ?? model.vertexCount;
  let total = 0;
  for (let i = 0; i < sheet; i++) total += model.mass[i]!;
  const contact = createSupportContact(model),
    pairs = options.selfContact ? createPairContact(model) : null;
  yield;
  return {
    model,
    el,
    contact,
    spans: createSpanContact(model, contact),
    pairs,
    bodies,
    schur: bodies && bodyKernel().createSchur(bodies),
    matrix: new Float64Array(el.shell.values.length),
    preconditioner: createPreconditioner(analyse(el.shell.pattern)),
    hand: null,
    acceleration: Float64Array.from(model.gravity),
    diag: f(9 * model.vertexCount),
    meanWeight: (total / sheet) * (libm.norm(model.gravity) || GRAVITY),
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

/**
 * Energies at x and the gradient (overwritten into g, zero at held vertices); also fills sys.diag. What is linearised next (newton.ts) is this state in this
 * formulation.
 */
export function forces(sys: System, x: Float64Array, g: Float64Array, formulation: Formulation): Energies {
  g.fill(0);
  sys.diag.fill(0);
  const { stretch, bend } = evaluate(sys.el, x, g, formulation);
  const contact =
    evaluateSupports(sys.contact, x, g, sys.diag) +
    (sys.spans ? evaluateSpans(sys.spans, x, g, sys.diag) : 0) +
    (sys.pairs ? evaluatePairs(sys.pairs, x, g, sys.diag) : 0) +
    (sys.bodies ? bodyKernel().evaluateBodies(sys.bodies, x, g, sys.diag) : 0) +
    (sys.hand ? addHand(sys.hand, x, g, sys.diag) : 0);
  const weight = addWeight(sys, x, g);
  return { stretch, bend, weight, contact, total: stretch + bend + weight + contact };
}

/** Adds weight and constant forces to g, and empties it at held vertices; returns their energy, J. */
function addWeight({ model, bodies, acceleration }: System, x: Float64Array, g: Float64Array): number {
  let weight = 0;
  const sheet = bodies?.sheet ?? model.vertexCount,
    down = model.gravity,
    full = down[0] * down[0] + down[1] * down[1] + down[2] * down[2] || 1;
  for (let v = 0; v < model.vertexCount; v++) {
    // A rotation has inertia but no weight.
    const m = v > sheet && (v - sheet) % 2 === 1 ? 0 : model.mass[v]!;
    for (let k = 0; k < 3; k++) {
      weight -= m * acceleration[k]! * x[3 * v + k]!;
      g[3 * v + k] = g[3 * v + k]! - m * acceleration[k]!;
    }
    if (model.load) {
      const q = 3 * v,
        // What weighs on the vertex is accelerated sideways with the cloth; zero but in a nudge.
        mass = (model.load[q]! * down[0] + model.load[q + 1]! * down[1] + model.load[q + 2]! * down[2]) / full;
      for (let k = 0; k < 3; k++) {
        const f = model.load[q + k]! + mass * (acceleration[k]! - down[k]!);
        weight -= f * x[q + k]!;
        g[q + k] = g[q + k]! - f;
      }
    }
    if (model.held[v]) g[3 * v] = g[3 * v + 1] = g[3 * v + 2] = 0;
  }
  return weight;
}

/** Largest unbalanced force on a free vertex over the mean vertex weight; of a rigid body, force and torque over its reach against its own weight. */
export function unbalanced(sys: System, g: Float64Array): number {
  const sheet = sys.bodies?.sheet ?? sys.model.vertexCount;
  let worst = 0;
  if (sys.bodies)
    for (const b of sys.bodies.list)
      for (let q = 3 * b.at; q < 3 * b.at + 6; q += 3) {
        const f = libm.hypot(g[q]!, g[q + 1]!, g[q + 2]!) * (sys.meanWeight / (sys.model.mass[b.at]! * (libm.norm(sys.acceleration) || GRAVITY)));
        if (!(f <= worst)) worst = f;
      }
  for (let v = 0; v < sheet; v++) {
    const f = Math.sqrt(g[3 * v]! * g[3 * v]! + g[3 * v + 1]! * g[3 * v + 1]! + g[3 * v + 2]! * g[3 * v + 2]!);
    if (!(f <= worst)) worst = f;
  }
  return worst / sys.meanWeight;
}

/** The same, and what cords are from their lengths. */
export const residualOf = (sys: System, g: Float64Array): number =>
  Math.max(unbalanced(sys, g), sys.el.cords ? cordsOff(sys.el.cords, sys.el.cables!) / sys.meanWeight : 0);
