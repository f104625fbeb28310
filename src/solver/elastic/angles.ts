import { libm } from '../../numerics/index.ts';
import type { Model } from '../types.ts';

/** Numbers stored per side of an edge: axes e (along), m (in the plane, to the opposite corner), n (normal), then L, h, t. */
export const SIDE = 12;

/**
 * Dihedral angles and the local frames that give all their derivatives.
 * With p = dx_o - (1-t) dx_e0 - t dx_e1 and d = dx_e1 - dx_e0 in the axes of each side,
 *   d theta  = - sum_sides p_n / h
 *   d2 theta = sum_sides [ 2 p_e d_n /(L h) + 2 p_m p_n / h^2 + d_m d_n / L^2 ]
 * (derived here; equals Tamstorf and Grinspun 2013, "Discrete bending forces and their Jacobians"). theta > 0 where the
 * surface is a ridge seen from the side its normal points to. Angles are only known to a full turn: folds past 180 deg flip.
 */
export interface Angles {
  /** (H + C): hinges, then clamps */ readonly theta: Float64Array;
  /** SIDE x (2H + C): both sides of each hinge, then the one side of each clamp */ readonly sides: Float64Array;
  /** 4 (H + C) vertices [e0 e1 o1 o2]; of a clamp the last is o1 again, with gradient 0 */ readonly verts: Uint32Array;
  /** 12 (H + C): gradient of theta by those vertices, 1/m */ readonly grad: Float64Array;
}

export function createAngles(model: Model): Angles {
  const H = model.hingeVerts.length / 4,
    C = model.clampVerts.length / 3,
    verts = new Uint32Array(4 * (H + C));
  verts.set(model.hingeVerts);
  for (let c = 0; c < C; c++) for (let k = 0; k < 4; k++) verts[4 * (H + c) + k] = model.clampVerts[3 * c + Math.min(k, 2)]!;
  return { theta: new Float64Array(H + C), sides: new Float64Array(SIDE * (2 * H + C)), verts, grad: new Float64Array(12 * (H + C)) };
}

/** Frame of the triangle (edge a->b, corner o) into sides[at..]. `flip` is -1 on the second side, whose normal is opposite e x m. */
function sideFrame(x: Float64Array, a: number, b: number, o: number, flip: number, sides: Float64Array, at: number): void {
  const ax = x[3 * a]!,
    ay = x[3 * a + 1]!,
    az = x[3 * a + 2]!;
  let ex = x[3 * b]! - ax,
    ey = x[3 * b + 1]! - ay,
    ez = x[3 * b + 2]! - az;
  const L = Math.sqrt(ex * ex + ey * ey + ez * ez);
  ex /= L;
  ey /= L;
  ez /= L;
  const vx = x[3 * o]! - ax,
    vy = x[3 * o + 1]! - ay,
    vz = x[3 * o + 2]! - az;
  const s = vx * ex + vy * ey + vz * ez;
  let mx = vx - s * ex,
    my = vy - s * ey,
    mz = vz - s * ez;
  const h = Math.sqrt(mx * mx + my * my + mz * mz);
  mx /= h;
  my /= h;
  mz /= h;
  sides[at] = ex;
  sides[at + 1] = ey;
  sides[at + 2] = ez;
  sides[at + 3] = mx;
  sides[at + 4] = my;
  sides[at + 5] = mz;
  sides[at + 6] = flip * (ey * mz - ez * my);
  sides[at + 7] = flip * (ez * mx - ex * mz);
  sides[at + 8] = flip * (ex * my - ey * mx);
  sides[at + 9] = L;
  sides[at + 10] = h;
  sides[at + 11] = s / L;
}

/** theta from the two normals and the edge direction. */
function dihedral(s: Float64Array, at: number, bx: number, by: number, bz: number): number {
  const ax = s[at + 6]!,
    ay = s[at + 7]!,
    az = s[at + 8]!;
  const sin = (ay * bz - az * by) * s[at]! + (az * bx - ax * bz) * s[at + 1]! + (ax * by - ay * bx) * s[at + 2]!;
  return libm.atan2(sin, ax * bx + ay * by + az * bz);
}

