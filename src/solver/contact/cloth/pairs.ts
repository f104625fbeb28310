import { GRAVITY, libm } from '../../../numerics/index.ts';
import type { Model } from '../../types.ts';
import type { Work } from '../../work.ts';
import { createMemory, type FrictionMemory } from '../friction-memory.ts';
import { buildGrid, type Grid, overlaps, Records } from './broad-phase.ts';
import { crossness, edgeEdge, vertexTriangle } from './closest.ts';
import type { ContactFree } from './contact-free.ts';
import { edgesOf } from './edges.ts';

/**
 * Cloth on cloth: every vertex against every triangle, every edge against every edge, except where they share a vertex.
 * x must be free of crossings on entry; truncatePairs keeps it so, because the planes that separate the pairs stay separating
 * along the whole straight step. Candidates of one step serve truncation and, after it, the forces.
 */
export interface PairContact {
  readonly model: Model;
  /** Activation distance, m: nearer than this sheets repel each other. */ readonly r: number;
  /** n contact stiffness per vertex, N/m */ readonly stiffness: Float64Array;
  readonly friction: number;
  /** 2E unique edges: the sheet's, then the straps' pieces that it meets. */ readonly edges: Uint32Array;
  /** How many of them are the sheet's: straps do not meet one another. */ readonly sheetEdges: number;
  readonly meanEdge: number;
  /** n: 1 for a corner of some triangle, or a strap's point that the cloth meets. */ readonly meets: Uint8Array;
  /** Candidates of the last sweep: (vertex, triangle) and (edge, edge). */ readonly vt: Records;
  readonly ee: Records;
  /** Active pairs at the current x, 4 vertices each; then 4 weights, normal (3), force scale E', stiffness E'', tangent data. */
  activeVerts: Int32Array;
  activeData: Float64Array;
  active: number;
  readonly contactFree: ContactFree;
  readonly memory: FrictionMemory;
  /** Keys of active pairs (friction memory): vertex-triangle v * m + t, edge pairs -1 - e * E - f. */ activeKeys: Float64Array;
}

/** Numbers per active pair in activeData. */
export const PAIR = 14;

/** Activation distance, m, and the share of the mean edge that it must stay under (well below a triangle's altitude). */
const ACTIVATION = 1e-3;
const ACTIVATION_SHARE = 0.15;
/** Cloth on cloth: 0.3 read for cotton threads (check value fr_cotton-cotton threads). */
const CLOTH_FRICTION = 0.3;

/** Mean rest length of the triangles' first edges, m. */
function meanFirstEdge({ triRest: X, triVerts }: Model): number {
  let sum = 0;
  for (let q = 0; q < 2 * triVerts.length; q += 6) sum += libm.hypot(X[q + 2]! - X[q]!, X[q + 3]! - X[q + 1]!);
  return sum / (triVerts.length / 3);
}

/** Activation distance of sheets of this model, m: nearer than this they repel each other. */
export const activationDistance = (model: Model, meanEdge = meanFirstEdge(model)): number => Math.min(ACTIVATION, ACTIVATION_SHARE * meanEdge);

export function createPairContact(model: Model, friction = CLOTH_FRICTION): PairContact {
  const n = model.vertexCount,
    g = libm.norm(model.gravity) || GRAVITY,
    { edges, inSheet } = edgesOf(model),
    contactEdges = model.cables?.contactEdges ?? new Uint32Array(0);
  for (const v of contactEdges) inSheet[v] = 1;
  const meanEdge = meanFirstEdge(model),
    r = activationDistance(model, meanEdge);
  return {
    model,
    r,
    friction,
    stiffness: model.mass.map((m, v) => (60 * Math.max(m * g, model.pressed?.[v] ?? 0)) / r),
    edges: Uint32Array.from([...edges, ...contactEdges]),
    sheetEdges: edges.length / 2,
    meanEdge,
    meets: inSheet,
    vt: new Records(2),
    ee: new Records(2),
    activeVerts: new Int32Array(4 * 256),
    activeData: new Float64Array(PAIR * 256),
    activeKeys: new Float64Array(256),
    active: 0,
    contactFree: { centre: new Float64Array(3 * n), radius: 0, wait: 0 },
    memory: createMemory(n),
  };
}

