import type { Factor, Symbolic } from './types.ts';

/**
 * Numeric Cholesky factorisation P A P^T = L L^T; returns the factor, whose `failedAt` is -1 or the block (caller's
 * numbering) where a pivot was not positive.
 *
 * Formula: multifrontal (Duff & Reid 1983): each front gathers its matrix blocks and its children's updates, eliminates its
 * pivots and leaves U = F22 - L21 L21^T for its parent. Every entry is accumulated in one fixed order, so equal input gives
 * equal bytes. Valid for symmetric positive definite matrices; no pivoting. `values`: b*b*nnz. Mutates `factor` when given
 * (nothing is allocated then).
 */
export function factorise(symbolic: Symbolic, values: Float64Array, factor?: Factor): Factor {
  const out = factor ?? allocate(symbolic);
  out.failedAt = -1;
  for (let s = 0; s < symbolic.superCount; s++) {
    assemble(symbolic, values, out, s);
    const bad = eliminate(symbolic, out, s);
    if (bad >= 0) {
      out.failedAt = symbolic.perm[symbolic.superStart[s] + Math.floor(bad / symbolic.blockSize)];
      return out;
    }
  }
  return out;
}

function allocate(symbolic: Symbolic): Factor {
  return {
    panels: new Float64Array(symbolic.panelStart[symbolic.superCount]),
    updates: new Float64Array(symbolic.updateSize),
    front: new Float64Array(symbolic.frontSize),
    work: new Float64Array(symbolic.blockCount * symbolic.blockSize),
    gather: new Float64Array(symbolic.maxRows),
    landing: new Int32Array(symbolic.maxRows),
    failedAt: -1,
  };
}

function assemble(symbolic: Symbolic, values: Float64Array, factor: Factor, s: number): void {
  const { blockSize: b, superStart, rowStart, relative, childStart, childList, panelStart, entryStart, entryBlock, entryRow, entryCol, updateStart } = symbolic;
  const { panels, updates, front, landing } = factor;
  const base = panelStart[s];
  const kBlocks = superStart[s + 1] - superStart[s];
  const k = kBlocks * b;
  const pivotRows = (k + 3) & ~3;
  const ld = ((rowStart[s + 1] - rowStart[s]) * b + 3) & ~3;
  panels.fill(0, base, panelStart[s + 1]);

  for (let q = entryStart[s]; q < entryStart[s + 1]; q++) {
    const p = entryBlock[q];
    const flipped = p < 0;
    const rowBlock = entryRow[q];
    const row = rowBlock < kBlocks ? rowBlock * b : (rowBlock - kBlocks) * b + pivotRows;
    const col = entryCol[q] * b;
    let v = (flipped ? ~p : p) * b * b;
    for (let i = 0; i < b; i++)
      for (let j = 0; j < b; j++) {
        const ri = flipped ? row + j : row + i;
        const cj = flipped ? col + i : col + j;
        panels[base + (ri >> 2) * 4 * k + cj * 4 + (ri & 3)] = values[v++];
      }
  }

  if (ld > 0) front.fill(0, 0, ld * ld);
  for (let e = childStart[s]; e < childStart[s + 1]; e++) {
    const c = childList[e];
    const first = rowStart[c];
    const blocks = rowStart[c + 1] - first;
    const r = blocks * b;
    const childLd = (r + 3) & ~3;
    let pivotCols = 0;
    for (let i = 0, t = 0; i < blocks; i++) {
      const at = relative[first + i];
      if (at < kBlocks) pivotCols += b;
      for (let d = 0; d < b; d++, t++) {
        const ri = at < kBlocks ? at * b + d : (at - kBlocks) * b + d + pivotRows;
        landing[t] = base + (ri >> 2) * 4 * k + (ri & 3);
      }
    }
    let column = updateStart[c];
    for (let j = 0; j < pivotCols; j++, column += childLd) {
      const col = 4 * (relative[first + Math.floor(j / b)] * b + (j % b));
      for (let i = j; i < r; i++) panels[landing[i] + col] += updates[column + i];
    }
    for (let i = pivotCols; i < r; i++) landing[i] = (relative[first + Math.floor(i / b)] - kBlocks) * b + (i % b);
    for (let j = pivotCols; j < r; j++, column += childLd) {
      const col = landing[j] * ld;
      for (let i = j; i < r; i++) front[landing[i] + col] += updates[column + i];
    }
  }
}

