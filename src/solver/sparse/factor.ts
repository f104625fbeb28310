import { toEnd, type Work } from '../work.ts';
import { absorb, eliminate } from './dense.ts';
import { simdMemory } from './simd.ts';
import type { Factor, Symbolic } from './types.ts';

/**
 * Numeric Cholesky factorisation P A P^T = L L^T; returns the factor, whose `failedAt` is -1 or the block (caller's
 * numbering) where a pivot was not positive.
 *
 * Formula: multifrontal (Duff & Reid 1983): each front gathers its matrix blocks and its children's updates, eliminates its
 * pivots and leaves U = F22 - L21 L21^T for its parent. Every entry is accumulated in one fixed order, so equal input gives
 * equal bytes, with or without SIMD. Valid for symmetric positive definite matrices; no pivoting. `values`: b*b*nnz.
 * Mutates `factor` when given (nothing is allocated then).
 */
export const factorise = (symbolic: Symbolic, values: Float64Array, factor?: Factor): Factor => toEnd(factorising(symbolic, values, factor));

/** Operations after which a factorisation lets others look in: 20 to 60 ms. */
const SLICE = 4e8;

/** The same in steps. `factor` may not be solved with before the last. */
export function* factorising(symbolic: Symbolic, values: Float64Array, factor?: Factor): Work<Factor> {
  const out = factor ?? allocateFactor(symbolic);
  out.failedAt = -1;
  let spent = 0;
  for (let s = 0; s < symbolic.superCount; s++) {
    if (spent > SLICE) {
      yield;
      spent = 0;
    }
    spent += operations(symbolic, s);
    enter(symbolic, values, out, s);
    const bad = out.simd === undefined ? plainFront(symbolic, out, s) : simdFront(symbolic, out, s);
    if (bad >= 0) {
      out.failedAt = symbolic.perm[symbolic.superStart[s] + Math.floor(bad / symbolic.blockSize)];
      return out;
    }
  }
  return out;
}

/** Operations that the front of s takes, a bit more than it does. */
function operations({ blockSize: b, superStart, rowStart }: Symbolic, s: number): number {
  const pivots = b * (superStart[s + 1] - superStart[s]),
    rows = pivots + b * (rowStart[s + 1] - rowStart[s]);
  return pivots * rows * rows;
}

/** Share of room to spare in a memory that is made anew for a pattern that grows. */
const SPARE = 1.3;

/** A factor for another pattern, in the memory of one that is no longer needed where that is large enough: memories are dear to make. */
export const resizeFactor = (symbolic: Symbolic, old: Factor | undefined): Factor => allocateFactor(symbolic, old === undefined || old.simd !== undefined, old);

/** Memory for a factor: one WebAssembly memory where there is SIMD (and `simd` is not false), a plain buffer otherwise. `old`: see resizeFactor. */
export function allocateFactor(symbolic: Symbolic, simd = true, old?: Factor): Factor {
  const { superStart, rowStart, panelStart, rows, relative, maxRows, superCount } = symbolic;
  let bytes = 0;
  // 32 bytes: a row group column never straddles two cache lines.
  const reserve = (size: number): number => {
    const at = bytes;
    bytes += Math.ceil(size / 32) * 32;
    return at;
  };
  const floats = [panelStart[superCount], symbolic.updateSize, symbolic.frontSize, symbolic.blockCount * symbolic.blockSize, maxRows + 4].map(
    (length) => [reserve(8 * length), length] as const,
  );
  const landingAt = reserve(4 * maxRows);
  const plainBytes = bytes;
  const copied = [superStart, rowStart, panelStart, rows, relative];
  const copiesAt = copied.map((array) => reserve(4 * array.length));
  const fits = old?.simd !== undefined && old.panels.buffer.byteLength >= bytes;
  const bound = fits ? { buffer: old.panels.buffer as ArrayBuffer, kernels: old.simd!.kernels } : simd ? simdMemory(old ? SPARE * bytes : bytes) : undefined;
  const buffer = bound?.buffer ?? new ArrayBuffer(plainBytes);
  const [panels, updates, front, work, gather] = floats.map(([at, length]) => new Float64Array(buffer, at, length));
  const copies =
    bound &&
    copied.map((array, i) => {
      const copy = new Int32Array(buffer, copiesAt[i], array.length);
      copy.set(array);
      return copy;
    });
  return {
    panels,
    updates,
    front,
    work,
    gather,
    landing: new Int32Array(buffer, landingAt, maxRows),
    simd: bound &&
      copies && { kernels: bound.kernels, superStart: copies[0], rowStart: copies[1], panelStart: copies[2], rows: copies[3], relative: copies[4] },
    failedAt: -1,
  };
}

