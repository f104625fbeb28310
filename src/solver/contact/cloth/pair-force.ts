import { addContactBlock, coulombSpring, keptShare, spring, tangentialStretch } from '../coulomb.ts';
import { acceptNoted, noteStretch, slotOf } from '../friction-memory.ts';
import { normal, normalContact } from '../normal-law.ts';
import { crossness, edgeEdge, vertexTriangle } from './closest.ts';
import { PAIR, type PairContact } from './pairs.ts';

const out = new Float64Array(8);

/** Distance, m, under which the law of two sheets goes on linearly: distances of sheets have no sign. */
const LEAST = 1e-9;

/**
 * Energy, J; gradient (added to g) and 3x3 diagonals (added to diag) of the active pairs at x; keeps what applyPairs needs. Normal law: contact/normal-law.ts, edge pairs
 * weighed by q (2 - q), q = sin^2/0.01 < 1, so that parallel edges fade out. Friction: contact/coulomb.ts. Stiffness is Gauss-Newton (normal part and
 * friction); the turning of n is left out, which costs iterations, not accuracy.
 */
export function evaluatePairs(pc: PairContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const { r, activeVerts, activeData } = pc;
  let energy = 0;
  for (let p = 0; p < pc.active; p++) {
    const q = 4 * p,
      o = PAIR * p,
      isEdge = pc.activeKeys[p]! < 0;
    activeData.fill(0, o, o + PAIR);
    const weight = gapOf(x, activeVerts, q, isEdge, out);
    const d = out[0]!;
    if (d >= r) continue;
    const k = weight * stiffnessOf(pc, q, isEdge);
    normalContact(k, d, r, LEAST);
    energy += normal.energy;
    const N = normal.force,
      kn = normal.stiffness,
      nx = out[1]!,
      ny = out[2]!,
      nz = out[3]!;
    let fx = -N * nx,
      fy = -N * ny,
      fz = -N * nz,
      kt = 0,
      tx = 0,
      ty = 0,
      tz = 0;
    if (pc.friction > 0) {
      stretchOf(pc, p, x, out);
      coulombSpring(k, pc.friction * N);
      kt = spring.pull;
      energy += spring.energy;
      fx += kt * spring.ex;
      fy += kt * spring.ey;
      fz += kt * spring.ez;
      tx = spring.tx;
      ty = spring.ty;
      tz = spring.tz;
    }
    for (let i = 0; i < 4; i++) activeData[o + i] = out[4 + i]!;
    activeData[o + 4] = nx;
    activeData[o + 5] = ny;
    activeData[o + 6] = nz;
    activeData[o + 7] = kn;
    activeData[o + 8] = kt;
    activeData[o + 9] = tx;
    activeData[o + 10] = ty;
    activeData[o + 11] = tz;
    for (let i = 0; i < 4; i++) {
      const v = activeVerts[q + i]!,
        w = out[4 + i]!;
      if (g) {
        g[3 * v] = g[3 * v]! + w * fx;
        g[3 * v + 1] = g[3 * v + 1]! + w * fy;
        g[3 * v + 2] = g[3 * v + 2]! + w * fz;
      }
      if (diag) addContactBlock(diag, 9 * v, w * w * kn, w * w * kt, nx, ny, nz, tx, ty, tz);
    }
  }
  return energy;
}

/** Closest points of the active pair at entry q into `out`; returns its weight, 1 but for edges that run nearly alike. */
function gapOf(x: Float64Array, verts: Int32Array, q: number, isEdge: boolean, out: Float64Array): number {
  const a = verts[q]!,
    b = verts[q + 1]!,
    c = verts[q + 2]!,
    e = verts[q + 3]!;
  if (!isEdge) {
    vertexTriangle(x, a, b, c, e, out);
    return 1;
  }
  edgeEdge(x, a, b, c, e, out);
  const s = crossness(x, a, b, c, e) / 0.01;
  return s < 1 ? s * (2 - s) : 1;
}

