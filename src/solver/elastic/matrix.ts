import type { BlockPattern } from '../sparse/index.ts';
import { SIDE } from './angles.ts';
import { cordBlock, eachCordPair } from './cords.ts';
import type { Elastic } from './elastic.ts';

/**
 * The assembled 3n x 3n matrix: constant-strain triangles plus hinges with the stiffness of one edge alone. It is the
 * preconditioner of CG on the exact action (elastic.ts), and its pivots tell whether a state is stable.
 */
export interface StencilMatrix {
  readonly pattern: BlockPattern;
  readonly values: Float64Array;
  /** n: block number of each vertex's diagonal */ readonly diagonal: Int32Array;
  /** 6m blocks of each triangle: corners 00 11 22 10 20 21; ~p = transposed */ readonly triBlocks: Int32Array;
  /** 10H blocks of each hinge: 00 11 22 33 10 20 30 21 31 32 */ readonly hingeBlocks: Int32Array;
  /** C blocks: the far corner of each clamped edge */ readonly clampBlocks: Int32Array;
  /** Block of every vertex pair of every cord, in the order of eachCordPair. */ readonly cordBlocks: Int32Array;
  readonly held: Uint8Array;
}

const TRI_PAIRS = [0, 0, 1, 1, 2, 2, 1, 0, 2, 0, 2, 1];
const HINGE_PAIRS = [0, 0, 1, 1, 2, 2, 3, 3, 1, 0, 2, 0, 3, 0, 2, 1, 3, 1, 3, 2];

/** Pattern and block maps of a model. */
export function createMatrix(el: Elastic): StencilMatrix {
  const { model, sheet } = el,
    n = sheet.n;
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
  if (el.cords) eachCordPair(el.cords, link);
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
    clampBlocks = new Int32Array(sheet.clamps);
  for (let t = 0; t < sheet.m; t++)
    for (let p = 0; p < 6; p++) triBlocks[6 * t + p] = block(triVerts[3 * t + TRI_PAIRS[2 * p]!]!, triVerts[3 * t + TRI_PAIRS[2 * p + 1]!]!);
  for (let h = 0; h < sheet.hinges; h++)
    for (let p = 0; p < 10; p++) hingeBlocks[10 * h + p] = block(hingeVerts[4 * h + HINGE_PAIRS[2 * p]!]!, hingeVerts[4 * h + HINGE_PAIRS[2 * p + 1]!]!);
  for (let c = 0; c < sheet.clamps; c++) clampBlocks[c] = diagonal[model.clampVerts[3 * c + 2]!]!;
  const cordBlocks: number[] = [];
  if (el.cords) eachCordPair(el.cords, (a, b) => cordBlocks.push(block(a, b)));
  return {
    pattern: { blockCount: n, blockSize: 3, rowPtr, colIdx },
    values: new Float64Array(9 * colIdx.length),
    diagonal,
    triBlocks,
    hingeBlocks,
    clampBlocks,
    cordBlocks: Int32Array.from(cordBlocks),
    held: model.held,
  };
}

/**
 * Fills the matrix for the linearisation of `el`, plus `diag` (9n per-vertex 3x3 blocks: contact) and mass * massFactor.
 * Held vertices become identity rows. Mutates matrix.values.
 */
export function assembleMatrix(el: Elastic, matrix: StencilMatrix, diag: Float64Array, massFactor: number): void {
  const { values, pattern, held, diagonal } = matrix,
    { mass } = el.model;
  values.fill(0);
  addTriangles(el, matrix);
  addHinges(el, matrix);
  addCords(el, matrix);
  for (let i = 0; i < pattern.blockCount; i++) {
    const p = 9 * diagonal[i]!,
      f = mass[i]! * massFactor;
    for (let k = 0; k < 9; k++) values[p + k] = values[p + k]! + diag[9 * i + k]!;
    values[p] = values[p]! + f;
    values[p + 4] = values[p + 4]! + f;
    values[p + 8] = values[p + 8]! + f;
  }
  for (let i = 0; i < pattern.blockCount; i++) {
    for (let p = pattern.rowPtr[i]!; p < pattern.rowPtr[i + 1]!; p++) {
      const j = pattern.colIdx[p]!;
      if (!held[i] && !held[j]) continue;
      values.fill(0, 9 * p, 9 * p + 9);
      if (i === j) values[9 * p] = values[9 * p + 4] = values[9 * p + 8] = 1;
    }
  }
}

