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
}

export function createAngles(hinges: number, clamps: number): Angles {
  return { theta: new Float64Array(hinges + clamps), sides: new Float64Array(SIDE * (2 * hinges + clamps)) };
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
function turn(s: Float64Array, at: number, bx: number, by: number, bz: number): number {
  const ax = s[at + 6]!,
    ay = s[at + 7]!,
    az = s[at + 8]!;
  const sin = (ay * bz - az * by) * s[at]! + (az * bx - ax * bz) * s[at + 1]! + (ax * by - ay * bx) * s[at + 2]!;
  return Math.atan2(sin, ax * bx + ay * by + az * bz);
}

/** Fills `out` from the positions x (3n). */
export function computeAngles(model: Model, x: Float64Array, out: Angles): void {
  const { hingeVerts, clampVerts, clampDir } = model;
  const H = hingeVerts.length / 4,
    C = clampVerts.length / 3;
  const { theta, sides } = out;
  for (let h = 0; h < H; h++) {
    const a = hingeVerts[4 * h]!,
      b = hingeVerts[4 * h + 1]!,
      at = SIDE * 2 * h;
    sideFrame(x, a, b, hingeVerts[4 * h + 2]!, 1, sides, at);
    sideFrame(x, a, b, hingeVerts[4 * h + 3]!, -1, sides, at + SIDE);
    theta[h] = turn(sides, at, sides[at + SIDE + 6]!, sides[at + SIDE + 7]!, sides[at + SIDE + 8]!);
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
    theta[H + c] = turn(sides, at, dy * ez - dz * ey, dz * ex - dx * ez, dx * ey - dy * ex);
  }
}

/** Adds moment[k] * grad theta_k to the gradient g (3n). */
export function addAngleForces(model: Model, ang: Angles, moment: Float64Array, g: Float64Array): void {
  const { hingeVerts, clampVerts } = model;
  const H = hingeVerts.length / 4,
    C = clampVerts.length / 3;
  for (let h = 0; h < H; h++) {
    const M = moment[h]!;
    if (M === 0) continue;
    const a = hingeVerts[4 * h]!,
      b = hingeVerts[4 * h + 1]!;
    addSideForce(ang.sides, SIDE * 2 * h, M, a, b, hingeVerts[4 * h + 2]!, g);
    addSideForce(ang.sides, SIDE * (2 * h + 1), M, a, b, hingeVerts[4 * h + 3]!, g);
  }
  for (let c = 0; c < C; c++) {
    addSideForce(ang.sides, SIDE * (2 * H + c), moment[H + c]!, clampVerts[3 * c]!, clampVerts[3 * c + 1]!, clampVerts[3 * c + 2]!, g);
  }
}

function addSideForce(s: Float64Array, at: number, M: number, a: number, b: number, o: number, g: Float64Array): void {
  const f = M / s[at + 10]!,
    t = s[at + 11]!;
  const fx = f * s[at + 6]!,
    fy = f * s[at + 7]!,
    fz = f * s[at + 8]!;
  g[3 * o] = g[3 * o]! - fx;
  g[3 * o + 1] = g[3 * o + 1]! - fy;
  g[3 * o + 2] = g[3 * o + 2]! - fz;
  g[3 * a] = g[3 * a]! + (1 - t) * fx;
  g[3 * a + 1] = g[3 * a + 1]! + (1 - t) * fy;
  g[3 * a + 2] = g[3 * a + 2]! + (1 - t) * fz;
  g[3 * b] = g[3 * b]! + t * fx;
  g[3 * b + 1] = g[3 * b + 1]! + t * fy;
  g[3 * b + 2] = g[3 * b + 2]! + t * fz;
}

/** dTheta = (grad theta) . dx for every angle. */
export function angleRates(model: Model, ang: Angles, dx: Float64Array, dTheta: Float64Array): void {
  const { hingeVerts, clampVerts } = model;
  const H = hingeVerts.length / 4,
    C = clampVerts.length / 3,
    s = ang.sides;
  for (let h = 0; h < H; h++) {
    const a = hingeVerts[4 * h]!,
      b = hingeVerts[4 * h + 1]!,
      at = SIDE * 2 * h;
    dTheta[h] = sideRate(s, at, a, b, hingeVerts[4 * h + 2]!, dx) + sideRate(s, at + SIDE, a, b, hingeVerts[4 * h + 3]!, dx);
  }
  for (let c = 0; c < C; c++) dTheta[H + c] = sideRate(s, SIDE * (2 * H + c), clampVerts[3 * c]!, clampVerts[3 * c + 1]!, clampVerts[3 * c + 2]!, dx);
}

function sideRate(s: Float64Array, at: number, a: number, b: number, o: number, dx: Float64Array): number {
  const t = s[at + 11]!,
    r = 1 - t;
  const px = dx[3 * o]! - r * dx[3 * a]! - t * dx[3 * b]!;
  const py = dx[3 * o + 1]! - r * dx[3 * a + 1]! - t * dx[3 * b + 1]!;
  const pz = dx[3 * o + 2]! - r * dx[3 * a + 2]! - t * dx[3 * b + 2]!;
  return -(px * s[at + 6]! + py * s[at + 7]! + pz * s[at + 8]!) / s[at + 10]!;
}

/**
 * Adds (moment-weighted Hessian of theta) dx + dMoment grad theta to `out`: the whole angle part of a Hessian action.
 * `weight` scales the geometric part (moments of the linearisation; zeros leave it out).
 */
export function addAngleAction(model: Model, ang: Angles, weight: Float64Array, dMoment: Float64Array, dx: Float64Array, out: Float64Array): void {
  const { hingeVerts, clampVerts } = model;
  const H = hingeVerts.length / 4,
    C = clampVerts.length / 3,
    s = ang.sides;
  for (let h = 0; h < H; h++) {
    const a = hingeVerts[4 * h]!,
      b = hingeVerts[4 * h + 1]!,
      at = SIDE * 2 * h;
    const w = weight[h]!,
      dM = dMoment[h]!;
    if (w === 0 && dM === 0) continue;
    addSideAction(s, at, w, dM, a, b, hingeVerts[4 * h + 2]!, dx, out);
    addSideAction(s, at + SIDE, w, dM, a, b, hingeVerts[4 * h + 3]!, dx, out);
  }
  for (let c = 0; c < C; c++) {
    addSideAction(s, SIDE * (2 * H + c), weight[H + c]!, dMoment[H + c]!, clampVerts[3 * c]!, clampVerts[3 * c + 1]!, clampVerts[3 * c + 2]!, dx, out);
  }
}

function addSideAction(s: Float64Array, at: number, w: number, dM: number, a: number, b: number, o: number, dx: Float64Array, out: Float64Array): void {
  const ex = s[at]!,
    ey = s[at + 1]!,
    ez = s[at + 2]!,
    mx = s[at + 3]!,
    my = s[at + 4]!,
    mz = s[at + 5]!;
  const nx = s[at + 6]!,
    ny = s[at + 7]!,
    nz = s[at + 8]!;
  const iL = 1 / s[at + 9]!,
    ih = 1 / s[at + 10]!,
    t = s[at + 11]!,
    r = 1 - t;
  const ax = dx[3 * a]!,
    ay = dx[3 * a + 1]!,
    az = dx[3 * a + 2]!,
    bx = dx[3 * b]!,
    by = dx[3 * b + 1]!,
    bz = dx[3 * b + 2]!;
  const px = dx[3 * o]! - r * ax - t * bx,
    py = dx[3 * o + 1]! - r * ay - t * by,
    pz = dx[3 * o + 2]! - r * az - t * bz;
  const dX = bx - ax,
    dY = by - ay,
    dZ = bz - az;
  const pe = px * ex + py * ey + pz * ez,
    pm = px * mx + py * my + pz * mz,
    pn = px * nx + py * ny + pz * nz;
  const dm = dX * mx + dY * my + dZ * mz,
    dn = dX * nx + dY * ny + dZ * nz;
  // Conjugates of the quadratic form: P for p, D for d.
  const Pe = w * dn * iL * ih,
    Pm = w * pn * ih * ih,
    Pn = w * pm * ih * ih - dM * ih;
  const Dm = 0.5 * w * dn * iL * iL,
    Dn = w * (pe * iL * ih + 0.5 * dm * iL * iL);
  const Px = Pe * ex + Pm * mx + Pn * nx,
    Py = Pe * ey + Pm * my + Pn * ny,
    Pz = Pe * ez + Pm * mz + Pn * nz;
  const Dx = Dm * mx + Dn * nx,
    Dy = Dm * my + Dn * ny,
    Dz = Dm * mz + Dn * nz;
  out[3 * o] = out[3 * o]! + Px;
  out[3 * o + 1] = out[3 * o + 1]! + Py;
  out[3 * o + 2] = out[3 * o + 2]! + Pz;
  out[3 * a] = out[3 * a]! - r * Px - Dx;
  out[3 * a + 1] = out[3 * a + 1]! - r * Py - Dy;
  out[3 * a + 2] = out[3 * a + 2]! - r * Pz - Dz;
  out[3 * b] = out[3 * b]! - t * Px + Dx;
  out[3 * b + 1] = out[3 * b + 1]! - t * Py + Dy;
  out[3 * b + 2] = out[3 * b + 2]! - t * Pz + Dz;
}
