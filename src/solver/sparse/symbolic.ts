import { blockGraph, type Graph, permuteGraph } from './graph.ts';
import { order } from './ordering.ts';
import type { BlockPattern, Symbolic } from './types.ts';

// Time model behind the merging of supernodes, in ns (fitted; a factor of two either way
// changes the factorisation by under 2 %): fixed cost of a front, of a multiply-add pair, of a number moved.
const FRONT_NS = 300;
const FLOP_NS = 0.2;
const MOVE_NS = 1;

function frontCost(pivots: number, rows: number): number {
  return FRONT_NS + FLOP_NS * frontFlops(pivots, rows) + MOVE_NS * (rows * rows + pivots * (pivots + 2 * rows));
}

/** Multiplications and additions that eliminate k of k + r scalar rows. */
function frontFlops(k: number, r: number): number {
  return (k * k * k) / 3 + k * k * r + k * r * r;
}

/** Parent of each column in the elimination tree (Liu 1986, path compression); `adjacency` in new numbers. */
function eliminationTree(graph: Graph): Int32Array {
  const { count: n, start, next } = graph;
  const parent = new Int32Array(n).fill(-1);
  const ancestor = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i++) {
    for (let p = start[i]; p < start[i + 1]; p++) {
      for (let j = next[p]; j !== -1 && j < i; ) {
        const up = ancestor[j];
        ancestor[j] = i;
        if (up === -1) parent[j] = i;
        j = up;
      }
    }
  }
  return parent;
}

/** Postorder of a forest given by parents; children keep their increasing order. */
function postorder(parent: Int32Array): Int32Array {
  const n = parent.length;
  const first = new Int32Array(n).fill(-1);
  const sibling = new Int32Array(n).fill(-1);
  for (let v = n - 1; v >= 0; v--) {
    if (parent[v] < 0) continue;
    sibling[v] = first[parent[v]];
    first[parent[v]] = v;
  }
  const out = new Int32Array(n);
  const stack = new Int32Array(n);
  let place = 0;
  for (let root = 0; root < n; root++) {
    if (parent[root] >= 0) continue;
    let depth = 0;
    stack[0] = root;
    while (depth >= 0) {
      const v = stack[depth];
      const child = first[v];
      if (child >= 0) {
        first[v] = sibling[child];
        stack[++depth] = child;
      } else {
        out[place++] = v;
        depth--;
      }
    }
  }
  return out;
}

/** Rows below the diagonal in each column of L, by walking every row's subtree. */
function columnCounts(graph: Graph, parent: Int32Array): Int32Array {
  const { count: n, start, next } = graph;
  const counts = new Int32Array(n);
  const mark = new Int32Array(n).fill(-1);
  for (let i = 0; i < n; i++) {
    mark[i] = i;
    for (let p = start[i]; p < start[i + 1]; p++) {
      for (let j = next[p]; j < i && mark[j] !== i; j = parent[j]) {
        mark[j] = i;
        counts[j]++;
      }
    }
  }
  return counts;
}

interface Supernodes {
  readonly count: number;
  /** n: supernode of each column. */ readonly of: Int32Array;
  /** S: parent supernode. */ readonly parent: Int32Array;
}

/** Supernodes of the postordered tree, merged while the time model says that a bigger front is cheaper. */
function supernodes(parent: Int32Array, counts: Int32Array, b: number): Supernodes {
  const n = parent.length;
  const of = new Int32Array(n);
  let count = 0;
  for (let j = 0; j < n; j++) {
    if (j > 0 && parent[j - 1] === j && counts[j - 1] === counts[j] + 1) of[j] = count - 1;
    else of[j] = count++;
  }
  const pivots = new Int32Array(count);
  const rows = new Int32Array(count);
  const up = new Int32Array(count).fill(-1);
  for (let j = 0; j < n; j++) {
    const s = of[j];
    pivots[s]++;
    rows[s] = counts[j];
    up[s] = parent[j] < 0 ? -1 : of[parent[j]];
  }
  const children: number[][] = Array.from({ length: count }, () => []);
  const into = Int32Array.from({ length: count }, (_, s) => s);
  for (let s = 0; s < count; s++) {
    const kids = children[s];
    for (;;) {
      let best = -1;
      let gain = 0;
      const own = frontCost(pivots[s] * b, rows[s] * b);
      for (let i = 0; i < kids.length; i++) {
        const c = kids[i];
        const apart = own + frontCost(pivots[c] * b, rows[c] * b);
        const saved = apart - frontCost((pivots[s] + pivots[c]) * b, rows[s] * b);
        if (saved > gain) {
          gain = saved;
          best = i;
        }
      }
      if (best < 0) break;
      const c = kids[best];
      kids.splice(best, 1);
      kids.push(...children[c]);
      children[c].length = 0;
      pivots[s] += pivots[c];
      into[c] = s;
    }
    if (up[s] >= 0) children[up[s]].push(s);
  }
  // Merged names point to a later supernode, so one backward sweep finds the survivors.
  for (let s = count - 1; s >= 0; s--) into[s] = into[into[s]];
  const name = new Int32Array(count).fill(-1);
  let kept = 0;
  for (let s = 0; s < count; s++) if (into[s] === s) name[s] = kept++;
  const keptParent = new Int32Array(kept).fill(-1);
  for (let s = 0; s < count; s++) if (into[s] === s && up[s] >= 0) keptParent[name[s]] = name[into[up[s]]];
  for (let j = 0; j < n; j++) of[j] = name[into[of[j]]];
  return { count: kept, of, parent: keptParent };
}