/** Points, and edges, that are looked at before others may look in. */
const AT_ONCE = 4096;

/**
 * Fills the candidate lists with all pairs whose swept boxes {x, x + d}, inflated by `pad` each (half of what they feel), overlap. In steps: of a mesh of 10 000 points it takes a
 * tenth of a second and more.
 */
export function* sweeping(pc: PairContact, x: Float64Array, d: Float64Array, pad = pc.r / 2): Work<void> {
  const { model, edges, vt, ee } = pc,
    n = model.vertexCount,
    m = model.triVerts.length / 3,
    E = edges.length / 2,
    { tb, eb, vb } = sweptBoxes(pc, x, d, pad);
  vt.clear();
  ee.clear();
  yield;
  const cell = 0.8 * pc.meanEdge,
    tGrid = buildGrid(tb, cell),
    found = new Int32Array(Math.max(m, E)),
    tSeen = new Int32Array(m);
  yield;
  for (let v = 0; v < n; v += AT_ONCE) {
    pointsNearTriangles(pc, tGrid, tb, vb, tSeen, found, v, Math.min(n, v + AT_ONCE));
    yield;
  }
  const eGrid = buildGrid(eb, cell),
    eSeen = new Int32Array(E);
  yield;
  for (let e = 0; e < pc.sheetEdges; e += AT_ONCE) {
    edgesNearEdges(pc, eGrid, eb, eSeen, found, e, Math.min(pc.sheetEdges, e + AT_ONCE));
    yield;
  }
}

/** Boxes of points, triangles and edges on their way, 6 numbers each. */
function sweptBoxes({ model, edges }: PairContact, x: Float64Array, d: Float64Array, pad: number) {
  const n = model.vertexCount,
    tri = model.triVerts,
    m = tri.length / 3,
    E = edges.length / 2;
  const vb = new Float64Array(6 * n),
    tb = new Float64Array(6 * m),
    eb = new Float64Array(6 * E);
  for (let v = 0; v < n; v++) {
    for (let k = 0; k < 3; k++) {
      const a = x[3 * v + k]!,
        b = a + d[3 * v + k]!;
      vb[6 * v + k] = Math.min(a, b) - pad;
      vb[6 * v + 3 + k] = Math.max(a, b) + pad;
    }
  }
  for (let t = 0; t < m; t++) unite(vb, tri[3 * t]!, tri[3 * t + 1]!, tri[3 * t + 2]!, tb, t);
  for (let e = 0; e < E; e++) unite(vb, edges[2 * e]!, edges[2 * e + 1]!, edges[2 * e + 1]!, eb, e);
  return { vb, tb, eb };
}

function pointsNearTriangles(
  pc: PairContact,
  grid: Grid,
  tb: Float64Array,
  vb: Float64Array,
  seen: Int32Array,
  found: Int32Array,
  from: number,
  to: number,
): void {
  const { vt, meets } = pc,
    tri = pc.model.triVerts;
  for (let v = from; v < to; v++) {
    if (!meets[v]) continue;
    const count = overlaps(grid, tb, vb, v, seen, v + 1, found);
    for (let i = 0; i < count; i++) {
      const t = found[i]!;
      if (tri[3 * t] !== v && tri[3 * t + 1] !== v && tri[3 * t + 2] !== v) vt.push2(v, t);
    }
  }
}

