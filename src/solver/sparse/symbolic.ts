import { toEnd, type Work } from '../work.ts';
import { childLists, columnCounts, eliminationTree, postorder, relabel } from './elimination-tree.ts';
import { frontPlaces, frontRows, matrixEntries, memoryPlan } from './front-plan.ts';
import { blockGraph, type Graph, permuteGraph } from './graph.ts';
import { ordering } from './ordering.ts';
import { supernodes } from './supernodes.ts';
import type { BlockPattern, Symbolic } from './types.ts';

/**
 * Elimination order, supernodes and memory plan for a pattern.
 *
 * Formula: nested dissection, elimination tree, relaxed supernodes (Ashcraft & Grimes 1989), multifrontal assembly
 * (Duff & Reid 1983; Liu 1992). Assumes a structurally valid pattern (every diagonal block present). Costs about as
 * much as four factorisations; one analysis serves every matrix of the pattern, and the last few are cached: a bag is settled with one cloth after another.
 * given: an elimination order known from elsewhere, given[new] = old block; finding one is most of the time.
 */
export const analyse = (pattern: BlockPattern, given: Int32Array | null = null): Symbolic => toEnd(analysing(pattern, given));

/** The same in steps. */
export function* analysing(pattern: BlockPattern, given: Int32Array | null = null): Work<Symbolic> {
  const known = cached.findIndex((k) => samePattern(k.pattern, pattern) && sameOrder(k.given, given));
  if (known >= 0) {
    cached.unshift(...cached.splice(known, 1));
    return cached[0].symbolic;
  }
  const symbolic = yield* analysingAnew(pattern, given);
  cached.unshift({ pattern: { ...pattern, rowPtr: pattern.rowPtr.slice(), colIdx: pattern.colIdx.slice() }, given: given?.slice() ?? null, symbolic });
  cached.length = Math.min(cached.length, CACHE_SIZE);
  return symbolic;
}

/** The same without looking among those cached. Mutates nothing. */
export const analyseAnew = (pattern: BlockPattern, given: Int32Array | null = null): Symbolic => toEnd(analysingAnew(pattern, given));

export function* analysingAnew(pattern: BlockPattern, given: Int32Array | null = null): Work<Symbolic> {
  const graph = blockGraph(pattern);
  return yield* planning(pattern, graph, given ?? (yield* ordering(graph, pattern.blockSize)));
}

/** Analyses kept, latest first: of a bag's matrix, its condensed unknowns and its placing, and as many again. */
const cached: { readonly pattern: BlockPattern; readonly given: Int32Array | null; readonly symbolic: Symbolic }[] = [];
const CACHE_SIZE = 6;

const samePattern = (a: BlockPattern, b: BlockPattern): boolean =>
  a.blockCount === b.blockCount && a.blockSize === b.blockSize && sameNumbers(a.rowPtr, b.rowPtr) && sameNumbers(a.colIdx, b.colIdx);

/** The same pattern in another order is another factor: what was asked before must not decide the last bits. */
const sameOrder = (a: Int32Array | null, b: Int32Array | null): boolean => (a === null || b === null ? a === b : sameNumbers(a, b));

function sameNumbers(a: Int32Array, b: Int32Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The same for an order that is given: perm[new] = old block. */
function* planning(pattern: BlockPattern, graph: Graph, given: Int32Array): Work<Symbolic> {
  const { blockCount: n, blockSize: b } = pattern;
  yield;
  const firstTree = eliminationTree(permuteGraph(graph, given));
  const post = postorder(firstTree);
  const inPostorder = compose(given, post);
  const tree = relabel(firstTree, post);
  const merged = supernodes(tree, columnCounts(permuteGraph(graph, inPostorder), tree), b);

  yield;
  // Second postorder: merged children bring their columns along, so supernodes must be made contiguous again.
  const superPost = postorder(merged.parent);
  const S = merged.count;
  const parent = relabel(merged.parent, superPost);
  const { superStart, shuffle } = contiguous(merged.of, superPost);
  const perm = compose(inPostorder, shuffle);

  const supers = { superStart, ...childLists(parent) };
  yield;
  const rows = frontRows(permuteGraph(graph, perm), supers);
  const entries = matrixEntries(pattern, perm, superStart);
  yield;
  const relative = frontPlaces(supers, rows, entries);
  return { blockCount: n, blockSize: b, perm, superCount: S, parent, ...supers, ...rows, relative, ...entries, ...memoryPlan(supers, rows, b) };
}

/** Columns in the order of their supernodes, old number by new: `of` is the supernode of each column, superPost[new] = old supernode. */
function contiguous(of: Int32Array, superPost: Int32Array): { superStart: Int32Array; shuffle: Int32Array } {
  const n = of.length;
  const S = superPost.length;
  const newName = new Int32Array(S);
  for (let s = 0; s < S; s++) newName[superPost[s]] = s;
  const superStart = new Int32Array(S + 1);
  for (let j = 0; j < n; j++) superStart[newName[of[j]] + 1]++;
  for (let s = 0; s < S; s++) superStart[s + 1] += superStart[s];
  const fill = superStart.slice(0, S);
  const shuffle = new Int32Array(n);
  for (let j = 0; j < n; j++) shuffle[fill[newName[of[j]]]++] = j;
  return { superStart, shuffle };
}

function compose(perm: Int32Array, then: Int32Array): Int32Array {
  return then.map((i) => perm[i]);
}
