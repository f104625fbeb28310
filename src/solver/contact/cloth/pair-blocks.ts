import { analysingAnew, type BlockPattern, blockAt, type Factor, factorising, resizeFactor, type Symbolic, widen } from '../../sparse/index.ts';
import type { Work } from '../../work.ts';
import { PAIR, type PairContact } from './pairs.ts';

/**
 * The preconditioner's matrix with the blocks by which touching pairs couple their vertices, in a pattern of its own. Without them each vertex meets a wall that does not move,
 * and CG takes a product for each cluster of pairs that moves together; with them it takes as many as where nothing touches.
 */
export interface PairBlocks {
  /** Pattern of the sheet's own matrix, and its analysis. */ readonly sheet: BlockPattern;
  readonly own: Symbolic;
  /** Vertex couples that the pattern has beside the sheet's, as row * n + column (row > column), and the plan in which each was last needed. */
  readonly extra: Map<number, number>;
  plans: number;
  pattern: BlockPattern;
  symbolic: Symbolic;
  /** Where each of the sheet's blocks lies. */ place: Int32Array;
  values: Float64Array;
  factor: Factor | undefined;
  /** Elimination order in use, and the operations that it took when it was made. */
  order: Int32Array;
  orderFlops: number;
  /** 6 per active pair: where its blocks lie, -1 where it needs none. */ at: Int32Array;
}

export const createPairBlocks = (sheet: BlockPattern, own: Symbolic): PairBlocks => ({
  sheet,
  own,
  extra: new Map(),
  plans: 0,
  pattern: sheet,
  symbolic: own,
  place: Int32Array.from(sheet.colIdx, (_, p) => p),
  values: new Float64Array(0),
  factor: undefined,
  order: own.perm,
  orderFlops: own.flops,
  at: new Int32Array(0),
});

/** The couples of a pair's four vertices. */
const COUPLES = [1, 0, 2, 0, 3, 0, 2, 1, 3, 1, 3, 2];
/** Plans that a block stays for after it was last needed: what touches now and then does not ask for a new plan each time. */
const KEPT = 3;
/** Operations over those of a fresh order from which another order is sought: one takes as long as four factorisations. */
const REORDER = 1.3;

/**
 * Factor of the sheet's matrix (`values`, its diagonals with the pairs' own) and the active pairs' couplings: w_a w_b (kn n n^T + kt (I - n n^T - t t^T)) for each couple of
 * a pair's vertices, as applyPairs has them. Call after evaluatePairs. Mutates `b`; held vertices are left alone.
 */
export function* factorisingPairBlocks(b: PairBlocks, values: Float64Array, pc: PairContact, held: Uint8Array): Work<void> {
  if (!locate(b, pc)) {
    yield* planningAnew(b, pc);
    locate(b, pc);
  }
  const count = 9 * b.pattern.colIdx.length;
  if (b.values.length < count) b.values = new Float64Array(Math.ceil(1.2 * count));
  widen(values, b.place, b.values, b.pattern.colIdx.length);
  addPairs(b, pc, held);
  b.factor = yield* factorising(b.symbolic, b.values, b.factor);
}

/** Finds the blocks of all active pairs; false where the pattern lacks one. */
function locate(b: PairBlocks, pc: PairContact): boolean {
  const { activeVerts, activeData } = pc;
  if (b.at.length < 6 * pc.active) b.at = new Int32Array(Math.ceil(7.2 * pc.active));
  for (let p = 0, k = 0; p < pc.active; p++) {
    const far = activeData[PAIR * p + 7] === 0;
    for (let c = 0; c < 12; c += 2, k++) {
      if (far) {
        b.at[k] = -1;
        continue;
      }
      const u = activeVerts[4 * p + COUPLES[c]!]!,
        v = activeVerts[4 * p + COUPLES[c + 1]!]!,
        at = blockAt(b.pattern, Math.max(u, v), Math.min(u, v));
      if (at < 0) return false;
      b.at[k] = at;
    }
  }
  return true;
}

