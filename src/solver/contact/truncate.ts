import { edgeEdge, vertexTriangle } from './closest.ts';
import { type PairContact, sweep } from './pairs.ts';

/**
 * Shortens the step d (3n, mutated) per vertex so that no pair's gap closes by more than 0.8 of its distance. The plane square to the
 * closest points of a pair separates it at x; paths are straight and the plane fixed, so a gap left positive at the end was positive
 * all the way: no crossing can be created. Per-vertex factors let the rest of the sheet move on (one factor for all would slow time).
 * Fills the candidate lists of pc for the step. Sources: truncation by separating planes as in planar-DAT (2023) and offset geometric contact (2025), from memory.
 */
export function truncatePairs(pc: PairContact, x: Float64Array, d: Float64Array): void {
  sweep(pc, x, d);
  const n = pc.model.vertexCount,
    t = new Float64Array(n).fill(1),
    out = new Float64Array(8),
    tri = pc.model.triVerts,
    { edges } = pc;
  // Pairs that cannot meet in this step are dropped once; those that can are swept until clean.
  const near: number[] = [],
    plane: number[] = [];
  const consider = (a: number, b: number, c: number, e: number, kind: 0 | 1) => {
    const reach = relativeReach(d, a, b, c, e, kind);
    if (apartBy(x, a, b, c, e, kind, reach / 0.8)) return;
    if (kind === 0) vertexTriangle(x, a, b, c, e, out);
    else edgeEdge(x, a, b, c, e, out);
    if (reach < 0.8 * out[0]!) return;
    near.push(a, b, c, e, kind);
    plane.push(out[0]!, out[1]!, out[2]!, out[3]!);
  };
  for (let p = 0; p < pc.vt.count; p++) {
    const f = 3 * pc.vt.data[2 * p + 1]!;
    consider(pc.vt.data[2 * p]!, tri[f]!, tri[f + 1]!, tri[f + 2]!, 0);
  }
  for (let p = 0; p < pc.ee.count; p++) {
    const e = 2 * pc.ee.data[2 * p]!,
      f = 2 * pc.ee.data[2 * p + 1]!;
    consider(edges[e]!, edges[e + 1]!, edges[f]!, edges[f + 1]!, 1);
  }
  for (let pass = 0; pass < 8; pass++) {
    let clean = true;
    for (let q = 0; q < plane.length / 4; q++) if (!cleanPair(x, d, t, near, plane, q)) clean = false;
    if (clean) break;
    if (pass === 7) stopUnclean(x, d, t, near, plane);
  }
  for (let v = 0; v < n; v++) {
    const f = t[v]!;
    if (f === 1) continue;
    d[3 * v] = d[3 * v]! * f;
    d[3 * v + 1] = d[3 * v + 1]! * f;
    d[3 * v + 2] = d[3 * v + 2]! * f;
  }
}

/** Shrinks the factors of one pair if its gap at the end of the step is under a fifth of its distance; true when it was clean. */
function cleanPair(x: Float64Array, d: Float64Array, t: Float64Array, near: readonly number[], plane: readonly number[], q: number): boolean {
  const d0 = plane[4 * q]!,
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
  if (gap >= 0.2 * d0 - 1e-15) return true;
  const factor = Math.max(0, (0.8 * d0) / (d0 - gap));
  for (let i = 0; i < 4; i++) {
    const v = near[5 * q + i]!,
      toward = nx * d[3 * v]! + ny * d[3 * v + 1]! + nz * d[3 * v + 2]!;
    if (i < first ? toward < 0 : toward > 0) t[v] = t[v]! * factor;
  }
  return false;
}

/** Last resort: vertices of pairs that are still unclean do not move at all (and what that unsettles, until nothing is unclean). */
function stopUnclean(x: Float64Array, d: Float64Array, t: Float64Array, near: readonly number[], plane: readonly number[]): void {
  for (let again = true; again; ) {
    again = false;
    for (let q = 0; q < plane.length / 4; q++) {
      if (cleanPair(x, d, t, near, plane, q)) continue;
      for (let i = 0; i < 4; i++) {
        const v = near[5 * q + i]!;
        if (t[v] !== 0) {
          t[v] = 0;
          again = true;
        }
      }
    }
  }
}

/** Largest |d_i - d_j| between the two sides: what the pair can move toward each other. */
function relativeReach(d: Float64Array, a: number, b: number, c: number, e: number, kind: 0 | 1): number {
  const r = Math.max(apart(d, a, c), apart(d, a, e), kind === 0 ? apart(d, a, b) : Math.max(apart(d, b, c), apart(d, b, e)));
  return Math.sqrt(r);
}

function apart(d: Float64Array, i: number, j: number): number {
  const x = d[3 * i]! - d[3 * j]!,
    y = d[3 * i + 1]! - d[3 * j + 1]!,
    z = d[3 * i + 2]! - d[3 * j + 2]!;
  return x * x + y * y + z * z;
}

/** Boxes at x further apart than `reach` along some axis: no closest points needed. */
function apartBy(x: Float64Array, a: number, b: number, c: number, e: number, kind: 0 | 1, reach: number): boolean {
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
