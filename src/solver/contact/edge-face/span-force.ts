import type { Model, Support } from '../../types.ts';
import { remember, type Slip } from '../coulomb.ts';
import { rub, rubbed } from '../normal-law.ts';
import type { SupportContact } from '../support/support.ts';
import { spanHessian } from './span-hessian.ts';
import { felt, weigh } from './span-law.ts';
import { BULGE, createSpan, createSpans, edgeSpan, faceSpan, gradientAt, meanOver, type Spans, usePoints } from './spans.ts';

/**
 * Supports that are not flat, against the sheet between its points: every edge and face whose nearest point lies inside it. Left out, cloth of 16 mm cut
 * 2.6-4.6 mm through a box's edges, a can's rim and a ball of 30 mm (test/run/ground.test.ts).
 */
export interface SpanContact extends Slip {
  readonly model: Model;
  readonly spans: Spans;
  /** Supports looked at: [number, support]. */ readonly supports: readonly (readonly [number, Support])[];
  /** Points' forces and stiffness, which these join. */ readonly points: SupportContact;
  /** Contacts of the last evaluation: 3 vertices each; then 3 weights, normal, stiffness along and across it, direction of slip. */
  verts: Int32Array;
  data: Float64Array;
  /** 81 per contact: what is left out of the blocks, for the exact Hessian. */ more: Float64Array;
  count: number;
  /** The exact Hessian is wanted. */ exact: boolean;
}

/** Numbers per contact in `data`. */
const DATA = 11;

export function createSpanContact(model: Model, points: SupportContact): SpanContact | null {
  const supports = model.supports.map((s, i) => [i, s] as const).filter(([, s]) => s.sdf.kind !== 'plane');
  if (supports.length === 0 || model.triVerts.length === 0) return null;
  return {
    model,
    spans: createSpans(model),
    supports,
    points,
    verts: new Int32Array(3 * 64),
    data: new Float64Array(DATA * 64),
    more: new Float64Array(81 * 64),
    count: 0,
    exact: true,
    memory: new Map(),
    committed: new Float64Array(3 * model.vertexCount),
  };
}

const span = createSpan(),
  slide = new Float64Array(3),
  own = new Float64Array(9),
  low = new Float64Array(9);

/** Calls `visit` for every edge and face that a support reaches between points, nearer than its offset; the span is in `span`. */
function each(c: SpanContact, x: Float64Array, visit: (number: number, support: Support, k: number, key: number) => void): void {
  const { spans, points } = c,
    E = spans.edges.length / 2,
    m = c.model.triVerts.length / 3;
  for (const [number, sup] of c.supports) {
    const K = points.stiffness[number]!,
      base = number * (E + m);
    if (!usePoints(spans, points.apart[number]!, sup.offset)) continue;
    const found = (): void =>
      visit(
        number,
        sup,
        meanOver(span, (v) => K[v]!),
        base + span.id,
      );
    for (let e = 0; e < E; e++) if (edgeSpan(spans, sup.sdf, x, e, sup.offset, span) && span.between) found();
    for (let f = 0; f < m; f++) if (faceSpan(spans, sup.sdf, x, f, sup.offset, BULGE, span) && span.between) found();
  }
}

/** How far the span's nearest place is stretched sideways, into `slide`: what it remembers and its motion since the last commit, square to the normal. Returns its length. */
function stretch(c: SpanContact, x: Float64Array, key: number): number {
  const old = c.memory.get(key),
    e = slide;
  let along = 0;
  for (let k = 0; k < 3; k++) {
    e[k] = old ? old[k]! : 0;
    for (let i = 0; i < 3; i++) e[k] = e[k]! + span.weights[i]! * (x[3 * span.verts[i]! + k]! - c.committed[3 * span.verts[i]! + k]!);
    along += e[k]! * span.n[k]!;
  }
  for (let k = 0; k < 3; k++) e[k] = e[k]! - along * span.n[k]!;
  return Math.sqrt(e[0]! * e[0]! + e[1]! * e[1]! + e[2]! * e[2]!);
}