/** The sheet's edges come first, so each pair has one of them. */
function edgesNearEdges(pc: PairContact, grid: Grid, eb: Float64Array, seen: Int32Array, found: Int32Array, from: number, to: number): void {
  const { edges, ee } = pc;
  for (let e = from; e < to; e++) {
    const a = edges[2 * e]!,
      b = edges[2 * e + 1]!,
      count = overlaps(grid, eb, eb, e, seen, e + 1, found);
    for (let i = 0; i < count; i++) {
      const f = found[i]!;
      if (f <= e) continue;
      const c = edges[2 * f]!,
        g = edges[2 * f + 1]!;
      if (c !== a && c !== b && g !== a && g !== b) ee.push2(e, f);
    }
  }
}

function unite(vb: Float64Array, a: number, b: number, c: number, out: Float64Array, i: number): void {
  for (let k = 0; k < 3; k++) {
    out[6 * i + k] = Math.min(vb[6 * a + k]!, vb[6 * b + k]!, vb[6 * c + k]!);
    out[6 * i + 3 + k] = Math.max(vb[6 * a + 3 + k]!, vb[6 * b + 3 + k]!, vb[6 * c + 3 + k]!);
  }
}

/** Recomputes the active list (pairs closer than r at x) from the candidates of the last sweep. */
export function activate(pc: PairContact, x: Float64Array): void {
  const { model, edges, r } = pc,
    tri = model.triVerts,
    out = new Float64Array(8),
    m = tri.length / 3;
  pc.active = 0;
  for (let p = 0; p < pc.vt.count; p++) {
    const v = pc.vt.data[2 * p]!,
      t = pc.vt.data[2 * p + 1]!,
      a = tri[3 * t]!,
      b = tri[3 * t + 1]!,
      c = tri[3 * t + 2]!;
    if (farFrom(x, v, a, b, c, r)) continue;
    vertexTriangle(x, v, a, b, c, out);
    if (out[0]! < r) append(pc, v, a, b, c, v * m + t);
  }
  for (let p = 0; p < pc.ee.count; p++) {
    const e = pc.ee.data[2 * p]!,
      f = pc.ee.data[2 * p + 1]!,
      a = edges[2 * e]!,
      b = edges[2 * e + 1]!,
      c = edges[2 * f]!,
      d = edges[2 * f + 1]!;
    if (boxesApart(x, a, b, c, d, r)) continue;
    edgeEdge(x, a, b, c, d, out);
    if (out[0]! < r && crossness(x, a, b, c, d) > 1e-10) append(pc, a, b, c, d, -1 - e * (edges.length / 2) - f);
  }
}

function farFrom(x: Float64Array, v: number, a: number, b: number, c: number, r: number): boolean {
  for (let k = 0; k < 3; k++) {
    const p = x[3 * v + k]!,
      q = x[3 * a + k]!,
      s = x[3 * b + k]!,
      u = x[3 * c + k]!;
    if ((p + r < q && p + r < s && p + r < u) || (p - r > q && p - r > s && p - r > u)) return true;
  }
  return false;
}

function boxesApart(x: Float64Array, a: number, b: number, c: number, d: number, r: number): boolean {
  for (let k = 0; k < 3; k++) {
    const p = x[3 * a + k]!,
      q = x[3 * b + k]!,
      s = x[3 * c + k]!,
      u = x[3 * d + k]!;
    if (Math.max(p, q) + r < Math.min(s, u) || Math.min(p, q) - r > Math.max(s, u)) return true;
  }
  return false;
}

function append(pc: PairContact, a: number, b: number, c: number, d: number, key: number): void {
  if (4 * pc.active + 4 > pc.activeVerts.length) {
    const verts = new Int32Array(2 * pc.activeVerts.length),
      keys = new Float64Array(2 * pc.activeKeys.length);
    verts.set(pc.activeVerts);
    keys.set(pc.activeKeys);
    pc.activeVerts = verts;
    pc.activeKeys = keys;
    pc.activeData = new Float64Array(2 * pc.activeData.length);
  }
  const q = 4 * pc.active;
  pc.activeVerts[q] = a;
  pc.activeVerts[q + 1] = b;
  pc.activeVerts[q + 2] = c;
  pc.activeVerts[q + 3] = d;
  pc.activeKeys[pc.active++] = key;
}