/** Eliminates the pivots of a front; returns the first pivot column that was not positive, or -1. */
function eliminate(symbolic: Symbolic, factor: Factor, s: number): number {
  const { blockSize: b, superStart, rowStart, panelStart, updateStart } = symbolic;
  const { panels, updates, front } = factor;
  const base = panelStart[s];
  const k = (superStart[s + 1] - superStart[s]) * b;
  const ld = ((rowStart[s + 1] - rowStart[s]) * b + 3) & ~3;
  const stride = 4 * k;
  const pivotGroups = (k + 3) >> 2;
  const groups = pivotGroups + (ld >> 2);
  for (let J = 0; J < pivotGroups; J++) {
    const width = Math.min(4, k - 4 * J);
    const rowJ = base + J * stride;
    const diagonal = rowJ + 16 * J;
    for (let I = J; I < groups; I++) {
      const rowI = base + I * stride;
      const tile = rowI + 16 * J;
      if (J > 0) {
        if (width === 4) tileUpdate(panels, rowI, rowJ, 4 * J, panels, tile, panels, tile, 4);
        else narrowUpdate(panels, rowI, rowJ, 4 * J, tile, width);
      }
      if (I === J) {
        const bad = factorTile(panels, diagonal, width);
        if (bad >= 0) return 4 * J + bad;
      } else solveTile(panels, tile, diagonal, width);
    }
  }
  const off = base + pivotGroups * stride;
  const target = updateStart[s];
  for (let J = 0; 4 * J < ld; J++)
    for (let I = J; 4 * I < ld; I++) {
      const at = 4 * J * ld + 4 * I;
      tileUpdate(panels, off + I * stride, off + J * stride, k, front, at, updates, target + at, ld);
    }
  return -1;
}

/** D = C - A B^T for 4 x 4 tiles: A and B are row groups at a and b (depth columns each), C and D column by column ld apart. */
function tileUpdate(P: Float64Array, a: number, b: number, depth: number, C: Float64Array, c: number, D: Float64Array, d: number, ld: number): void {
  for (let half = 0; half < 2; half++) {
    const c1 = c + ld;
    let s00 = C[c];
    let s10 = C[c + 1];
    let s20 = C[c + 2];
    let s30 = C[c + 3];
    let s01 = C[c1];
    let s11 = C[c1 + 1];
    let s21 = C[c1 + 2];
    let s31 = C[c1 + 3];
    let q = b + 2 * half;
    const end = a + 4 * depth;
    for (let p = a; p < end; p += 4, q += 4) {
      const a0 = P[p];
      const a1 = P[p + 1];
      const a2 = P[p + 2];
      const a3 = P[p + 3];
      const b0 = P[q];
      const b1 = P[q + 1];
      s00 -= a0 * b0;
      s10 -= a1 * b0;
      s20 -= a2 * b0;
      s30 -= a3 * b0;
      s01 -= a0 * b1;
      s11 -= a1 * b1;
      s21 -= a2 * b1;
      s31 -= a3 * b1;
    }
    const d1 = d + ld;
    D[d] = s00;
    D[d + 1] = s10;
    D[d + 2] = s20;
    D[d + 3] = s30;
    D[d1] = s01;
    D[d1 + 1] = s11;
    D[d1 + 2] = s21;
    D[d1 + 3] = s31;
    c += 2 * ld;
    d += 2 * ld;
  }
}

/** The same for the last, narrower column of tiles, in place. */
function narrowUpdate(P: Float64Array, a: number, b: number, depth: number, t: number, width: number): void {
  for (let j = 0; j < width; j++, t += 4) {
    let s0 = P[t];
    let s1 = P[t + 1];
    let s2 = P[t + 2];
    let s3 = P[t + 3];
    const end = a + 4 * depth;
    for (let p = a, q = b + j; p < end; p += 4, q += 4) {
      const bj = P[q];
      s0 -= P[p] * bj;
      s1 -= P[p + 1] * bj;
      s2 -= P[p + 2] * bj;
      s3 -= P[p + 3] * bj;
    }
    P[t] = s0;
    P[t + 1] = s1;
    P[t + 2] = s2;
    P[t + 3] = s3;
  }
}

/** Cholesky of one diagonal tile in place, reciprocals on its diagonal; returns the column that failed or -1. */
function factorTile(P: Float64Array, t: number, width: number): number {
  for (let j = 0; j < width; j++) {
    let pivot = P[t + 4 * j + j];
    for (let c = 0; c < j; c++) {
      const l = P[t + 4 * c + j];
      pivot -= l * l;
    }
    if (!(pivot > 0)) return j;
    const inverse = 1 / Math.sqrt(pivot);
    P[t + 4 * j + j] = inverse;
    for (let i = j + 1; i < width; i++) {
      let v = P[t + 4 * j + i];
      for (let c = 0; c < j; c++) v -= P[t + 4 * c + i] * P[t + 4 * c + j];
      P[t + 4 * j + i] = v * inverse;
    }
  }
  return -1;
}

/** X L^T = T for one tile below the diagonal tile d, in place. */
function solveTile(P: Float64Array, t: number, d: number, width: number): void {
  for (let j = 0; j < width; j++) {
    const at = t + 4 * j;
    let s0 = P[at];
    let s1 = P[at + 1];
    let s2 = P[at + 2];
    let s3 = P[at + 3];
    for (let c = 0; c < j; c++) {
      const l = P[d + 4 * c + j];
      const from = t + 4 * c;
      s0 -= P[from] * l;
      s1 -= P[from + 1] * l;
      s2 -= P[from + 2] * l;
      s3 -= P[from + 3] * l;
    }
    const inverse = P[d + 4 * j + j];
    P[at] = s0 * inverse;
    P[at + 1] = s1 * inverse;
    P[at + 2] = s2 * inverse;
    P[at + 3] = s3 * inverse;
  }
}
