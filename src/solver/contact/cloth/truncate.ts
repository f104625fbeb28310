import { type Work as Steps, toEnd } from '../../work.ts';
import { staysApart } from './advance.ts';
import { edgeEdge, vertexTriangle } from './closest.ts';
import { findingContactFree, staysContactFree } from './contact-free.ts';
import { type PairContact, sweeping } from './pairs.ts';

/** Share of its distance that a step leaves a pair at least. */
const LEFT = 0.2;
/** Passes of shrinking before whatever is still unclean is stopped where it is. */
const PASSES = 8;

/** Working lists of one truncation. */
interface Work {
  readonly x: Float64Array;
  readonly d: Float64Array;
  /** n share of the step that each vertex may take */ readonly t: Float64Array;
  /** Pairs that can meet in this step: 4 vertices and the kind (0 vertex-triangle, 1 edge-edge). */ readonly near: number[];
  /** Their distance and normal at x. */ readonly plane: number[];
  /** Pairs that move too much alike to meet as long as nothing holds one of their sides back: 4 vertices and the kind. */
  waiting: number[];
}

/**
 * Shortens the step d (3n, mutated) per vertex so that no pair's gap closes by more than 0.8 of its distance. The plane square to the
 * closest points of a pair separates it at x; paths are straight and the plane fixed, so a gap left positive at the end was positive
 * all the way: no crossing can be created. A pair whose corners reach over that plane is followed along its way (advance.ts) before it is cut: where sheets that touch
 * turn or roll, 98 % of such pairs meet nothing, and cutting them let a pinched fold turn by its distance a step. Per-vertex factors let the rest of the sheet move on (one factor for all would slow time).
 * Fills the candidate lists of pc for the step. Sources: truncation by separating planes as in planar-DAT (2023) and offset geometric contact (2025), from memory.
 */
export function truncatePairs(pc: PairContact, x: Float64Array, d: Float64Array): void {
  if (!findPairs(pc, x, d)) return;
  const n = pc.model.vertexCount,
    w: Work = { x, d, t: new Float64Array(n).fill(1), near: [], plane: [], waiting: [] },
    tri = pc.model.triVerts,
    { edges } = pc,
    { t } = w,
    kept: number[] = [];
  for (let p = 0; p < pc.vt.count; p++) {
    const v = pc.vt.data[2 * p]!,
      f = 3 * pc.vt.data[2 * p + 1]!;
    if (!canMeet(w, v, tri[f]!, tri[f + 1]!, tri[f + 2]!, 0)) kept.push(v, tri[f]!, tri[f + 1]!, tri[f + 2]!, 0);
  }
  for (let p = 0; p < pc.ee.count; p++) {
    const e = 2 * pc.ee.data[2 * p]!,
      f = 2 * pc.ee.data[2 * p + 1]!;
    if (!canMeet(w, edges[e]!, edges[e + 1]!, edges[f]!, edges[f + 1]!, 1)) kept.push(edges[e]!, edges[e + 1]!, edges[f]!, edges[f + 1]!, 1);
  }
  w.waiting = kept;
  for (let pass = 0; ; pass++) {
    let clean = true;
    for (let q = 0; q < w.plane.length / 4; q++) if (!cleanPair(w, q, pass >= PASSES)) clean = false;
    if (clean) break;
    recall(w);
  }
  for (let v = 0; v < n; v++) {
    const f = t[v]!;
    if (f === 1) continue;
    d[3 * v] = d[3 * v]! * f;
    d[3 * v + 1] = d[3 * v + 1]! * f;
    d[3 * v + 2] = d[3 * v + 2]! * f;
  }
}

/** Steps up to which a contact-free radius is sought, m: longer ones soon leave it. */
const SHORT = 5e-4;

/** Fills the candidate lists for the step; false where none of them could meet or be felt: they are empty then. */
export const findPairs = (pc: PairContact, x: Float64Array, d: Float64Array): boolean => toEnd(findingPairs(pc, x, d));

/** The same in steps. */
export function* findingPairs(pc: PairContact, x: Float64Array, d: Float64Array): Steps<boolean> {
  if (staysContactFree(pc, x, d) || (pc.active === 0 && shorter(d, SHORT) && (yield* findingContactFree(pc, x)) && staysContactFree(pc, x, d))) {
    pc.vt.clear();
    pc.ee.clear();
    return false;
  }
  yield* sweeping(pc, x, d);
  return true;
}

function shorter(d: Float64Array, most: number): boolean {
  for (let q = 0; q < d.length; q += 3) if (d[q]! * d[q]! + d[q + 1]! * d[q + 1]! + d[q + 2]! * d[q + 2]! > most * most) return false;
  return true;
}

