import type { Model, RigidBody } from '../../types.ts';
import { lever, orient } from '../body/pose.ts';
import { coulombSpring, keptShare, spring, tangentialStretch } from '../coulomb.ts';
import { acceptNoted, createMemory, type FrictionMemory, noteStretch, slotOf } from '../friction-memory.ts';
import { distance } from '../support/shapes.ts';
import { scatterForces, turned } from './body-span-scatter.ts';
import { spanHessian } from './span-hessian.ts';
import { weighted, weightedContact } from './span-law.ts';
import { createSpan, createSpans, gradientAt, meanOver, type Spans, spanBetween, spanCount, usePoints } from './spans.ts';

/** One edge or face that a body reaches between the sheet's points. All in world directions. */
export interface BodySpan {
  body: number;
  readonly verts: Int32Array;
  readonly weights: Float64Array;
  /** 9: from the body's centre to each vertex. */ readonly arms: Float64Array;
  /** 9: gradient of the contact's energy at each vertex, friction left out, N. */ readonly pull: Float64Array;
  /** 3: force at the nearest place on the sheet by friction, N. */ readonly friction: Float64Array;
  /** 9: stiffness of the nearest place against the body. */ readonly B: Float64Array;
  /** 81: what the exact Hessian has besides. */ readonly more: Float64Array;
  /** 9: motion of the body at the nearest place per step of its rotation unknown. */ readonly G: Float64Array;
}

/**
 * Rigid bodies against the sheet between its points, as contact/edge-face/span-force.ts has it for supports. Left out, a book's corner stood 4-15 mm through soft cloth of
 * 20-30 mm (test/run/contents.test.ts). Mutable.
 */
export interface BodySpans {
  readonly spans: Spans;
  /** 3n: the sheet in the frame of the body looked at, and n distances from it. */ readonly own: Float64Array;
  readonly distances: Float64Array;
  readonly memory: FrictionMemory;
  /** Contacts of the last evaluation; only the first `count` are. */ readonly contacts: BodySpan[];
  count: number;
}

/** What the forces need of the bodies (contact/body/bodies.ts). */
export interface Posed {
  readonly model: Model;
  readonly list: readonly RigidBody[];
  /** Orientations and Jacobians at the positions last posed. */ readonly R: readonly Float64Array[];
  readonly J: readonly Float64Array[];
  /** Per body: n stiffness of its contact with each vertex, N/m. */ readonly stiffness: readonly Float64Array[];
  readonly onSheet: Float64Array;
  deepest: number;
}

export const createBodySpans = (model: Model): BodySpans => ({
  spans: createSpans(model),
  own: new Float64Array(3 * model.vertexCount),
  distances: new Float64Array(model.vertexCount),
  memory: createMemory(model.vertexCount),
  contacts: [],
  count: 0,
});

const span = createSpan(),
  out4 = new Float64Array(4),
  H = new Float64Array(81),
  /** The body's orientation at the last commit. */
  committedR = new Float64Array(9),
  committedJ = new Float64Array(9);

/** Puts the sheet at x into body i's frame and measures it; false where all of it is further than `reach`. Mutates bs. */
export function measureFrom(bs: BodySpans, b: Posed, x: Float64Array, i: number, reach: number): boolean {
  const { own, distances, spans } = bs,
    { shape } = b.list[i]!,
    R = b.R[i]!,
    c = 3 * b.list[i]!.at;
  for (let v = 0; v < spans.inSheet.length; v++) {
    if (!spans.inSheet[v]) continue;
    const dx = x[3 * v]! - x[c]!,
      dy = x[3 * v + 1]! - x[c + 1]!,
      dz = x[3 * v + 2]! - x[c + 2]!;
    own[3 * v] = R[0]! * dx + R[3]! * dy + R[6]! * dz;
    own[3 * v + 1] = R[1]! * dx + R[4]! * dy + R[7]! * dz;
    own[3 * v + 2] = R[2]! * dx + R[5]! * dy + R[8]! * dz;
    distance(shape, own[3 * v]!, own[3 * v + 1]!, own[3 * v + 2]!, out4);
    distances[v] = out4[0]!;
  }
  return usePoints(spans, distances, reach);
}

