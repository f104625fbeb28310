import type { Model, Support } from '../../types.ts';
import { coulombSpring, keptShare, noSpring, spring, tangentialStretch } from '../coulomb.ts';
import { acceptNoted, createMemory, type FrictionMemory, noteStretch, slotOf } from '../friction-memory.ts';
import type { SupportContact } from '../support/support.ts';
import { spanHessian } from './span-hessian.ts';
import { weighted, weightedContact } from './span-law.ts';
import { createSpan, createSpans, gradientAt, meanOver, type Spans, spanBetween, spanCount, usePoints } from './spans.ts';

/**
 * Supports that are not flat, against the sheet between its points: every edge and face whose nearest point lies inside it. Left out, cloth of 16 mm cut
 * 2.6-4.6 mm through a box's edges, a can's rim and a ball of 30 mm (test/run/ground.test.ts).
 */
export interface SpanContact {
  readonly model: Model;
  readonly spans: Spans;
  /** Supports looked at: [number, support]. */ readonly supports: readonly (readonly [number, Support])[];
  /** Points' forces and stiffness, which these join. */ readonly points: SupportContact;
  readonly memory: FrictionMemory;
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
    memory: createMemory(model.vertexCount),
  };
}

const span = createSpan(),
  own = new Float64Array(9),
  low = new Float64Array(9),
  slip = new Float64Array(3);

/** Tangential stretch of the span's nearest place, to `spring`: what it remembers and its motion since the last commit, square to the normal. */
function stretchOf(c: SpanContact, x: Float64Array, key: number): void {
  const { committed, stretch } = c.memory,
    old = slotOf(c.memory, key);
  let ux = old < 0 ? 0 : stretch[old]!,
    uy = old < 0 ? 0 : stretch[old + 1]!,
    uz = old < 0 ? 0 : stretch[old + 2]!;
  for (let i = 0; i < 3; i++) {
    const v = 3 * span.verts[i]!,
      w = span.weights[i]!;
    ux += w * (x[v]! - committed[v]!);
    uy += w * (x[v + 1]! - committed[v + 1]!);
    uz += w * (x[v + 2]! - committed[v + 2]!);
  }
  tangentialStretch(ux, uy, uz, span.n[0]!, span.n[1]!, span.n[2]!);
}

/** Energy, J; adds the gradient to g (3n), 3x3 diagonals to diag (9n), and each support's force on the sheet to its points' forces. Call right after evaluateSupports at the same x. */
export function evaluateSpans(c: SpanContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const { spans, points } = c,
    count = spanCount(spans);
  let energy = 0;
  c.count = 0;
  for (const [number, sup] of c.supports) {
    if (!usePoints(spans, points.distances[number]!, sup.offset)) continue;
    for (let id = 0; id < count; id++)
      if (spanBetween(spans, sup.sdf, x, id, sup.offset, span)) energy = addSpan(c, x, number, sup, number * count + id, g, diag, energy);
  }
  return energy;
}

/** Adds the contact in `span` to gradient, blocks and forces; returns the energy before, J, and its own. */
function addSpan(
  c: SpanContact,
  x: Float64Array,
  number: number,
  sup: Support,
  key: number,
  g: Float64Array | null,
  diag: Float64Array | null,
  before: number,
): number {
  const k = meanOver(span, c.points.stiffness[number]!),
    force = c.points.force[number]!;
  weightedContact(span, k, sup.offset);
  c.points.touching++;
  if (-span.d > c.points.deepest) c.points.deepest = -span.d;
  const N = weighted.force;
  if (sup.friction > 0 && N > 0) {
    stretchOf(c, x, key);
    coulombSpring(meanOver(span, c.points.tangential[number]!), sup.friction * N);
  } else noSpring();
  const kt = spring.pull,
    fx = 0 - kt * spring.ex,
    fy = 0 - kt * spring.ey,
    fz = 0 - kt * spring.ez,
    energy = before + weighted.energy + spring.energy;
  const at = c.count;
  keep(c, weighted.stiffness, kt, spring.tx, spring.ty, spring.tz);
  if (diag) spanHessian(sup.sdf, x, span, c.more.subarray(81 * at, 81 * at + 81));
  gradientAt(span, x, span.weights, span.n, own);
  gradientAt(span, x, span.lowWeights, span.lowN, low);
  for (let i = 0; i < 3; i++) {
    const w = span.weights[i]!,
      v = span.verts[i]!;
    if (c.model.held[v]) continue;
    for (let j = 0; j < 3; j++) {
      const f = (weighted.force + weighted.push) * own[3 * i + j]! - weighted.push * low[3 * i + j]! + w * (j === 0 ? fx : j === 1 ? fy : fz);
      force[3 * v + j] = force[3 * v + j]! + f;
      if (g) g[3 * v + j] = g[3 * v + j]! - f;
    }
    if (!diag) continue;
    slip[0] = spring.tx;
    slip[1] = spring.ty;
    slip[2] = spring.tz;
    addBlock(diag, 9 * v, w * w * weighted.stiffness, w * w * kt, span.n, slip);
  }
  return energy;
}