/** Fills `out` from the positions x (3n). */
export function computeAngles(model: Model, x: Float64Array, out: Angles): void {
  const { hingeVerts, clampVerts, clampDir } = model;
  const H = hingeVerts.length / 4,
    C = clampVerts.length / 3;
  const { theta, sides, grad } = out;
  for (let h = 0; h < H; h++) {
    const a = hingeVerts[4 * h]!,
      b = hingeVerts[4 * h + 1]!,
      at = SIDE * 2 * h;
    sideFrame(x, a, b, hingeVerts[4 * h + 2]!, 1, sides, at);
    sideFrame(x, a, b, hingeVerts[4 * h + 3]!, -1, sides, at + SIDE);
    theta[h] = dihedral(sides, at, sides[at + SIDE + 6]!, sides[at + SIDE + 7]!, sides[at + SIDE + 8]!);
    const i1 = 1 / sides[at + 10]!,
      i2 = 1 / sides[at + SIDE + 10]!,
      t1 = sides[at + 11]!,
      t2 = sides[at + SIDE + 11]!;
    for (let k = 0, q = 12 * h; k < 3; k++, q++) {
      const n1 = sides[at + 6 + k]! * i1,
        n2 = sides[at + SIDE + 6 + k]! * i2;
      grad[q] = (1 - t1) * n1 + (1 - t2) * n2;
      grad[q + 3] = t1 * n1 + t2 * n2;
      grad[q + 6] = -n1;
      grad[q + 9] = -n2;
    }
  }
  for (let c = 0; c < C; c++) {
    const at = SIDE * (2 * H + c);
    sideFrame(x, clampVerts[3 * c]!, clampVerts[3 * c + 1]!, clampVerts[3 * c + 2]!, 1, sides, at);
    // The ghost triangle hangs on the far side of the edge along clampDir, so its normal is dir x e.
    const dx = clampDir[3 * c]!,
      dy = clampDir[3 * c + 1]!,
      dz = clampDir[3 * c + 2]!;
    const ex = sides[at]!,
      ey = sides[at + 1]!,
      ez = sides[at + 2]!;
    const nx = dy * ez - dz * ey,
      ny = dz * ex - dx * ez,
      nz = dx * ey - dy * ex,
      // A direction that leans along its edge turns with it: see addGhost in angle-hessians.ts.
      lean = (dx * ex + dy * ey + dz * ez) / ((nx * nx + ny * ny + nz * nz) * sides[at + 9]!),
      t = sides[at + 11]!,
      q = 12 * (H + c);
    theta[H + c] = dihedral(sides, at, nx, ny, nz);
    for (let k = 0; k < 3; k++) {
      const n = sides[at + 6 + k]! / sides[at + 10]!,
        g = lean * (k === 0 ? nx : k === 1 ? ny : nz);
      grad[q + k] = (1 - t) * n - g;
      grad[q + 3 + k] = t * n + g;
      grad[q + 6 + k] = -n;
    }
  }
}

/** out += sum of weight[k] times row k: numbers[12 k ..] by the vertices verts[4 k ..]. */
export function addSpread(verts: Uint32Array, numbers: Float64Array, weight: Float64Array, out: Float64Array): void {
  for (let k = 0, v = 0, q = 0; v < verts.length; k++, v += 4, q += 12) {
    const w = weight[k]!;
    if (w === 0) continue;
    const a = 3 * verts[v]!,
      b = 3 * verts[v + 1]!,
      c = 3 * verts[v + 2]!,
      d = 3 * verts[v + 3]!;
    out[a] = out[a]! + w * numbers[q]!;
    out[a + 1] = out[a + 1]! + w * numbers[q + 1]!;
    out[a + 2] = out[a + 2]! + w * numbers[q + 2]!;
    out[b] = out[b]! + w * numbers[q + 3]!;
    out[b + 1] = out[b + 1]! + w * numbers[q + 4]!;
    out[b + 2] = out[b + 2]! + w * numbers[q + 5]!;
    out[c] = out[c]! + w * numbers[q + 6]!;
    out[c + 1] = out[c + 1]! + w * numbers[q + 7]!;
    out[c + 2] = out[c + 2]! + w * numbers[q + 8]!;
    out[d] = out[d]! + w * numbers[q + 9]!;
    out[d + 1] = out[d + 1]! + w * numbers[q + 10]!;
    out[d + 2] = out[d + 2]! + w * numbers[q + 11]!;
  }
}

/** out[k] = row k . dx: the transpose of addSpread. */
export function gather(verts: Uint32Array, numbers: Float64Array, dx: Float64Array, out: Float64Array): void {
  for (let k = 0, v = 0, q = 0; v < verts.length; k++, v += 4, q += 12) {
    const a = 3 * verts[v]!,
      b = 3 * verts[v + 1]!,
      c = 3 * verts[v + 2]!,
      d = 3 * verts[v + 3]!;
    out[k] =
      numbers[q]! * dx[a]! +
      numbers[q + 1]! * dx[a + 1]! +
      numbers[q + 2]! * dx[a + 2]! +
      (numbers[q + 3]! * dx[b]! + numbers[q + 4]! * dx[b + 1]! + numbers[q + 5]! * dx[b + 2]!) +
      (numbers[q + 6]! * dx[c]! + numbers[q + 7]! * dx[c + 1]! + numbers[q + 8]! * dx[c + 2]!) +
      (numbers[q + 9]! * dx[d]! + numbers[q + 10]! * dx[d + 1]! + numbers[q + 11]! * dx[d + 2]!);
  }
}