/**
 * Tangential stretch of the nearest place against the body, to `spring` (world): what it remembers, the sheet's motion there since the last commit and
 * the body's own (its orientation then is in committedR), square to the normal n (world). p: the place in the body's frame.
 */
function stretchOf(bs: BodySpans, body: RigidBody, key: number, n: Float64Array, p: Float64Array): void {
  const { committed: x, stretch } = bs.memory,
    old = slotOf(bs.memory, key),
    c = 3 * body.at;
  for (let k = 0; k < 3; k++) {
    // Where the body's material at the place was then, less where the sheet's was.
    let u = (old < 0 ? 0 : stretch[old + k]!) + x[c + k]!;
    for (let j = 0; j < 3; j++) u += committedR[3 * k + j]! * p[j]!;
    for (let i = 0; i < 3; i++) u -= span.weights[i]! * x[3 * span.verts[i]! + k]!;
    moved[k] = u;
  }
  tangentialStretch(moved[0]!, moved[1]!, moved[2]!, n[0]!, n[1]!, n[2]!);
}

/** v (own directions, at q) in world directions, to out at o. */
function toWorld(R: Float64Array, v: Float64Array, q: number, out: Float64Array, o: number): void {
  const a = v[q]!,
    b = v[q + 1]!,
    c = v[q + 2]!;
  for (let k = 0; k < 3; k++) out[o + k] = R[3 * k]! * a + R[3 * k + 1]! * b + R[3 * k + 2]! * c;
}

const moved = new Float64Array(3),
  place = new Float64Array(3),
  arm = new Float64Array(3),
  slip = new Float64Array(3),
  normal = new Float64Array(3),
  own = new Float64Array(9),
  low = new Float64Array(9);

/** measureFrom() as far as body i's contact reaches, and its orientation at the last commit to committedR. */
function lookFrom(bs: BodySpans, b: Posed, x: Float64Array, i: number): boolean {
  const body = b.list[i]!;
  if (!measureFrom(bs, b, x, i, body.offset)) return false;
  orient(body, bs.memory.committed, 3 * (body.at + 1), committedR, committedJ);
  return true;
}

/** Contact of edge or face `id` with the body last looked from, to `span` and `weighted`; returns its stiffness, N/m, or -1 where they are apart. */
function contactWith(bs: BodySpans, b: Posed, i: number, id: number): number {
  const { shape, offset } = b.list[i]!;
  if (!spanBetween(bs.spans, shape, bs.own, id, offset, span)) return -1;
  const k = meanOver(span, b.stiffness[i]!);
  weightedContact(span, k, offset);
  return k;
}

/**
 * Adds the contacts' gradient to g (3n) and their blocks to diag (9n); returns their energy, J. The sheet's blocks are w B, not w^2 B: the preconditioner
 * eliminates the body exactly (body-schur.ts), and what is left must stay positive. Mutates bs and b.
 */
export function evaluateBodySpans(bs: BodySpans, b: Posed, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const count = spanCount(bs.spans);
  let energy = 0;
  bs.count = 0;
  for (let i = 0; i < b.list.length; i++) {
    const body = b.list[i]!;
    if (!lookFrom(bs, b, x, i)) continue;
    for (let id = 0; id < count; id++) {
      const k = contactWith(bs, b, i, id);
      if (k < 0) continue;
      energy += weighted.energy;
      if (-span.d > b.deepest) b.deepest = -span.d;
      const t = next(bs);
      t.body = i;
      t.verts.set(span.verts);
      t.weights.set(span.weights);
      energy += fill(bs, b, x, t, body, i * count + id, k);
      if (diag) {
        spanHessian(body.shape, bs.own, span, H);
        turned(H, b.R[i]!, t.more);
      }
      scatterForces(b, t, g, diag);
    }
  }
  return energy;
}