/**
 * Elimination order, supernodes and memory plan for a pattern.
 *
 * Formula: nested dissection, elimination tree, relaxed supernodes (Ashcraft & Grimes 1989), multifrontal assembly
 * (Duff & Reid 1983; Liu 1992). Assumes a structurally valid pattern (every diagonal block present). Costs about as
 * much as four factorisations; one analysis serves every matrix of the pattern, and the last few are kept: a bag is settled with one cloth after another.
 */
export function analyse(pattern: BlockPattern): Symbolic {
  const known = kept.findIndex((k) => samePattern(k.pattern, pattern));
  if (known >= 0) {
    kept.unshift(...kept.splice(known, 1));
    return kept[0].symbolic;
  }
  const symbolic = analyseAnew(pattern);
  kept.unshift({ pattern: { ...pattern, rowPtr: pattern.rowPtr.slice(), colIdx: pattern.colIdx.slice() }, symbolic });
  kept.length = Math.min(kept.length, KEPT);
  return symbolic;
}

/** The same without looking among those kept. Mutates nothing. */
export function analyseAnew(pattern: BlockPattern): Symbolic {
  const graph = blockGraph(pattern);
  return plan(pattern, graph, order(graph, pattern.blockSize));
}

/** Analyses kept, latest first: of a bag's matrix, its condensed unknowns and its placing, and as many again. */
const kept: { readonly pattern: BlockPattern; readonly symbolic: Symbolic }[] = [];
const KEPT = 6;

const samePattern = (a: BlockPattern, b: BlockPattern): boolean =>
  a.blockCount === b.blockCount && a.blockSize === b.blockSize && sameNumbers(a.rowPtr, b.rowPtr) && sameNumbers(a.colIdx, b.colIdx);

function sameNumbers(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

export function plan(pattern: BlockPattern, graph: Graph, perm: Int32Array): Symbolic {
  const { blockCount: n, blockSize: b, rowPtr, colIdx } = pattern;
  let permuted = permuteGraph(graph, perm);
  const firstTree = eliminationTree(permuted);
  const post = postorder(firstTree);
  perm = compose(perm, post);
  permuted = permuteGraph(graph, perm);
  const tree = relabel(firstTree, post);
  const merged = supernodes(tree, columnCounts(permuted, tree), b);

  // Second postorder: merged children bring their columns along, so supernodes must be made contiguous again.
  const superPost = postorder(merged.parent);
  const S = merged.count;
  const parent = relabel(merged.parent, superPost);
  const newName = new Int32Array(S);
  for (let s = 0; s < S; s++) newName[superPost[s]] = s;
  const superStart = new Int32Array(S + 1);
  for (let j = 0; j < n; j++) superStart[newName[merged.of[j]] + 1]++;
  for (let s = 0; s < S; s++) superStart[s + 1] += superStart[s];
  const fill = superStart.slice(0, S);
  const shuffle = new Int32Array(n);
  for (let j = 0; j < n; j++) shuffle[fill[newName[merged.of[j]]]++] = j;
  perm = compose(perm, shuffle);
  permuted = permuteGraph(graph, perm);

  const { childStart, childList } = childLists(parent);
  const { rowStart, rows } = structure(permuted, superStart, childStart, childList);

  // Matrix blocks by the supernode of their earlier index.
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

  // Global row numbers to places in fronts.
  const place = new Int32Array(n);
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

  // Memory plan: update matrices form a stack, since postorder consumes the latest first.
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
  return {
    blockCount: n,
    blockSize: b,
    perm,
    superCount: S,
    superStart,
    rowStart,
    rows,
    relative,
    parent,
    childStart,
    childList,
    panelStart,
    entryStart,
    entryBlock,
    entryRow,
    entryCol,
    updateStart,
    updateSize,
    frontSize,
    maxRows,
    factorNonzeros,
    flops,
  };
}

function compose(perm: Int32Array, then: Int32Array): Int32Array {
  return then.map((i) => perm[i]);
}

/** Parents after renumbering, order[new] = old. */
function relabel(parent: Int32Array, order: Int32Array): Int32Array {
  const name = new Int32Array(order.length);
  for (let i = 0; i < order.length; i++) name[order[i]] = i;
  return order.map((old) => (parent[old] < 0 ? -1 : name[parent[old]]));
}

function childLists(parent: Int32Array): { childStart: Int32Array; childList: Int32Array } {
  const S = parent.length;
  const childStart = new Int32Array(S + 1);
  for (const p of parent) if (p >= 0) childStart[p + 1]++;
  for (let s = 0; s < S; s++) childStart[s + 1] += childStart[s];
  const fill = childStart.slice(0, S);
  const childList = new Int32Array(childStart[S]);
  for (let s = 0; s < S; s++) if (parent[s] >= 0) childList[fill[parent[s]]++] = s;
  return { childStart, childList };
}

/** Rows below each supernode: those of its columns in A and those its children hand up. */
function structure(graph: Graph, superStart: Int32Array, childStart: Int32Array, childList: Int32Array): { rowStart: Int32Array; rows: Int32Array } {
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
