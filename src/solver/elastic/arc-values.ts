import { widen } from '../sparse/index.ts';
import type { Work } from '../work.ts';
import type { ArcBlocks } from './arc-blocks.ts';
import { put } from './block.ts';
import type { Elastic } from './elastic.ts';

/** Triangles gone through before others may look in. */
const SLICE = 3000;

/** b.values = the sheet's matrix (`own`, in its own pattern) and what arcs add to it for the linearisation of `el`. Held vertices are left alone. */
export function* assemblingArcBlocks(b: ArcBlocks, el: Elastic, own: Float64Array): Work<void> {
  widen(own, b.place, b.values, b.pattern.colIdx.length);
  for (let t = 0; t < el.sheet.m; t += SLICE) {
    addArcs(b, el, t, Math.min(el.sheet.m, t + SLICE));
    yield;
  }
}

/**
 * R^T C R - B^T C B, and tau phi'' of each edge where it is positive, for the triangles from .. to. With the negative ones the factor met negative pivots five times as often as
 * CG met negative curvature (flat tote hung with 3 kg, 20 mm: 383 of 890 factors, without them 38 of 451).
 */
function addArcs(b: ArcBlocks, el: Elastic, from: number, to: number): void {
  const { sheet, bending, angles, F, slope, bendSlope, tangent } = el,
    { shape, M } = sheet,
    { edgeOf } = bending,
    { held } = el.model,
    G = angles.grad,
    R = new Float64Array(9 * b.reach.most),
    CR = new Float64Array(9 * b.reach.most),
    B = new Float64Array(27),
    CB = new Float64Array(27),
    turn = new Float64Array(9 * b.reach.most);
  for (let t = from; t < to; t++) {
    const s = 6 * t,
      r = 9 * t,
      first = b.reach.vertStart[t]!,
      count = b.reach.vertStart[t + 1]! - first;
    R.fill(0, 0, 9 * count);
    turn.fill(0, 0, 9 * count);
    for (let k = 0; k < 3; k++) {
      const s0 = shape[s + 2 * k]!,
        s1 = shape[s + 2 * k + 1]!;
      for (let c = 0; c < 3; c++) {
        B[9 * k + c] = s0 * F[s + c]!;
        B[9 * k + 3 + c] = s1 * F[s + 3 + c]!;
        B[9 * k + 6 + c] = s1 * F[s + c]! + s0 * F[s + 3 + c]!;
      }
    }
    R.set(B);
    for (let k = 0; k < 3; k++) {
      const p = slope[edgeOf[3 * t + k]!]!;
      for (let i = b.reach.termStart[3 * t + k]!; i < b.reach.termStart[3 * t + k + 1]!; i++) {
        const w = b.reach.termWeight[i]!,
          g = 12 * b.reach.termAngle[i]!;
        for (let v = 0; v < 4; v++) {
          const q = 9 * b.reach.termSlots[4 * i + v]!;
          for (let c = 0; c < 3; c++) {
            const d = w * G[g + 3 * v + c]!;
            turn[q + 3 * k + c] = turn[q + 3 * k + c]! + d;
            R[q + c] = R[q + c]! + M[r + k]! * p * d;
            R[q + 3 + c] = R[q + 3 + c]! + M[r + 3 + k]! * p * d;
            R[q + 6 + c] = R[q + 6 + c]! + M[r + 6 + k]! * p * d;
          }
        }
      }
    }
    stressed(R, count, tangent, s, CR);
    stressed(B, 3, tangent, s, CB);
    const b0 = b.reach.first[3 * t] ? Math.max(0, bendSlope[edgeOf[3 * t]!]!) : 0,
      b1 = b.reach.first[3 * t + 1] ? Math.max(0, bendSlope[edgeOf[3 * t + 1]!]!) : 0,
      b2 = b.reach.first[3 * t + 2] ? Math.max(0, bendSlope[edgeOf[3 * t + 2]!]!) : 0;
    let at = b.blockStart[t]!;
    for (let i = 0; i < count; i++) {
      const q = 9 * i,
        fixed = held[b.reach.verts[first + i]!]!;
      for (let j = 0; j <= i; j++, at++) {
        if (fixed || held[b.reach.verts[first + j]!]!) continue;
        addBlock(b.values, b.blocks[at]!, R, q, CR, 9 * j, 1);
        if (i < 3) addBlock(b.values, b.blocks[at]!, B, q, CB, 9 * j, -1);
        addTurns(b.values, b.blocks[at]!, turn, q, 9 * j, b0, b1, b2);
      }
    }
  }
}

/** out = C A for strain rates A (count x 3 strains x 3 axes), C of triangle s / 6. */
function stressed(A: Float64Array, count: number, C: Float64Array, s: number, out: Float64Array): void {
  const c11 = C[s]!,
    c22 = C[s + 1]!,
    c12 = C[s + 2]!,
    c66 = C[s + 3]!,
    c16 = C[s + 4]!,
    c26 = C[s + 5]!;
  for (let q = 0; q < 9 * count; q += 9)
    for (let c = q; c < q + 3; c++) {
      const a = A[c]!,
        d = A[c + 3]!,
        e = A[c + 6]!;
      out[c] = c11 * a + c12 * d + c16 * e;
      out[c + 3] = c12 * a + c22 * d + c26 * e;
      out[c + 6] = c16 * a + c26 * d + c66 * e;
    }
}

/** sign x the block whose rows are A[x ..] and columns D[y ..], summed over the three strains. */
function addBlock(v: Float64Array, block: number, A: Float64Array, x: number, D: Float64Array, y: number, sign: number): void {
  const ax = sign * A[x]!,
    ay = sign * A[x + 1]!,
    az = sign * A[x + 2]!,
    bx = sign * A[x + 3]!,
    by = sign * A[x + 4]!,
    bz = sign * A[x + 5]!,
    cx = sign * A[x + 6]!,
    cy = sign * A[x + 7]!,
    cz = sign * A[x + 8]!;
  const dx = D[y]!,
    dy = D[y + 1]!,
    dz = D[y + 2]!,
    ex = D[y + 3]!,
    ey = D[y + 4]!,
    ez = D[y + 5]!,
    fx = D[y + 6]!,
    fy = D[y + 7]!,
    fz = D[y + 8]!;
  put(
    v,
    block,
    ax * dx + bx * ex + cx * fx,
    ax * dy + bx * ey + cx * fy,
    ax * dz + bx * ez + cx * fz,
    ay * dx + by * ex + cy * fx,
    ay * dy + by * ey + cy * fy,
    ay * dz + by * ez + cy * fz,
    az * dx + bz * ex + cz * fx,
    az * dy + bz * ey + cz * fy,
    az * dz + bz * ez + cz * fz,
  );
}

/** sum_k b_k T_k T_k^T, T_k the gradient of side k's turn. */
function addTurns(v: Float64Array, block: number, T: Float64Array, x: number, y: number, b0: number, b1: number, b2: number): void {
  for (let k = 0; k < 3; k++) {
    const f = k === 0 ? b0 : k === 1 ? b1 : b2;
    if (f === 0) continue;
    const ax = f * T[x + 3 * k]!,
      ay = f * T[x + 3 * k + 1]!,
      az = f * T[x + 3 * k + 2]!,
      bx = T[y + 3 * k]!,
      by = T[y + 3 * k + 1]!,
      bz = T[y + 3 * k + 2]!;
    put(v, block, ax * bx, ax * by, ax * bz, ay * bx, ay * by, ay * bz, az * bx, az * by, az * bz);
  }
}