/** w_a w_b K for the vertex pairs of each cord; K is symmetric, so stored either way round. */
function addCords(el: Elastic, matrix: StencilMatrix): void {
  if (!el.cords) return;
  const { values, cordBlocks } = matrix,
    K = new Float64Array(9);
  let at = 0,
    last = -1;
  eachCordPair(el.cords, (_a, _b, w, c) => {
    if (c !== last) cordBlock(el.cords!, c, K);
    last = c;
    const block = cordBlocks[at++]!,
      p = 9 * (block < 0 ? ~block : block);
    for (let k = 0; k < 9; k++) values[p + k] = values[p + k]! + w * K[k]!;
  });
}

/** values[block] += the 3x3 (row a, column b), transposed where the block is stored the other way round. */
function put(v: Float64Array, block: number, a: number, b: number, c: number, d: number, e: number, f: number, g: number, h: number, i: number): void {
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
function addTriangles(el: Elastic, matrix: StencilMatrix): void {
  const { sheet, F, geoStress } = el,
    { shape, area, stretch } = sheet,
    { values, triBlocks } = matrix;
  const { taut } = el;
  let layer = 0;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      s = 6 * t,
      A = area[t]!;
    let c11 = A * stretch[4 * t]!,
      c22 = A * stretch[4 * t + 1]!,
      c12 = A * stretch[4 * t + 2]!,
      c66 = A * stretch[4 * t + 3]!;
    // Layers square to the sheet exactly; of those laid askew what couples pull with shear is left to CG.
    for (; taut && layer < taut.count && taut.tri[layer] === t; layer++) {
      const k = A * taut.now[layer]!,
        [n11, n22, n12] = [taut.along[3 * layer]!, taut.along[3 * layer + 1]!, taut.along[3 * layer + 2]!];
      c11 += k * n11 * n11;
      c22 += k * n22 * n22;
      c12 += k * n11 * n22;
      c66 += k * n12 * n12;
    }
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
      const uu = c11 * a0 * b0 + c66 * a1 * b1,
        vv = c22 * a1 * b1 + c66 * a0 * b0,
        uv = c12 * a0 * b1 + c66 * a1 * b0,
        vu = c12 * a1 * b0 + c66 * a0 * b1;
      const g = s0 * a0 * b0 + s1 * a1 * b1 + s2 * (a0 * b1 + a1 * b0);
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

/** k g g^T + M Hess(theta) for each hinge and clamp, k the stiffness of that edge alone. */
function addHinges(el: Elastic, matrix: StencilMatrix): void {
  const { sheet, angles, geoMoment } = el,
    { values, hingeBlocks, clampBlocks } = matrix,
    S = angles.sides;
  const G = new Float64Array(12);
  for (let h = 0; h < sheet.hinges; h++) {
    const k = sheet.localStiffness[h]!,
      M = geoMoment[h]!;
    if (k === 0 && M === 0) continue;
    const at1 = 2 * SIDE * h,
      at2 = at1 + SIDE,
      h1 = 1 / S[at1 + 10]!,
      h2 = 1 / S[at2 + 10]!,
      t1 = S[at1 + 11]!,
      t2 = S[at2 + 11]!;
    for (let d = 0; d < 3; d++) {
      const n1 = S[at1 + 6 + d]! * h1,
        n2 = S[at2 + 6 + d]! * h2;
      G[d] = (1 - t1) * n1 + (1 - t2) * n2;
      G[3 + d] = t1 * n1 + t2 * n2;
      G[6 + d] = -n1;
      G[9 + d] = -n2;
    }
    for (let p = 0; p < 10; p++) {
      const a = HINGE_PAIRS[2 * p]!,
        b = HINGE_PAIRS[2 * p + 1]!,
        x = 3 * a,
        y = 3 * b;
      const ax = k * G[x]!,
        ay = k * G[x + 1]!,
        az = k * G[x + 2]!,
        bx = G[y]!,
        by = G[y + 1]!,
        bz = G[y + 2]!;
      put(values, hingeBlocks[10 * h + p]!, ax * bx, ax * by, ax * bz, ay * bx, ay * by, ay * bz, az * bx, az * by, az * bz);
      if (M === 0) continue;
      if (a !== 3 && b !== 3) sideHessian(S, at1, M, a, b, values, hingeBlocks[10 * h + p]!);
      if (a !== 2 && b !== 2) sideHessian(S, at2, M, a === 3 ? 2 : a, b === 3 ? 2 : b, values, hingeBlocks[10 * h + p]!);
    }
  }
  for (let c = 0; c < sheet.clamps; c++) {
    const at = SIDE * (2 * sheet.hinges + c),
      k = sheet.clampStiffness[c]! / (S[at + 10]! * S[at + 10]!);
    const nx = S[at + 6]!,
      ny = S[at + 7]!,
      nz = S[at + 8]!;
    put(values, clampBlocks[c]!, k * nx * nx, k * nx * ny, k * nx * nz, k * ny * nx, k * ny * ny, k * ny * nz, k * nz * nx, k * nz * ny, k * nz * nz);
    const M = geoMoment[sheet.hinges + c]!;
    if (M !== 0) sideHessian(S, at, M, 2, 2, values, clampBlocks[c]!);
  }
}

/** Block (a, b) of M times one side's part of Hess(theta); local vertices 0 = e0, 1 = e1, 2 = o. See angles.ts for the form. */
function sideHessian(S: Float64Array, at: number, M: number, a: number, b: number, values: Float64Array, block: number): void {
  const iL = 1 / S[at + 9]!,
    ih = 1 / S[at + 10]!,
    t = S[at + 11]!;
  const pa = a === 2 ? 1 : a === 1 ? -t : t - 1,
    pb = b === 2 ? 1 : b === 1 ? -t : t - 1;
  const da = a === 2 ? 0 : a === 1 ? 1 : -1,
    db = b === 2 ? 0 : b === 1 ? 1 : -1;
  const en = M * pa * db * iL * ih,
    ne = M * da * pb * iL * ih,
    mn = M * (pa * pb * ih * ih + 0.5 * da * db * iL * iL);
  const ex = S[at]!,
    ey = S[at + 1]!,
    ez = S[at + 2]!,
    mx = S[at + 3]!,
    my = S[at + 4]!,
    mz = S[at + 5]!,
    nx = S[at + 6]!,
    ny = S[at + 7]!,
    nz = S[at + 8]!;
  put(
    values,
    block,
    en * ex * nx + ne * nx * ex + 2 * mn * mx * nx,
    en * ex * ny + ne * nx * ey + mn * (mx * ny + nx * my),
    en * ex * nz + ne * nx * ez + mn * (mx * nz + nx * mz),
    en * ey * nx + ne * ny * ex + mn * (my * nx + ny * mx),
    en * ey * ny + ne * ny * ey + 2 * mn * my * ny,
    en * ey * nz + ne * ny * ez + mn * (my * nz + ny * mz),
    en * ez * nx + ne * nz * ex + mn * (mz * nx + nz * mx),
    en * ez * ny + ne * nz * ey + mn * (mz * ny + nz * my),
    en * ez * nz + ne * nz * ez + 2 * mn * mz * nz,
  );
}