/** Clears the panel of s and writes the matrix entries of its columns into it. */
function enter(symbolic: Symbolic, values: Float64Array, factor: Factor, s: number): void {
  const { blockSize: b, superStart, panelStart, entryStart, entryBlock, entryRow, entryCol } = symbolic;
  const { panels } = factor;
  const base = panelStart[s];
  const kBlocks = superStart[s + 1] - superStart[s];
  const k = b * kBlocks;
  const skip = ((k + 3) & ~3) - k;
  panels.fill(0, base, panelStart[s + 1]);
  const last = entryStart[s + 1];
  for (let e = entryStart[s]; e < last; e++) {
    const p = entryBlock[e];
    const at = b * entryRow[e];
    const row = at < k ? at : at + skip;
    const column = base + 4 * b * entryCol[e];
    const block = p < 0 ? ~p : p;
    if (b === 3) enterBlock(panels, column, row, k, values, 9 * block, p < 0);
    else panels[column + (row >> 2) * 4 * k + (row & 3)] = values[block];
  }
}

/** Writes the 3x3 block at values[v], transposed or not, into the three columns from `column` on and the three rows from `row` on. */
function enterBlock(panels: Float64Array, column: number, row: number, k: number, values: Float64Array, v: number, transposed: boolean): void {
  // Three rows may straddle two row groups.
  const r0 = column + (row >> 2) * 4 * k + (row & 3);
  const r1 = column + ((row + 1) >> 2) * 4 * k + ((row + 1) & 3);
  const r2 = column + ((row + 2) >> 2) * 4 * k + ((row + 2) & 3);
  // Walking a block down its columns transposes it.
  const across = transposed ? 3 : 1;
  const down = transposed ? 1 : 3;
  panels[r0] = values[v];
  panels[r0 + 4] = values[v + across];
  panels[r0 + 8] = values[v + 2 * across];
  panels[r1] = values[v + down];
  panels[r1 + 4] = values[v + 4];
  panels[r1 + 8] = values[v + down + 2 * across];
  panels[r2] = values[v + 2 * down];
  panels[r2 + 4] = values[v + 2 * down + across];
  panels[r2 + 8] = values[v + 8];
}

/** Rows of the front of s, in whole row groups; clears the front where children are added to it. */
function clearFront(symbolic: Symbolic, factor: Factor, s: number): number {
  const { blockSize: b, rowStart, childStart } = symbolic;
  const ld = ((rowStart[s + 1] - rowStart[s]) * b + 3) & ~3;
  if (childStart[s] < childStart[s + 1]) factor.front.fill(0, 0, ld * ld);
  return ld;
}

/** Absorbs the children of s and eliminates its pivots; returns the pivot column that was not positive, or -1. */
function plainFront(symbolic: Symbolic, factor: Factor, s: number): number {
  const { blockSize: b, superStart, rowStart, relative, childStart, childList, panelStart, updateStart } = symbolic;
  const { panels, updates, front, landing } = factor;
  const kBlocks = superStart[s + 1] - superStart[s];
  const ld = clearFront(symbolic, factor, s);
  const firstChild = childStart[s];
  const lastChild = childStart[s + 1];
  for (let e = firstChild; e < lastChild; e++) {
    const c = childList[e];
    const blocks = rowStart[c + 1] - rowStart[c];
    const childLd = (blocks * b + 3) & ~3;
    absorb(b, updates, updateStart[c], childLd, relative, rowStart[c], blocks, kBlocks, panels, panelStart[s], front, ld, landing);
  }
  const groups = ((kBlocks * b + 3) >> 2) + (ld >> 2);
  return eliminate(panels, panelStart[s], kBlocks * b, groups, front, updates, updateStart[s], ld, firstChild === lastChild);
}

/** The same with the WebAssembly kernels. */
function simdFront(symbolic: Symbolic, factor: Factor, s: number): number {
  const { blockSize: b, superStart, rowStart, childStart, childList, panelStart, updateStart } = symbolic;
  const { panels, updates, front, landing } = factor;
  const { kernels, relative } = factor.simd!;
  const kBlocks = superStart[s + 1] - superStart[s];
  const k = kBlocks * b;
  const ld = clearFront(symbolic, factor, s);
  const base = panels.byteOffset + 8 * panelStart[s];
  const frontAt = front.byteOffset;
  const firstChild = childStart[s];
  const lastChild = childStart[s + 1];
  for (let e = firstChild; e < lastChild; e++) {
    const c = childList[e];
    const blocks = rowStart[c + 1] - rowStart[c];
    const childBytes = 8 * ((blocks * b + 3) & ~3);
    const update = updates.byteOffset + 8 * updateStart[c];
    const rows = relative.byteOffset + 4 * rowStart[c];
    if (b === 3) kernels.absorb3(update, childBytes, rows, blocks, kBlocks, base, k, frontAt, 8 * ld, landing.byteOffset);
    else kernels.absorb1(update, childBytes, rows, blocks, kBlocks, base, k, frontAt, 8 * ld, landing.byteOffset);
  }
  const pivotGroups = (k + 3) >> 2;
  const target = updates.byteOffset + 8 * updateStart[s];
  return kernels.eliminate(base, k, pivotGroups, pivotGroups + (ld >> 2), frontAt, target, 8 * ld, firstChild === lastChild ? 1 : 0);
}