/** Energy, J; adds the gradient to g (3n), 3x3 diagonals to diag (9n), and each support's force on the sheet to its points' forces. Call right after evaluateSupports at the same x. */
export function evaluateSpans(c: SpanContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  let energy = 0;
  c.count = 0;
  each(c, x, (number, sup, k, key) => {
    weigh(span, k, sup.offset);
    energy += felt.energy;
    c.points.touching++;
    if (-span.d > c.points.deepest) c.points.deepest = -span.d;
    const N = felt.force,
      [nx, ny, nz] = [span.n[0]!, span.n[1]!, span.n[2]!];
    let kt = 0,
      [fx, fy, fz] = [0, 0, 0],
      [tx, ty, tz] = [0, 0, 0];
    if (sup.friction > 0 && N > 0) {
      const l = stretch(c, x, key);
      rub(k, l, sup.friction * N);
      const { slips } = rubbed;
      kt = rubbed.pull;
      energy += rubbed.energy;
      fx -= kt * slide[0]!;
      fy -= kt * slide[1]!;
      fz -= kt * slide[2]!;
      if (slips) [tx, ty, tz] = [slide[0]! / l, slide[1]! / l, slide[2]! / l];
    }
    const at = c.count;
    keep(c, felt.stiffness, kt, tx, ty, tz);
    if (diag) spanHessian(sup.sdf, x, span, c.more.subarray(81 * at, 81 * at + 81));
    gradientAt(span, x, span.weights, span.n, own);
    gradientAt(span, x, span.lowWeights, span.lowN, low);
    const force = c.points.force[number]!;
    for (let i = 0; i < 3; i++) {
      const w = span.weights[i]!,
        v = span.verts[i]!,
        push = (k: number): number => (felt.force + felt.push) * own[3 * i + k]! - felt.push * low[3 * i + k]!;
      if (c.model.held[v]) continue;
      const out = [push(0) + w * fx, push(1) + w * fy, push(2) + w * fz];
      for (let j = 0; j < 3; j++) {
        force[3 * v + j] = force[3 * v + j]! + out[j]!;
        if (g) g[3 * v + j] = g[3 * v + j]! - out[j]!;
      }
      if (diag) addBlock(diag, 9 * v, w * w * felt.stiffness, w * w * kt, nx, ny, nz, tx, ty, tz);
    }
  });
  return energy;
}

function addBlock(diag: Float64Array, q: number, s: number, h: number, nx: number, ny: number, nz: number, tx: number, ty: number, tz: number): void {
  const n = [nx, ny, nz],
    t = [tx, ty, tz];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) diag[q + 3 * i + j] = diag[q + 3 * i + j]! + s * n[i]! * n[j]! + h * ((i === j ? 1 : 0) - n[i]! * n[j]! - t[i]! * t[j]!);
}

function keep(c: SpanContact, kn: number, kt: number, tx: number, ty: number, tz: number): void {
  if (3 * c.count === c.verts.length) {
    const [verts, data, more] = [new Int32Array(2 * c.verts.length), new Float64Array(2 * c.data.length), new Float64Array(2 * c.more.length)];
    verts.set(c.verts);
    data.set(c.data);
    more.set(c.more);
    c.verts = verts;
    c.data = data;
    c.more = more;
  }
  c.verts.set(span.verts, 3 * c.count);
  const q = DATA * c.count++;
  c.data.set(span.weights, q);
  c.data.set(span.n, q + 3);
  c.data[q + 6] = kn;
  c.data[q + 7] = kt;
  c.data[q + 8] = tx;
  c.data[q + 9] = ty;
  c.data[q + 10] = tz;
}

/** out += (stiffness of the contacts last evaluated, without the 3x3 diagonals that the caller has) p. */
export function applySpans(c: SpanContact, p: Float64Array, out: Float64Array): void {
  const { verts, data } = c;
  for (let k = 0; k < c.count; k++) {
    const q = DATA * k,
      [nx, ny, nz] = [data[q + 3]!, data[q + 4]!, data[q + 5]!],
      [kn, kt] = [data[q + 6]!, data[q + 7]!],
      [tx, ty, tz] = [data[q + 8]!, data[q + 9]!, data[q + 10]!];
    let [sx, sy, sz] = [0, 0, 0];
    for (let i = 0; i < 3; i++) {
      const v = 3 * verts[3 * k + i]!,
        w = data[q + i]!;
      sx += w * p[v]!;
      sy += w * p[v + 1]!;
      sz += w * p[v + 2]!;
    }
    for (let i = 0; i < 3; i++) {
      const v = 3 * verts[3 * k + i]!,
        w = data[q + i]!;
      // The own part w p_i sits in the diagonal already.
      const [ux, uy, uz] = [sx - w * p[v]!, sy - w * p[v + 1]!, sz - w * p[v + 2]!],
        un = ux * nx + uy * ny + uz * nz,
        ut = ux * tx + uy * ty + uz * tz,
        a = w * (kn - kt) * un,
        b = w * kt;
      out[v] = out[v]! + a * nx + b * (ux - ut * tx);
      out[v + 1] = out[v + 1]! + a * ny + b * (uy - ut * ty);
      out[v + 2] = out[v + 2]! + a * nz + b * (uz - ut * tz);
    }
    if (!c.exact) continue;
    for (let i = 0; i < 9; i++) {
      let f = 0;
      for (let j = 0; j < 9; j++) f += c.more[81 * k + 9 * i + j]! * p[3 * verts[3 * k + ((j / 3) | 0)]! + (j % 3)]!;
      const o = 3 * verts[3 * k + ((i / 3) | 0)]! + (i % 3);
      out[o] = out[o]! + f;
    }
  }
}

/** Friction follows the accepted state x: kept while sticking, dragged along while slipping, forgotten when apart. Call right after commitFriction at the same x. */
export function commitSpans(c: SpanContact, x: Float64Array): void {
  const next: [number, readonly [number, number, number]][] = [];
  each(c, x, (_, sup, k, key) => {
    weigh(span, k, sup.offset);
    const l = k * stretch(c, x, key),
      limit = sup.friction * felt.force,
      f = l > limit ? limit / l : 1;
    next.push([key, [f * slide[0]!, f * slide[1]!, f * slide[2]!]]);
  });
  remember(c, next, x);
}