const stiffnessOf = (pc: PairContact, q: number, isEdge: boolean): number =>
  isEdge ? 0.5 * (pc.stiffness[pc.activeVerts[q]!]! + pc.stiffness[pc.activeVerts[q + 1]!]!) : pc.stiffness[pc.activeVerts[q]!]!;

/**
 * Tangential stretch of active pair p at x, to `spring`: what it remembers and its motion since the last commit, square to the normal of its closest points `gap`.
 * A new pair too counts how it came together: taken for stuck, it would hold a sliding sheet fast in the next step.
 */
function stretchOf(pc: PairContact, p: number, x: Float64Array, gap: Float64Array): void {
  const { committed, stretch } = pc.memory,
    old = slotOf(pc.memory, pc.activeKeys[p]!);
  let ux = old < 0 ? 0 : stretch[old]!,
    uy = old < 0 ? 0 : stretch[old + 1]!,
    uz = old < 0 ? 0 : stretch[old + 2]!;
  for (let i = 0; i < 4; i++) {
    const v = 3 * pc.activeVerts[4 * p + i]!,
      w = gap[4 + i]!;
    ux += w * (x[v]! - committed[v]!);
    uy += w * (x[v + 1]! - committed[v + 1]!);
    uz += w * (x[v + 2]! - committed[v + 2]!);
  }
  tangentialStretch(ux, uy, uz, gap[1]!, gap[2]!, gap[3]!);
}

/** out += (pair stiffness without its 3x3 diagonals, which the caller has) dx. */
export function applyPairs(pc: PairContact, dx: Float64Array, out: Float64Array): void {
  const { activeVerts, activeData } = pc;
  for (let p = 0; p < pc.active; p++) {
    const q = 4 * p,
      o = PAIR * p,
      kn = activeData[o + 7]!,
      kt = activeData[o + 8]!;
    if (kn === 0) continue;
    const nx = activeData[o + 4]!,
      ny = activeData[o + 5]!,
      nz = activeData[o + 6]!,
      tx = activeData[o + 9]!,
      ty = activeData[o + 10]!,
      tz = activeData[o + 11]!;
    let sx = 0,
      sy = 0,
      sz = 0;
    for (let i = 0; i < 4; i++) {
      const v = 3 * activeVerts[q + i]!,
        w = activeData[o + i]!;
      sx += w * dx[v]!;
      sy += w * dx[v + 1]!;
      sz += w * dx[v + 2]!;
    }
    for (let i = 0; i < 4; i++) {
      const v = 3 * activeVerts[q + i]!,
        w = activeData[o + i]!;
      // The own part w dx_i sits in the diagonal already.
      const ux = sx - w * dx[v]!,
        uy = sy - w * dx[v + 1]!,
        uz = sz - w * dx[v + 2]!;
      const un = ux * nx + uy * ny + uz * nz,
        ut = ux * tx + uy * ty + uz * tz,
        a = w * ((kn - kt) * un),
        b = w * kt;
      out[v] = out[v]! + a * nx + b * (ux - ut * tx);
      out[v + 1] = out[v + 1]! + a * ny + b * (uy - ut * ty);
      out[v + 2] = out[v + 2]! + a * nz + b * (uz - ut * tz);
    }
  }
}

/** Friction memory follows the accepted state x: kept while sticking, dragged along while slipping, forgotten when apart. */
export function commitPairs(pc: PairContact, x: Float64Array): void {
  for (let p = 0; p < pc.active; p++) {
    const key = pc.activeKeys[p]!,
      q = 4 * p,
      weight = gapOf(x, pc.activeVerts, q, key < 0, out),
      d = out[0]!;
    if (d >= pc.r) continue;
    const k = weight * stiffnessOf(pc, q, key < 0);
    normalContact(k, d, pc.r, LEAST);
    stretchOf(pc, p, x, out);
    const f = keptShare(k, pc.friction * normal.force);
    noteStretch(pc.memory, key, f * spring.ex, f * spring.ey, f * spring.ez);
  }
  acceptNoted(pc.memory, x);
}
