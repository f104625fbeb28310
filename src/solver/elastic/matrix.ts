import { put } from './block.ts';
import { cableBlock } from './cables.ts';
import type { Elastic } from './elastic.ts';
import { HINGE_PAIRS, TRI_PAIRS } from './shell.ts';

/**
 * Fills the matrix for the linearisation of `el`, plus `diag` (9n per-vertex 3x3 blocks: contact) and mass * massFactor.
 * Held vertices become identity rows. Mutates `values`, in the blocks of el.shell.pattern.
 */
export function assembleMatrix(el: Elastic, values: Float64Array, diag: Float64Array, massFactor: number): void {
  const { pattern, diagonal } = el.shell,
    { mass, held } = el.model;
  values.set(el.shell.values);
  addHinges(el, values);
  addCables(el, values);
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

/** w_a w_b K for the vertex pairs of each piece of cable, in the order of eachCablePair; K is symmetric, so stored either way round. */
function addCables(el: Elastic, values: Float64Array): void {
  if (!el.cables) return;
  const { cableBlocks } = el.shell,
    { start, weights } = el.cables.cables,
    K = new Float64Array(9);
  for (let c = 0, at = 0; c < el.cables.pieces; c++) {
    cableBlock(el.cables, c, K);
    for (let q = start[c]!; q < start[c + 1]!; q++)
      for (let r = start[c]!; r <= q; r++) {
        const w = weights[q]! * weights[r]!,
          block = cableBlocks[at++]!,
          p = 9 * (block < 0 ? ~block : block);
        for (let k = 0; k < 9; k++) values[p + k] = values[p + k]! + w * K[k]!;
      }
  }
}

/** k g g^T for each hinge and clamp, k the stiffness of that edge alone. */
function addHinges(el: Elastic, values: Float64Array): void {
  const { sheet, angles } = el,
    { hingeBlocks, clampBlocks } = el.shell,
    G = angles.grad;
  for (let h = 0; h < sheet.hinges; h++) {
    const k = sheet.localStiffness[h]!;
    if (k === 0) continue;
    for (let p = 0; p < 10; p++) addProduct(G, k, 12 * h + 3 * HINGE_PAIRS[2 * p]!, 12 * h + 3 * HINGE_PAIRS[2 * p + 1]!, values, hingeBlocks[10 * h + p]!);
  }
  for (let c = 0; c < sheet.clamps; c++) {
    const q = 12 * (sheet.hinges + c);
    for (let p = 0; p < 6; p++)
      addProduct(G, sheet.clampStiffness[c]!, q + 3 * TRI_PAIRS[2 * p]!, q + 3 * TRI_PAIRS[2 * p + 1]!, values, clampBlocks[6 * c + p]!);
  }
}

/** Block of k g g^T whose rows are g[x ..] and columns g[y ..]. */
function addProduct(g: Float64Array, k: number, x: number, y: number, values: Float64Array, block: number): void {
  const ax = k * g[x]!,
    ay = k * g[x + 1]!,
    az = k * g[x + 2]!,
    bx = g[y]!,
    by = g[y + 1]!,
    bz = g[y + 2]!;
  put(values, block, ax * bx, ax * by, ax * bz, ay * bx, ay * by, ay * bz, az * bx, az * by, az * bz);
}