function next(bs: BodySpans): BodySpan {
  if (bs.count === bs.contacts.length) {
    const f = (k: number) => new Float64Array(k);
    bs.contacts.push({
      body: 0,
      verts: new Int32Array(3),
      weights: f(3),
      arms: f(9),
      pull: f(9),
      friction: f(3),
      B: f(9),
      more: f(81),
      G: f(9),
    });
  }
  return bs.contacts[bs.count++]!;
}

/** Forces and stiffness of the contact in `span` and `weighted`, to t; returns what friction adds to the energy. */
function fill(bs: BodySpans, b: Posed, x: Float64Array, t: BodySpan, body: RigidBody, key: number, stiffness: number): number {
  const R = b.R[t.body]!,
    c = 3 * body.at;
  toWorld(R, span.n, 0, normal, 0);
  gradientAt(span, bs.own, span.weights, span.n, own);
  gradientAt(span, bs.own, span.lowWeights, span.lowN, low);
  for (let k = 0; k < 9; k++) own[k] = weighted.push * low[k]! - (weighted.force + weighted.push) * own[k]!;
  for (let i = 0; i < 9; i += 3) toWorld(R, own, i, t.pull, i);
  arm.fill(0);
  place.fill(0);
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) {
      const v = 3 * t.verts[i]! + k,
        w = t.weights[i]!;
      t.arms[3 * i + k] = x[v]! - x[c + k]!;
      arm[k] = arm[k]! + w * t.arms[3 * i + k]!;
      place[k] = place[k]! + w * bs.own[v]!;
    }
  lever(arm[0]!, arm[1]!, arm[2]!, b.J[t.body]!, t.G);
  const limit = body.friction * weighted.force;
  let kt = 0,
    energy = 0,
    length2 = 0;
  t.friction.fill(0);
  slip.fill(0);
  if (limit > 0) {
    stretchOf(bs, body, key, normal, place);
    coulombSpring(stiffness, limit);
    kt = spring.pull;
    energy = spring.energy;
    t.friction[0] = -kt * spring.ex;
    t.friction[1] = -kt * spring.ey;
    t.friction[2] = -kt * spring.ez;
    if (spring.slips) {
      length2 = spring.length * spring.length;
      slip[0] = spring.ex;
      slip[1] = spring.ey;
      slip[2] = spring.ez;
    }
  }
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const n = normal[i]! * normal[j]!,
        along = length2 > 0 ? (slip[i]! * slip[j]!) / length2 : 0;
      t.B[3 * i + j] = weighted.stiffness * n + kt * ((i === j ? 1 : 0) - n - along);
    }
  return energy;
}

/** Friction follows the accepted state x, whose contacts were evaluated last: kept while sticking, dragged along while slipping, forgotten when apart. */
export function commitBodySpans(bs: BodySpans, b: Posed, x: Float64Array): void {
  const count = spanCount(bs.spans);
  for (let i = 0; i < b.list.length; i++) {
    const body = b.list[i]!;
    if (!lookFrom(bs, b, x, i)) continue;
    for (let id = 0; id < count; id++) {
      const k = contactWith(bs, b, i, id),
        key = i * count + id;
      if (k < 0) continue;
      toWorld(b.R[i]!, span.n, 0, normal, 0);
      place.fill(0);
      for (let q = 0; q < 3; q++) for (let j = 0; j < 3; j++) place[j] = place[j]! + span.weights[q]! * bs.own[3 * span.verts[q]! + j]!;
      stretchOf(bs, body, key, normal, place);
      const f = keptShare(k, body.friction * weighted.force);
      noteStretch(bs.memory, key, f * spring.ex, f * spring.ey, f * spring.ez);
    }
  }
  acceptNoted(bs.memory, x);
}
