import type { BlockPattern } from '../sparse/index.ts';
import type { Model } from '../types.ts';
import { SIDE } from './angles.ts';
import { type CordState, eachCordPair } from './cords.ts';
import type { Elastic } from './elastic.ts';
import type { Sheet } from './sheet.ts';

/**
 * The sheet's 3n x 3n stiffness but for what its turning edges resist: constant-strain triangles, their stress, and the moments times the angles' Hessians.
 * The exact action (action.ts) starts from its product, the preconditioner (matrix.ts) from a copy.
 */
export interface Shell {
  readonly pattern: BlockPattern;
  readonly values: Float64Array;
  /** n: block number of each vertex's diagonal */ readonly diagonal: Int32Array;
  /** 6m blocks of each triangle: corners 00 11 22 10 20 21; ~p = transposed */ readonly triBlocks: Int32Array;
  /** 10H blocks of each hinge: 00 11 22 33 10 20 30 21 31 32 */ readonly hingeBlocks: Int32Array;
  /** 6C blocks of each clamped edge: e0 e1 and the corner opposite, as of a triangle */ readonly clampBlocks: Int32Array;
  /** Block of every vertex pair of every cord, in the order of eachCordPair. */ readonly cordBlocks: Int32Array;
}

export const TRI_PAIRS = [0, 0, 1, 1, 2, 2, 1, 0, 2, 0, 2, 1];
export const HINGE_PAIRS = [0, 0, 1, 1, 2, 2, 3, 3, 1, 0, 2, 0, 3, 0, 2, 1, 3, 1, 3, 2];

/** Pattern and block maps of a model. */
export function createShell(model: Model, sheet: Sheet, cords: CordState | null): Shell {
  const n = sheet.n;
  const { hingeVerts } = model,
    { triVerts } = sheet;
  const neighbours: Set<number>[] = Array.from({ length: n }, (_, i) => new Set([i]));
  const link = (a: number, b: number) => {
    if (a >= b) neighbours[a]!.add(b);
    else neighbours[b]!.add(a);
  };
  for (let q = 0; q < triVerts.length; q += 3) {
    link(triVerts[q]!, triVerts[q + 1]!);
    link(triVerts[q + 1]!, triVerts[q + 2]!);
    link(triVerts[q]!, triVerts[q + 2]!);
  }
  for (let q = 0; q < hingeVerts.length; q += 4) link(hingeVerts[q + 2]!, hingeVerts[q + 3]!);
  if (cords) eachCordPair(cords, link);
  const rowPtr = new Int32Array(n + 1);
  for (let i = 0; i < n; i++) rowPtr[i + 1] = rowPtr[i]! + neighbours[i]!.size;
  const colIdx = new Int32Array(rowPtr[n]!),
    diagonal = new Int32Array(n);
  const find = new Map<number, number>();
  for (let i = 0; i < n; i++) {
    let p = rowPtr[i]!;
    for (const j of [...neighbours[i]!].sort((u, v) => u - v)) {
      find.set(i * n + j, p);
      colIdx[p++] = j;
    }
    diagonal[i] = p - 1;
  }
  const block = (a: number, b: number): number => (a >= b ? find.get(a * n + b)! : ~find.get(b * n + a)!);
  const triBlocks = new Int32Array(6 * sheet.m),
    hingeBlocks = new Int32Array(10 * sheet.hinges),
    clampBlocks = new Int32Array(6 * sheet.clamps);
  for (let t = 0; t < sheet.m; t++)
    for (let p = 0; p < 6; p++) triBlocks[6 * t + p] = block(triVerts[3 * t + TRI_PAIRS[2 * p]!]!, triVerts[3 * t + TRI_PAIRS[2 * p + 1]!]!);
  for (let h = 0; h < sheet.hinges; h++)
    for (let p = 0; p < 10; p++) hingeBlocks[10 * h + p] = block(hingeVerts[4 * h + HINGE_PAIRS[2 * p]!]!, hingeVerts[4 * h + HINGE_PAIRS[2 * p + 1]!]!);
  for (let c = 0; c < sheet.clamps; c++)
    for (let p = 0; p < 6; p++) clampBlocks[6 * c + p] = block(model.clampVerts[3 * c + TRI_PAIRS[2 * p]!]!, model.clampVerts[3 * c + TRI_PAIRS[2 * p + 1]!]!);
  const cordBlocks: number[] = [];
  if (cords) eachCordPair(cords, (a, b) => cordBlocks.push(block(a, b)));
  return {
    pattern: { blockCount: n, blockSize: 3, rowPtr, colIdx },
    values: new Float64Array(9 * colIdx.length),
    diagonal,
    triBlocks,
    hingeBlocks,
    clampBlocks,
    cordBlocks: Int32Array.from(cordBlocks),
  };
}

