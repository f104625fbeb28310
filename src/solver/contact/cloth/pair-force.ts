import { remember } from '../coulomb.ts';
import { rub, rubbed } from '../normal-law.ts';
import { crossness, edgeEdge, vertexTriangle } from './closest.ts';
import { PAIR, type PairContact } from './pairs.ts';

/**
 * Energy, gradient (added to g), 3x3 diagonals (added to diag) of the active pairs at x; keeps what applyPairs needs. J.
 * E' = -k (r - d) for r/2 <= d < r, -k r^2/(4 d) below; edge pairs weighed by q (2 - q), q = sin^2/0.01 < 1, so that parallel edges fade out.
 * Friction: e = (I - nn)(e_n + relative motion since the last commit), cut off at mu N with the current N.
 * Stiffness is Gauss-Newton (normal part and friction); the turning of n is left out, which costs iterations, not accuracy.
 */
export function evaluatePairs(pc: PairContact, x: Float64Array, g: Float64Array | null, diag: Float64Array | null): number {
  const { r, activeVerts, activeData } = pc,
    out = new Float64Array(8),
    slide = new Float64Array(3);
  let energy = 0;
  for (let p = 0; p < pc.active; p++) {
    const q = 4 * p,
      o = PAIR * p,
      isEdge = pc.activeKeys[p]! < 0;
    activeData.fill(0, o, o + PAIR);
    const weight = gapOf(x, activeVerts, q, isEdge, out);
    const d = out[0]!;
    if (d >= r) continue;
    const k = weight * stiffnessOf(pc, q, isEdge),
      deep = d < r / 2,
      dd = Math.max(d, 1e-9);
    const N = deep ? (k * r * r) / (4 * dd) : k * (r - d),
      kn = deep ? (k * r * r) / (4 * dd * dd) : k;
    energy += deep ? 0.125 * k * r * r + 0.25 * k * r * r * Math.log(r / (2 * dd)) : 0.5 * k * (r - d) * (r - d);
    const nx = out[1]!,
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
      slideOf(pc, p, x, out, slide);
      const ex = slide[0]!,
        ey = slide[1]!,
        ez = slide[2]!;
      const l = Math.sqrt(ex * ex + ey * ey + ez * ez);
      rub(k, l, pc.friction * N);
      const { slips } = rubbed;
      kt = rubbed.pull;
      energy += rubbed.energy;
      fx += kt * ex;
      fy += kt * ey;
      fz += kt * ez;
      if (slips) {
        tx = ex / l;
        ty = ey / l;
        tz = ez / l;
      }
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
      if (!diag) continue;
      const w2 = w * w,
        s = w2 * kn,
        h = w2 * kt,
        D = 9 * v;
      const xx = s * nx * nx + h * (1 - nx * nx - tx * tx),
        xy = s * nx * ny - h * (nx * ny + tx * ty),
        xz = s * nx * nz - h * (nx * nz + tx * tz);
      const yy = s * ny * ny + h * (1 - ny * ny - ty * ty),
        yz = s * ny * nz - h * (ny * nz + ty * tz),
        zz = s * nz * nz + h * (1 - nz * nz - tz * tz);
      diag[D] = diag[D]! + xx;
      diag[D + 1] = diag[D + 1]! + xy;
      diag[D + 2] = diag[D + 2]! + xz;
      diag[D + 3] = diag[D + 3]! + xy;
      diag[D + 4] = diag[D + 4]! + yy;
      diag[D + 5] = diag[D + 5]! + yz;
      diag[D + 6] = diag[D + 6]! + xz;
      diag[D + 7] = diag[D + 7]! + yz;
      diag[D + 8] = diag[D + 8]! + zz;
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
 * How far active pair p is stretched sideways at x, into `slide`: what it remembers and its motion since the last commit, square to the normal of its closest
 * points `gap`. A new pair too counts how it came together: taken for stuck, it would hold a sliding sheet fast in the next step.
 */
function slideOf(pc: PairContact, p: number, x: Float64Array, gap: Float64Array, slide: Float64Array): void {
  const old = pc.memory.get(pc.activeKeys[p]!),
    nx = gap[1]!,
    ny = gap[2]!,
    nz = gap[3]!;
  let ex = old ? old[0] : 0,
    ey = old ? old[1] : 0,
    ez = old ? old[2] : 0;
  for (let i = 0; i < 4; i++) {
    const v = pc.activeVerts[4 * p + i]!,
      w = gap[4 + i]!;
    ex += w * (x[3 * v]! - pc.committed[3 * v]!);
    ey += w * (x[3 * v + 1]! - pc.committed[3 * v + 1]!);
    ez += w * (x[3 * v + 2]! - pc.committed[3 * v + 2]!);
  }
  const en = ex * nx + ey * ny + ez * nz;
  slide[0] = ex - en * nx;
  slide[1] = ey - en * ny;
  slide[2] = ez - en * nz;
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
  const { r, activeVerts } = pc,
    out = new Float64Array(8),
    slide = new Float64Array(3),
    next: [number, readonly [number, number, number]][] = [];
  for (let p = 0; p < pc.active; p++) {
    const key = pc.activeKeys[p]!,
      q = 4 * p;
    const weight = gapOf(x, activeVerts, q, key < 0, out);
    const d = out[0]!;
    if (d >= r) continue;
    slideOf(pc, p, x, out, slide);
    const ex = slide[0]!,
      ey = slide[1]!,
      ez = slide[2]!;
    const k = weight * stiffnessOf(pc, q, key < 0),
      N = d < r / 2 ? (k * r * r) / (4 * Math.max(d, 1e-9)) : k * (r - d),
      l = Math.sqrt(ex * ex + ey * ey + ez * ez),
      limit = pc.friction * N;
    const f = k * l > limit ? limit / (k * l) : 1;
    next.push([key, [f * ex, f * ey, f * ez]]);
  }
  remember(pc, next, x);
}