/** true when the pair's sides, moved by t d, can close 0.8 of their distance; it then joins the near pairs. */
function canMeet(w: Work, a: number, b: number, c: number, e: number, kind: number): boolean {
  const reach = relativeReach(w.d, w.t, a, b, c, e, kind);
  if (apartBy(w.x, a, b, c, e, kind, reach / 0.8)) return false;
  if (kind === 0) vertexTriangle(w.x, a, b, c, e, CLOSEST);
  else edgeEdge(w.x, a, b, c, e, CLOSEST);
  if (reach < 0.8 * CLOSEST[0]!) return false;
  w.near.push(a, b, c, e, kind);
  w.plane.push(CLOSEST[0]!, CLOSEST[1]!, CLOSEST[2]!, CLOSEST[3]!);
  return true;
}

const CLOSEST = new Float64Array(8);

/**
 * Sheets that fall together close no gap, until one of them is held back: pairs with a shortened vertex are looked at again.
 * (Left out, a sheet ran into one that had been stopped by a third.)
 */
function recall(w: Work): void {
  const { waiting, t } = w;
  let kept = 0;
  for (let q = 0; q < waiting.length; q += 5) {
    const a = waiting[q]!,
      b = waiting[q + 1]!,
      c = waiting[q + 2]!,
      e = waiting[q + 3]!,
      kind = waiting[q + 4]!;
    const held = t[a] !== 1 || t[b] !== 1 || t[c] !== 1 || t[e] !== 1;
    if (held && canMeet(w, a, b, c, e, kind)) continue;
    for (let i = 0; i < 5; i++) waiting[kept + i] = waiting[q + i]!;
    kept += 5;
  }
  waiting.length = kept;
}

/**
 * Shrinks the factors of one pair if its gap at the end of the step is under a fifth of its distance; true when nothing had to be changed.
 * stop: the last resort, its four vertices do not move at all.
 */
function cleanPair(w: Work, q: number, stop: boolean): boolean {
  const { x, d, t, near, plane } = w,
    d0 = plane[4 * q]!,
    nx = plane[4 * q + 1]!,
    ny = plane[4 * q + 2]!,
    nz = plane[4 * q + 3]!,
    first = near[5 * q + 4] === 0 ? 1 : 2;
  let low = Number.POSITIVE_INFINITY,
    high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < 4; i++) {
    const v = near[5 * q + i]!,
      f = t[v]!;
    const s = nx * (x[3 * v]! + f * d[3 * v]!) + ny * (x[3 * v + 1]! + f * d[3 * v + 1]!) + nz * (x[3 * v + 2]! + f * d[3 * v + 2]!);
    if (i < first) low = Math.min(low, s);
    else high = Math.max(high, s);
  }
  const gap = low - high;
  if (gap >= LEFT * d0 - 1e-15) return true;
  // A side that turns or rolls reaches over the plane with its far corners and meets nothing: what it really does is followed.
  if (staysApart(w, near, 5 * q, near[5 * q + 4] === 1, LEFT * d0)) return true;
  const factor = stop ? 0 : Math.max(0, (0.8 * d0) / (d0 - gap));
  let changed = false;
  for (let i = 0; i < 4; i++) {
    const v = near[5 * q + i]!,
      toward = nx * d[3 * v]! + ny * d[3 * v + 1]! + nz * d[3 * v + 2]!;
    if (t[v] === 0 || !(stop || (i < first ? toward < 0 : toward > 0))) continue;
    t[v] = t[v]! * factor;
    changed = true;
  }
  return !changed;
}

/** Largest |t_i d_i - t_j d_j| between the two sides: what the pair can move toward each other. */
function relativeReach(d: Float64Array, t: Float64Array, a: number, b: number, c: number, e: number, kind: number): number {
  const r = Math.max(apart(d, t, a, c), apart(d, t, a, e), kind === 0 ? apart(d, t, a, b) : Math.max(apart(d, t, b, c), apart(d, t, b, e)));
  return Math.sqrt(r);
}

function apart(d: Float64Array, t: Float64Array, i: number, j: number): number {
  const f = t[i]!,
    g = t[j]!,
    x = f * d[3 * i]! - g * d[3 * j]!,
    y = f * d[3 * i + 1]! - g * d[3 * j + 1]!,
    z = f * d[3 * i + 2]! - g * d[3 * j + 2]!;
  return x * x + y * y + z * z;
}

/** Boxes at x further apart than `reach` along some axis: no closest points needed. */
function apartBy(x: Float64Array, a: number, b: number, c: number, e: number, kind: number, reach: number): boolean {
  for (let k = 0; k < 3; k++) {
    const p = x[3 * a + k]!,
      q = x[3 * b + k]!,
      s = x[3 * c + k]!,
      u = x[3 * e + k]!;
    const lowA = kind === 0 ? p : Math.min(p, q),
      highA = kind === 0 ? p : Math.max(p, q);
    const lowB = kind === 0 ? Math.min(q, s, u) : Math.min(s, u),
      highB = kind === 0 ? Math.max(q, s, u) : Math.max(s, u);
    if (lowA > highB + reach || lowB > highA + reach) return true;
  }
  return false;
}