/** Fills the matrix for the linearisation of `el`. Mutates el.shell.values. */
export function assembleShell(el: Elastic): void {
  el.shell.values.fill(0);
  addTriangles(el);
  addTurns(el);
}

/**
 * values[block] += the 3x3 (row a, column b), transposed where the block is stored the other way round. Call it from one place of a small function alone: inlined it
 * takes 13 ns; called, each of its numbers goes by the heap (three times as long).
 */
export function put(v: Float64Array, block: number, a: number, b: number, c: number, d: number, e: number, f: number, g: number, h: number, i: number): void {
  if (block >= 0) {
    const p = 9 * block;
    v[p] = v[p]! + a;
    v[p + 1] = v[p + 1]! + b;
    v[p + 2] = v[p + 2]! + c;
    v[p + 3] = v[p + 3]! + d;
    v[p + 4] = v[p + 4]! + e;
    v[p + 5] = v[p + 5]! + f;
    v[p + 6] = v[p + 6]! + g;
    v[p + 7] = v[p + 7]! + h;
    v[p + 8] = v[p + 8]! + i;
  } else {
    const p = 9 * ~block;
    v[p] = v[p]! + a;
    v[p + 1] = v[p + 1]! + d;
    v[p + 2] = v[p + 2]! + g;
    v[p + 3] = v[p + 3]! + b;
    v[p + 4] = v[p + 4]! + e;
    v[p + 5] = v[p + 5]! + h;
    v[p + 6] = v[p + 6]! + c;
    v[p + 7] = v[p + 7]! + f;
    v[p + 8] = v[p + 8]! + i;
  }
}

/** A (B_a^T C B_b + (b_a . S b_b) I) for the six corner pairs of each triangle. */
function addTriangles(el: Elastic): void {
  const { sheet, F, geoStress, tangent } = el,
    { shape, area } = sheet,
    { values, triBlocks } = el.shell;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      s = 6 * t,
      A = area[t]!,
      c11 = tangent[s]!,
      c22 = tangent[s + 1]!,
      c12 = tangent[s + 2]!,
      c66 = tangent[s + 3]!,
      c16 = tangent[s + 4]!,
      c26 = tangent[s + 5]!;
    const ux = F[s]!,
      uy = F[s + 1]!,
      uz = F[s + 2]!,
      vx = F[s + 3]!,
      vy = F[s + 4]!,
      vz = F[s + 5]!;
    const s0 = A * geoStress[q]!,
      s1 = A * geoStress[q + 1]!,
      s2 = A * geoStress[q + 2]!;
    for (let p = 0; p < 6; p++) {
      const a = s + 2 * TRI_PAIRS[2 * p]!,
        b = s + 2 * TRI_PAIRS[2 * p + 1]!;
      const a0 = shape[a]!,
        a1 = shape[a + 1]!,
        b0 = shape[b]!,
        b1 = shape[b + 1]!;
      // K_ab = uu^T (..) + uv^T (..) + vu^T (..) + vv^T (..)
      const cross = a0 * b1 + a1 * b0,
        both = c16 * a0 * b0 + c26 * a1 * b1,
        uu = c11 * a0 * b0 + c66 * a1 * b1 + c16 * cross,
        vv = c22 * a1 * b1 + c66 * a0 * b0 + c26 * cross,
        uv = c12 * a0 * b1 + c66 * a1 * b0 + both,
        vu = c12 * a1 * b0 + c66 * a0 * b1 + both;
      const g = s0 * a0 * b0 + s1 * a1 * b1 + s2 * cross;
      const px = uu * ux + uv * vx,
        py = uu * uy + uv * vy,
        pz = uu * uz + uv * vz;
      const rx = vu * ux + vv * vx,
        ry = vu * uy + vv * vy,
        rz = vu * uz + vv * vz;
      put(
        values,
        triBlocks[6 * t + p]!,
        ux * px + vx * rx + g,
        ux * py + vx * ry,
        ux * pz + vx * rz,
        uy * px + vy * rx,
        uy * py + vy * ry + g,
        uy * pz + vy * rz,
        uz * px + vz * rx,
        uz * py + vz * ry,
        uz * pz + vz * rz + g,
      );
    }
  }
}

/** Which of a hinge's blocks take (e0, e0), (e1, e1), (e1, e0), (o, o), (o, e0), (o, e1) of its first and of its second side; which of a clamp's. */
const OF_FIRST = [0, 1, 4, 2, 5, 7],
  OF_SECOND = [0, 1, 4, 3, 6, 8],
  OF_CLAMP = [0, 1, 3, 2, 4, 5];

/** M Hess(theta) for each hinge and clamp. */
function addTurns(el: Elastic): void {
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