/** A pattern that has every active pair's blocks, and what else was needed a short time ago. */
function* planningAnew(b: PairBlocks, pc: PairContact): Work<void> {
  const n = b.sheet.blockCount,
    { activeVerts } = pc;
  b.plans++;
  for (let p = 0; p < pc.active; p++)
    for (let c = 0; c < 12; c += 2) {
      const u = activeVerts[4 * p + COUPLES[c]!]!,
        v = activeVerts[4 * p + COUPLES[c + 1]!]!,
        row = Math.max(u, v),
        column = Math.min(u, v);
      if (blockAt(b.sheet, row, column) < 0) b.extra.set(row * n + column, b.plans);
    }
  for (const [key, needed] of b.extra) if (b.plans - needed > KEPT) b.extra.delete(key);
  const keys = Float64Array.from(b.extra.keys()).sort();
  Object.assign(b, merged(b.sheet, keys));
  b.symbolic = yield* analysingAnew(b.pattern, b.order);
  if (b.symbolic.flops > REORDER * b.orderFlops) {
    b.symbolic = yield* analysingAnew(b.pattern);
    b.order = b.symbolic.perm;
    b.orderFlops = b.symbolic.flops;
  }
  b.factor = resizeFactor(b.symbolic, b.factor);
}

/** The sheet's pattern and the couples `keys` (row * n + column, increasing); `place` as in PairBlocks. */
function merged(sheet: BlockPattern, keys: Float64Array): { pattern: BlockPattern; place: Int32Array } {
  const { blockCount: n, rowPtr, colIdx } = sheet,
    starts = new Int32Array(n + 1),
    columns = new Int32Array(colIdx.length + keys.length),
    place = new Int32Array(colIdx.length);
  let q = 0,
    e = 0;
  for (let row = 0; row < n; row++) {
    for (let p = rowPtr[row]!; p < rowPtr[row + 1]!; p++) {
      const key = row * n + colIdx[p]!;
      while (e < keys.length && keys[e]! < key) columns[q++] = keys[e++]! % n;
      place[p] = q;
      columns[q++] = colIdx[p]!;
    }
    starts[row + 1] = q;
  }
  return { pattern: { blockCount: n, blockSize: 3, rowPtr: starts, colIdx: columns }, place };
}

function addPairs({ values, at }: PairBlocks, pc: PairContact, held: Uint8Array): void {
  const { activeVerts, activeData: D } = pc;
  for (let p = 0, k = 0; p < pc.active; p++) {
    const o = PAIR * p,
      kn = D[o + 7]!,
      kt = D[o + 8]!,
      nx = D[o + 4]!,
      ny = D[o + 5]!,
      nz = D[o + 6]!,
      tx = D[o + 9]!,
      ty = D[o + 10]!,
      tz = D[o + 11]!,
      d = kn - kt,
      xx = d * nx * nx + kt * (1 - tx * tx),
      xy = d * nx * ny - kt * tx * ty,
      xz = d * nx * nz - kt * tx * tz,
      yy = d * ny * ny + kt * (1 - ty * ty),
      yz = d * ny * nz - kt * ty * tz,
      zz = d * nz * nz + kt * (1 - tz * tz);
    for (let c = 0; c < 12; c += 2, k++) {
      const i = COUPLES[c]!,
        j = COUPLES[c + 1]!;
      if (at[k]! < 0 || held[activeVerts[4 * p + i]!] || held[activeVerts[4 * p + j]!]) continue;
      const w = D[o + i]! * D[o + j]!,
        q = 9 * at[k]!;
      values[q] = values[q]! + w * xx;
      values[q + 1] = values[q + 1]! + w * xy;
      values[q + 2] = values[q + 2]! + w * xz;
      values[q + 3] = values[q + 3]! + w * xy;
      values[q + 4] = values[q + 4]! + w * yy;
      values[q + 5] = values[q + 5]! + w * yz;
      values[q + 6] = values[q + 6]! + w * xz;
      values[q + 7] = values[q + 7]! + w * yz;
      values[q + 8] = values[q + 8]! + w * zz;
    }
  }
}