/** addContactBlock() in another order of its products. */
function addBlock(diag: Float64Array, q: number, s: number, h: number, n: Float64Array, t: Float64Array): void {
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
      nx = data[q + 3]!,
      ny = data[q + 4]!,
      nz = data[q + 5]!,
      kn = data[q + 6]!,
      kt = data[q + 7]!,
      tx = data[q + 8]!,
      ty = data[q + 9]!,
      tz = data[q + 10]!;
    let sx = 0,
      sy = 0,
      sz = 0;
    for (let i = 0; i < 3; i++) {
      const v = 3 * verts[3 * k + i]!,
        w = data[q + i]!;
      sx += w * p[v]!;
      sy += w * p[v + 1]!;
      sz += w * p[v + 2]!;
    }
    for (let i = 0; i < 3; i++) {
      const v = 3 * verts[3 * k + i]!,
        w = data[q + i]!,
        // The own part w p_i sits in the diagonal already.
        ux = sx - w * p[v]!,
        uy = sy - w * p[v + 1]!,
        uz = sz - w * p[v + 2]!,
        un = ux * nx + uy * ny + uz * nz,
        ut = ux * tx + uy * ty + uz * tz,
        a = w * (kn - kt) * un,
        b = w * kt;
      out[v] = out[v]! + a * nx + b * (ux - ut * tx);
      out[v + 1] = out[v + 1]! + a * ny + b * (uy - ut * ty);
      out[v + 2] = out[v + 2]! + a * nz + b * (uz - ut * tz);
    }
    if (c.exact) applyMore(c, k, p, out);
  }
}

/** out += what contact k's exact Hessian has besides its blocks, times p. */
function applyMore({ verts, more }: SpanContact, k: number, p: Float64Array, out: Float64Array): void {
  for (let i = 0; i < 9; i++) {
    let f = 0;
    for (let j = 0; j < 9; j++) f += more[81 * k + 9 * i + j]! * p[3 * verts[3 * k + ((j / 3) | 0)]! + (j % 3)]!;
    const o = 3 * verts[3 * k + ((i / 3) | 0)]! + (i % 3);
    out[o] = out[o]! + f;
  }
}

/** Friction follows the accepted state x: kept while sticking, dragged along while slipping, forgotten when apart. Call right after commitFriction at the same x. */
export function commitSpans(c: SpanContact, x: Float64Array): void {
  const { spans, points, memory } = c,
    count = spanCount(spans);
  for (const [number, sup] of c.supports) {
    if (!usePoints(spans, points.distances[number]!, sup.offset)) continue;
    for (let id = 0; id < count; id++) {
      if (!spanBetween(spans, sup.sdf, x, id, sup.offset, span)) continue;
      const kt = meanOver(span, points.tangential[number]!),
        key = number * count + id;
      weightedContact(span, meanOver(span, points.stiffness[number]!), sup.offset);
      stretchOf(c, x, key);
      const f = keptShare(kt, sup.friction * weighted.force);
      noteStretch(memory, key, f * spring.ex, f * spring.ey, f * spring.ez);
    }
  }
  acceptNoted(memory, x);
}
