import type { Graph } from './graph.ts';
import { frontFlops } from './supernodes.ts';
import type { BlockPattern, Symbolic } from './types.ts';

/** What each front is made of: its rows, the matrix blocks and children's rows that enter it, and where its numbers lie. New numbers throughout. */

type Tree = Pick<Symbolic, 'superStart' | 'childStart' | 'childList'>;
type Rows = Pick<Symbolic, 'rowStart' | 'rows'>;

/** Rows below each supernode: those of its columns in A and those its children hand up. */
export function frontRows(graph: Graph, { superStart, childStart, childList }: Tree): Rows {
  const { count: n, start, next } = graph;
  const S = superStart.length - 1;
  const rowStart = new Int32Array(S + 1);
  let rows = new Int32Array(4 * n + 16);
  const mark = new Int32Array(n).fill(-1);
  let q = 0;
  for (let s = 0; s < S; s++) {
    if (q + n > rows.length) {
      const bigger = new Int32Array(2 * rows.length + n);
      bigger.set(rows);
      rows = bigger;
    }
    const end = superStart[s + 1];
    for (let j = superStart[s]; j < end; j++)
      for (let p = start[j]; p < start[j + 1]; p++) {
        const i = next[p];
        if (i < end || mark[i] === s) continue;
        mark[i] = s;
        rows[q++] = i;
      }
    for (let e = childStart[s]; e < childStart[s + 1]; e++) {
      const c = childList[e];
      for (let p = rowStart[c]; p < rowStart[c + 1]; p++) {
        const i = rows[p];
        if (i < end || mark[i] === s) continue;
        mark[i] = s;
        rows[q++] = i;
      }
    }
    rows.subarray(rowStart[s], q).sort();
    rowStart[s + 1] = q;
  }
  return { rowStart, rows: rows.slice(0, q) };
}

type Entries = Pick<Symbolic, 'entryStart' | 'entryBlock' | 'entryRow' | 'entryCol'>;

/** Matrix blocks by the supernode of their earlier index; entryRow still holds rows of the whole matrix (`frontPlaces` turns them). */
export function matrixEntries({ blockCount: n, rowPtr, colIdx }: BlockPattern, perm: Int32Array, superStart: Int32Array): Entries {
  const S = superStart.length - 1;
  const inverse = new Int32Array(n);
  for (let i = 0; i < n; i++) inverse[perm[i]] = i;
  const superOf = new Int32Array(n);
  for (let s = 0; s < S; s++) superOf.fill(s, superStart[s], superStart[s + 1]);
  const nnz = rowPtr[n];
  const entryStart = new Int32Array(S + 1);
  for (let i = 0; i < n; i++) for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++) entryStart[superOf[Math.min(inverse[i], inverse[colIdx[p]])] + 1]++;
  for (let s = 0; s < S; s++) entryStart[s + 1] += entryStart[s];
  const entryFill = entryStart.slice(0, S);
  const entryBlock = new Int32Array(nnz);
  const entryRow = new Int32Array(nnz);
  const entryCol = new Int32Array(nnz);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++) {
      const row = inverse[i];
      const col = inverse[colIdx[p]];
      const early = Math.min(row, col);
      const s = superOf[early];
      const q = entryFill[s]++;
      entryBlock[q] = row >= col ? p : ~p;
      entryRow[q] = Math.max(row, col);
      entryCol[q] = early - superStart[s];
    }
  return { entryStart, entryBlock, entryRow, entryCol };
}

/** Rows of the whole matrix to places in fronts: returns those of the children's rows, and turns entryRow (mutated). */
export function frontPlaces(
  { superStart, childStart, childList }: Tree,
  { rowStart, rows }: Rows,
  { entryStart, entryRow }: Pick<Entries, 'entryStart' | 'entryRow'>,
): Int32Array {
  const S = superStart.length - 1;
  const place = new Int32Array(superStart[S]);
  const relative = new Int32Array(rows.length);
  for (let s = 0; s < S; s++) {
    const first = superStart[s];
    const k = superStart[s + 1] - first;
    for (let i = 0; i < k; i++) place[first + i] = i;
    for (let p = rowStart[s]; p < rowStart[s + 1]; p++) place[rows[p]] = k + p - rowStart[s];
    for (let q = entryStart[s]; q < entryStart[s + 1]; q++) entryRow[q] = place[entryRow[q]];
    for (let e = childStart[s]; e < childStart[s + 1]; e++) {
      const c = childList[e];
      for (let p = rowStart[c]; p < rowStart[c + 1]; p++) relative[p] = place[rows[p]];
    }
  }
  return relative;
}

/** Memory plan: panels one after another; update matrices form a stack, since postorder consumes the latest first. */
export function memoryPlan(
  { superStart, childStart, childList }: Tree,
  { rowStart }: Pick<Rows, 'rowStart'>,
  b: number,
): Pick<Symbolic, 'panelStart' | 'updateStart' | 'updateSize' | 'frontSize' | 'maxRows' | 'factorNonzeros' | 'flops'> {
  const S = superStart.length - 1;
  const panelStart = new Int32Array(S + 1);
  const updateStart = new Int32Array(S);
  let top = 0;
  let updateSize = 0;
  let frontSize = 0;
  let maxRows = 0;
  let factorNonzeros = 0;
  let flops = 0;
  const updateLength = new Int32Array(S);
  for (let s = 0; s < S; s++) {
    const k = (superStart[s + 1] - superStart[s]) * b;
    const r = (rowStart[s + 1] - rowStart[s]) * b;
    const padded = (r + 3) & ~3;
    panelStart[s + 1] = panelStart[s] + (((k + 3) & ~3) + padded) * k;
    for (let e = childStart[s]; e < childStart[s + 1]; e++) top -= updateLength[childList[e]];
    updateLength[s] = padded * padded;
    updateStart[s] = top;
    top += padded * padded;
    updateSize = Math.max(updateSize, top);
    frontSize = Math.max(frontSize, padded * padded);
    maxRows = Math.max(maxRows, padded);
    factorNonzeros += (k * (k + 1)) / 2 + k * r;
    flops += frontFlops(k, r);
  }
  return { panelStart, updateStart, updateSize, frontSize, maxRows, factorNonzeros, flops };
}
