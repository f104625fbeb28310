import { SIDE } from './angles.ts';
import { put } from './block.ts';
import type { Elastic } from './elastic.ts';

/** Which of a hinge's blocks take (e0, e0), (e1, e1), (e1, e0), (o, o), (o, e0), (o, e1) of its first and of its second side; which of a clamp's. */
const OF_FIRST = [0, 1, 4, 2, 5, 7],
  OF_SECOND = [0, 1, 4, 3, 6, 8],
  OF_CLAMP = [0, 1, 3, 2, 4, 5];

/** Adds M Hess(theta) of each hinge and clamp to el.shell.values, M the moments of the linearisation. */
export function addAngleHessians(el: Elastic): void {
  const { sheet, angles, geoMoment } = el,
    { values, hingeBlocks, clampBlocks } = el.shell,
    parts = new Float64Array(18);
  for (let h = 0; h < sheet.hinges; h++) {
    const M = geoMoment[h]!;
    if (M === 0) continue;
    addSide(angles.sides, 2 * SIDE * h, M, parts, values, hingeBlocks, 10 * h, OF_FIRST);
    addSide(angles.sides, 2 * SIDE * h + SIDE, M, parts, values, hingeBlocks, 10 * h, OF_SECOND);
  }
  for (let c = 0; c < sheet.clamps; c++) {
    const M = geoMoment[sheet.hinges + c]!;
    addSide(angles.sides, SIDE * (2 * sheet.hinges + c), M, parts, values, clampBlocks, 6 * c, OF_CLAMP);
    addGhost(angles.sides, SIDE * (2 * sheet.hinges + c), M, el.model.clampDir, 3 * c, values, clampBlocks, 6 * c);
  }
}

/**
 * The clamp's side of the same. Its ghost triangle keeps the direction dir and goes with the edge, which may turn (an end moment): with tan the tangent of how far dir
 * leans along the edge, d theta = tan d_n/L and d2 theta = (1 + 2 tan^2) d_m d_n/L^2 - 2 tan d_n d_e/L^2.
 */
function addGhost(S: Float64Array, at: number, M: number, dir: Float64Array, k: number, values: Float64Array, blocks: Int32Array, first: number): void {
  const ex = S[at]!,
    ey = S[at + 1]!,
    ez = S[at + 2]!,
    along = dir[k]! * ex + dir[k + 1]! * ey + dir[k + 2]! * ez,
    over = 1 / Math.sqrt(1 - along * along),
    tan = along * over,
    mx = (dir[k]! - along * ex) * over,
    my = (dir[k + 1]! - along * ey) * over,
    mz = (dir[k + 2]! - along * ez) * over,
    nx = my * ez - mz * ey,
    ny = mz * ex - mx * ez,
    nz = mx * ey - my * ex,
    size = M / (S[at + 9]! * S[at + 9]!),
    share = 0.5 + tan * tan,
    ux = share * mx - tan * ex,
    uy = share * my - tan * ey,
    uz = share * mz - tan * ez;
  for (let b = 0; b < 3; b++) {
    const w = b < 2 ? size : -size,
      xy = w * (ux * ny + nx * uy),
      xz = w * (ux * nz + nx * uz),
      yz = w * (uy * nz + ny * uz);
    put(values, blocks[first + OF_CLAMP[b]!]!, 2 * w * ux * nx, xy, xz, xy, 2 * w * uy * ny, yz, xz, yz, 2 * w * uz * nz);
  }
}

/**
 * One side's part of M Hess(theta), in the words of angles.ts: with X = M e n^T/(L h), W = m n^T + n m^T, Y = M W/h^2, Z = M W/(2 L^2) it is
 * p.Y p + 2 p.X d + d.Z d, p = o - r a - t b, d = b - a. Each of its six blocks is so much of W, of X and of X^T: `parts` (18, scratch).
 */
function addSide(
  S: Float64Array,
  at: number,
  M: number,
  parts: Float64Array,
  values: Float64Array,
  blocks: Int32Array,
  first: number,
  which: readonly number[],
): void {
  const iL = 1 / S[at + 9]!,
    ih = 1 / S[at + 10]!,
    t = S[at + 11]!,
    r = 1 - t,
    x = M * iL * ih,
    y = M * ih * ih,
    z = 0.5 * M * iL * iL;
  parts[0] = r * r * y + z;
  parts[1] = parts[2] = r;
  parts[3] = t * t * y + z;
  parts[4] = parts[5] = -t;
  parts[6] = t * r * y - z;
  parts[7] = t;
  parts[8] = -r;
  parts[9] = y;
  parts[12] = -r * y;
  parts[13] = -1;
  parts[15] = -t * y;
  parts[16] = 1;
  const ex = x * S[at]!,
    ey = x * S[at + 1]!,
    ez = x * S[at + 2]!,
    mx = S[at + 3]!,
    my = S[at + 4]!,
    mz = S[at + 5]!,
    nx = S[at + 6]!,
    ny = S[at + 7]!,
    nz = S[at + 8]!;
  const a = ex * nx,
    b = ex * ny,
    c = ex * nz,
    d = ey * nx,
    e = ey * ny,
    f = ey * nz,
    g = ez * nx,
    h = ez * ny,
    i = ez * nz;
  const A = 2 * mx * nx,
    B = mx * ny + nx * my,
    C = mx * nz + nx * mz,
    E = 2 * my * ny,
    F = my * nz + ny * mz,
    I = 2 * mz * nz;
  for (let k = 0; k < 6; k++) {
    const w = parts[3 * k]!,
      u = parts[3 * k + 1]!,
      v = parts[3 * k + 2]!;
    put(
      values,
      blocks[first + which[k]!]!,
      w * A + (u + v) * a,
      w * B + u * b + v * d,
      w * C + u * c + v * g,
      w * B + u * d + v * b,
      w * E + (u + v) * e,
      w * F + u * f + v * h,
      w * C + u * g + v * c,
      w * F + u * h + v * f,
      w * I + (u + v) * i,
    );
  }
}
