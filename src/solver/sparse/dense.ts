// Dense kernels on panels of row groups (see Symbolic) in plain numbers: the fallback where WebAssembly SIMD is missing, and
// the reference that kernels.ts must equal byte for byte. A change to the order of operations here is a change there.

/**
 * Adds a child's update matrix (at `update`, columns `childLd` apart) to its parent's panel and front.
 * relative[first ..]: where the child's `blocks` block rows land in the parent's front, pivots first. Mutates `landing`.
 */
export function absorb(
  b: number,
  updates: Float64Array,
  update: number,
  childLd: number,
  relative: Int32Array,
  first: number,
  blocks: number,
  kBlocks: number,
  panels: Float64Array,
  base: number,
  front: Float64Array,
  ld: number,
  landing: Int32Array,
): void {
  const k = kBlocks * b;
  const r = blocks * b;
  let pivotCols = 0;
  for (let i = 0, t = 0; i < blocks; i++) {
    const at = relative[first + i];
    if (at < kBlocks) pivotCols += b;
    let row = at < kBlocks ? at * b : at * b - k + ((k + 3) & ~3);
    for (let d = 0; d < b; d++, t++, row++) landing[t] = base + (row >> 2) * 4 * k + (row & 3);
  }
  let column = update;
  for (let j = 0; j < pivotCols; j++, column += childLd) {
    const block = b === 3 ? Math.floor(j / 3) : j;
    const col = 4 * (relative[first + block] * b + j - block * b);
    for (let i = j; i < r; i++) panels[landing[i] + col] += updates[column + i];
  }
  for (let i = pivotCols / b, t = pivotCols; i < blocks; i++) {
    const row = (relative[first + i] - kBlocks) * b;
    for (let d = 0; d < b; d++, t++) landing[t] = row + d;
  }
  for (let j = pivotCols; j < r; j++, column += childLd) {
    const col = landing[j] * ld;
    for (let i = j; i < r; i++) front[landing[i] + col] += updates[column + i];
  }
}

/**
 * Eliminates the k pivots of the panel at `base`, then writes D = C - L21 L21^T, C and D columns `ld` apart; returns the
 * pivot column that was not positive, or -1. groups: row groups of the panel, pivots included. With `fresh` C counts as zero.
 */
export function eliminate(
  panels: Float64Array,
  base: number,
  k: number,
  groups: number,
  C: Float64Array,
  D: Float64Array,
  d: number,
  ld: number,
  fresh: boolean,
): number {
  const stride = 4 * k;
  const pivotGroups = (k + 3) >> 2;
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
  if (fresh) C.fill(0, 0, ld * ld);
  for (let J = 0; 4 * J < ld; J++)
    for (let I = J; 4 * I < ld; I++) {
      const at = 4 * J * ld + 4 * I;
      tileUpdate(panels, off + I * stride, off + J * stride, k, C, at, D, d + at, ld);
    }
  return -1;
}

/** D = C - A B^T for 4 x 4 tiles: A and B are row groups at a and b (depth columns each), C and D column by column ld apart. */
function tileUpdate(P: Float64Array, a: number, b: number, depth: number, C: Float64Array, c: number, D: Float64Array, d: number, ld: number): void {
  const c1 = c + ld;
  const c2 = c1 + ld;
  const c3 = c2 + ld;
  let s00 = C[c];
  let s10 = C[c + 1];
  let s20 = C[c + 2];
  let s30 = C[c + 3];
  let s01 = C[c1];
  let s11 = C[c1 + 1];
  let s21 = C[c1 + 2];
  let s31 = C[c1 + 3];
  let s02 = C[c2];
  let s12 = C[c2 + 1];
  let s22 = C[c2 + 2];
  let s32 = C[c2 + 3];
  let s03 = C[c3];
  let s13 = C[c3 + 1];
  let s23 = C[c3 + 2];
  let s33 = C[c3 + 3];
  const end = a + 4 * depth;
  for (let p = a, q = b; p < end; p += 4, q += 4) {
    const a0 = P[p];
    const a1 = P[p + 1];
    const a2 = P[p + 2];
    const a3 = P[p + 3];
    const b0 = P[q];
    s00 -= a0 * b0;
    s10 -= a1 * b0;
    s20 -= a2 * b0;
    s30 -= a3 * b0;
    const b1 = P[q + 1];
    s01 -= a0 * b1;
    s11 -= a1 * b1;
    s21 -= a2 * b1;
    s31 -= a3 * b1;
    const b2 = P[q + 2];
    s02 -= a0 * b2;
    s12 -= a1 * b2;
    s22 -= a2 * b2;
    s32 -= a3 * b2;
    const b3 = P[q + 3];
    s03 -= a0 * b3;
    s13 -= a1 * b3;
    s23 -= a2 * b3;
    s33 -= a3 * b3;
  }
  const d1 = d + ld;
  const d2 = d1 + ld;
  const d3 = d2 + ld;
  D[d] = s00;
  D[d + 1] = s10;
  D[d + 2] = s20;
  D[d + 3] = s30;
  D[d1] = s01;
  D[d1 + 1] = s11;
  D[d1 + 2] = s21;
  D[d1 + 3] = s31;
  D[d2] = s02;
  D[d2 + 1] = s12;
  D[d2 + 2] = s22;
  D[d2 + 3] = s32;
  D[d3] = s03;
  D[d3 + 1] = s13;
  D[d3 + 2] = s23;
  D[d3 + 3] = s33;
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
