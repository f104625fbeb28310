import type { Model, RigidBody } from '../../types.ts';
import { lever, orient } from '../body/pose.ts';
import { remember, type Slip } from '../coulomb.ts';
import { rub, rubbed } from '../normal-law.ts';
import { distance } from '../support/shapes.ts';
import { give, turned } from './body-span-scatter.ts';
import { spanHessian } from './span-hessian.ts';
import { felt, weigh } from './span-law.ts';
import { BULGE, createSpan, createSpans, edgeSpan, faceSpan, gradientAt, meanOver, type Spans, usePoints } from './spans.ts';

/** One edge or face that a body reaches between the sheet's points. All in world directions. */
export interface BodySpan {
  body: number;
  readonly verts: Int32Array;
  readonly weights: Float64Array;
  /** 9: from the body's centre to each vertex. */ readonly arms: Float64Array;
  /** 9: gradient of the contact's energy at each vertex, friction left out, N. */ readonly pull: Float64Array;
  /** 3: force at the nearest place on the sheet by friction, N. */ readonly rub: Float64Array;
  /** 9: stiffness of the nearest place against the body. */ readonly B: Float64Array;
  /** 81: what the exact Hessian has besides. */ readonly more: Float64Array;
  /** 9: motion of the body at the nearest place per step of its rotation unknown. */ readonly G: Float64Array;
}

/**
 * Rigid bodies against the sheet between its points, as contact/edge-face/span-force.ts has it for supports. Left out, a book's corner stood 4-15 mm through soft cloth of
 * 20-30 mm (test/run/contents.test.ts). Mutable.
 */
export interface BodySpans extends Slip {
  readonly spans: Spans;
  /** 3n: the sheet in the frame of the body looked at, and n distances from it. */ readonly own: Float64Array;
  readonly apart: Float64Array;
  readonly touch: BodySpan[];
  count: number;
}

/** What the forces need of the bodies (contact/body/bodies.ts). */
export interface Posed {
  readonly model: Model;
  readonly list: readonly RigidBody[];
  /** Orientations and Jacobians at the positions last posed. */ readonly R: readonly Float64Array[];
  readonly J: readonly Float64Array[];
  readonly onSheet: Float64Array;
  deepest: number;
}

export const createBodySpans = (model: Model): BodySpans => ({
  spans: createSpans(model),
  own: new Float64Array(3 * model.vertexCount),
  apart: new Float64Array(model.vertexCount),
  touch: [],
  count: 0,
  memory: new Map(),
  committed: new Float64Array(3 * model.vertexCount),
});

const span = createSpan(),
  out4 = new Float64Array(4),
  slide = new Float64Array(3),
  H = new Float64Array(81),
  then = { R: new Float64Array(9), J: new Float64Array(9) };

/** Puts the sheet at x into body i's frame and measures it; false where all of it is further than `reach`. Mutates bs. */
export function measureFrom(bs: BodySpans, b: Posed, x: Float64Array, i: number, reach: number): boolean {
  const { own, apart, spans } = bs,
    { shape } = b.list[i]!,
    R = b.R[i]!,
    c = 3 * b.list[i]!.at;
  for (let v = 0; v < spans.inSheet.length; v++) {
    if (!spans.inSheet[v]) continue;
    const [dx, dy, dz] = [x[3 * v]! - x[c]!, x[3 * v + 1]! - x[c + 1]!, x[3 * v + 2]! - x[c + 2]!];
    own[3 * v] = R[0]! * dx + R[3]! * dy + R[6]! * dz;
    own[3 * v + 1] = R[1]! * dx + R[4]! * dy + R[7]! * dz;
    own[3 * v + 2] = R[2]! * dx + R[5]! * dy + R[8]! * dz;
    distance(shape, own[3 * v]!, own[3 * v + 1]!, own[3 * v + 2]!, out4);
    apart[v] = out4[0]!;
  }
  return usePoints(spans, apart, reach);
}

/** Calls `visit` for every edge and face that body i reaches between points, nearer than its offset; the span, in the body's frame, is in `span`. */
function each(bs: BodySpans, b: Posed, x: Float64Array, visit: (i: number, body: RigidBody, key: number) => void): void {
  const { spans, own } = bs,
    E = spans.edges.length / 2,
    m = b.model.triVerts.length / 3;
  b.list.forEach((body, i) => {
    if (!measureFrom(bs, b, x, i, body.offset)) return;
    orient(body, bs.committed, 3 * (body.at + 1), then.R, then.J);
    for (let e = 0; e < E; e++) if (edgeSpan(spans, body.shape, own, e, body.offset, span) && span.between) visit(i, body, i * (E + m) + span.id);
    for (let f = 0; f < m; f++) if (faceSpan(spans, body.shape, own, f, body.offset, BULGE, span) && span.between) visit(i, body, i * (E + m) + span.id);
  });
}

/**
 * How far the nearest place is stretched sideways against the body, into `slide` (world): what it remembers, the sheet's motion there since the last commit and
 * the body's own (its orientation then is in `then`), square to the normal n (world). p: the place in the body's frame. Returns its length.
 */
function stretch(bs: BodySpans, body: RigidBody, key: number, n: Float64Array, p: Float64Array): number {
  const old = bs.memory.get(key),
    x = bs.committed,
    c = 3 * body.at;
  let along = 0;
  for (let k = 0; k < 3; k++) {
    // Where the body's material at the place was then, less where the sheet's was.
    slide[k] = (old ? old[k]! : 0) + x[c + k]!;
    for (let j = 0; j < 3; j++) slide[k] = slide[k]! + then.R[3 * k + j]! * p[j]!;
    for (let i = 0; i < 3; i++) slide[k] = slide[k]! - span.weights[i]! * x[3 * span.verts[i]! + k]!;
    along += slide[k]! * n[k]!;
  }
  for (let k = 0; k < 3; k++) slide[k] = slide[k]! - along * n[k]!;
  return Math.sqrt(slide[0]! ** 2 + slide[1]! ** 2 + slide[2]! ** 2);
}

/** v (own directions, at q) in world directions, to out at o. */
function toWorld(R: Float64Array, v: Float64Array, q: number, out: Float64Array, o: number): void {
  const [a, b, c] = [v[q]!, v[q + 1]!, v[q + 2]!];
  for (let k = 0; k < 3; k++) out[o + k] = R[3 * k]! * a + R[3 * k + 1]! * b + R[3 * k + 2]! * c;
}

const place = new Float64Array(3),
  normal = new Float64Array(3),
  own = new Float64Array(9),
  low = new Float64Array(9);

/**
 * Adds the contacts' gradient to g (3n) and their blocks to diag (9n); returns their energy, J. stiffness: of vertex v against body i, N/m. The sheet's blocks
 * are w B, not w^2 B: the preconditioner eliminates the body exactly (body-schur.ts), and what is left must stay positive. Mutates bs and b.
 */
export function evaluateBodySpans(
  bs: BodySpans,
  b: Posed,
  x: Float64Array,
  g: Float64Array | null,
  diag: Float64Array | null,
  stiffness: (v: number, i: number) => number,
): number {
  let energy = 0;
  bs.count = 0;
  each(bs, b, x, (i, body, key) => {
    const k = meanOver(span, (v) => stiffness(v, i));
    weigh(span, k, body.offset);
    energy += felt.energy;
    if (-span.d > b.deepest) b.deepest = -span.d;
    const t = next(bs);
    t.body = i;
    t.verts.set(span.verts);
    t.weights.set(span.weights);
    energy += fill(bs, b, x, t, body, key, k);
    if (diag) {
      spanHessian(body.shape, bs.own, span, H);
      turned(H, b.R[i]!, t.more);
    }
    give(b, t, g, diag);
  });
  return energy;
}

function next(bs: BodySpans): BodySpan {
  if (bs.count === bs.touch.length) {
    const f = (k: number) => new Float64Array(k);
    bs.touch.push({
      body: 0,
      verts: new Int32Array(3),
      weights: f(3),
      arms: f(9),
      pull: f(9),
      rub: f(3),
      B: f(9),
      more: f(81),
      G: f(9),
    });
  }
  return bs.touch[bs.count++]!;
}

/** Forces and stiffness of the contact in `span` and `felt`, to t; returns what friction adds to the energy. */
function fill(bs: BodySpans, b: Posed, x: Float64Array, t: BodySpan, body: RigidBody, key: number, stiffness: number): number {
  const R = b.R[t.body]!,
    J = b.J[t.body]!,
    c = 3 * body.at;
  toWorld(R, span.n, 0, normal, 0);
  gradientAt(span, bs.own, span.weights, span.n, own);
  gradientAt(span, bs.own, span.lowWeights, span.lowN, low);
  for (let k = 0; k < 9; k++) own[k] = felt.push * low[k]! - (felt.force + felt.push) * own[k]!;
  for (let i = 0; i < 9; i += 3) toWorld(R, own, i, t.pull, i);
  const arm = [0, 0, 0];
  place.fill(0);
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) {
      const v = 3 * t.verts[i]! + k,
        w = t.weights[i]!;
      t.arms[3 * i + k] = x[v]! - x[c + k]!;
      arm[k]! += w * t.arms[3 * i + k]!;
      place[k] = place[k]! + w * bs.own[v]!;
    }
  const [rx, ry, rz] = arm as [number, number, number];
  lever(rx, ry, rz, J, t.G);
  const limit = body.friction * felt.force;
  let [kt, slips, energy, l] = [0, false, 0, 0];
  t.rub.fill(0);
  if (limit > 0) {
    l = stretch(bs, body, key, normal, place);
    rub(stiffness, l, limit);
    ({ slips, pull: kt, energy } = rubbed);
    for (let k = 0; k < 3; k++) t.rub[k] = -kt * slide[k]!;
  }
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const n = normal[i]! * normal[j]!,
        along = slips ? (slide[i]! * slide[j]!) / (l * l) : 0;
      t.B[3 * i + j] = felt.stiffness * n + kt * ((i === j ? 1 : 0) - n - along);
    }
  return energy;
}

/** Friction follows the accepted state x, whose contacts were evaluated last: kept while sticking, dragged along while slipping, forgotten when apart. */
export function commitBodySpans(bs: BodySpans, b: Posed, x: Float64Array, stiffness: (v: number, i: number) => number): void {
  const kept: [number, readonly [number, number, number]][] = [];
  each(bs, b, x, (i, body, key) => {
    const k = meanOver(span, (v) => stiffness(v, i));
    weigh(span, k, body.offset);
    toWorld(b.R[i]!, span.n, 0, normal, 0);
    place.fill(0);
    for (let q = 0; q < 3; q++) for (let j = 0; j < 3; j++) place[j] = place[j]! + span.weights[q]! * bs.own[3 * span.verts[q]! + j]!;
    const l = k * stretch(bs, body, key, normal, place),
      limit = body.friction * felt.force,
      f = l > limit ? limit / l : 1;
    kept.push([key, [f * slide[0]!, f * slide[1]!, f * slide[2]!]]);
  });
  remember(bs, kept, x);
}
