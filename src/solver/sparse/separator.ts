import type { Work } from '../work.ts';
import { Refiner, SEPARATOR, type WeightedGraph } from './refine.ts';

// Small enough for many starts, large enough to still look like the sheet.
const COARSEST = 100;
const STARTS = 8;
/** Vertices of a graph whose contraction alone takes milliseconds. */
const LARGE = 2000;

/** Integer arrays that are all given back at once: the levels of one cut are made and dropped hundreds of times. */
class Arena {
  private readonly store: Int32Array;
  private top = 0;

  constructor(size: number) {
    this.store = new Int32Array(size);
  }

  clear(): void {
    this.top = 0;
  }

  /** Not cleared. */
  take(length: number): Int32Array {
    if (this.top + length > this.store.length) return new Int32Array(length);
    this.top += length;
    return this.store.subarray(this.top - length, this.top);
  }
}

/**
 * Splits connected graphs of up to `capacity` vertices into two sides (marks 0 and 1) and a separator (mark 2).
 *
 * Multilevel (Karypis & Kumar 1998): heavy edges are contracted until the graph is small, the small graph is cut from many
 * starts, and the best cut is carried back and refined on every level.
 */
export class Splitter {
  private readonly refiner: Refiner;
  private readonly queue: Int32Array;
  private readonly seen: Int32Array;
  private stamp = 0;
  private readonly arena: Arena;

  /** trials: independent cuts to choose from where the graph is large. */
  constructor(
    capacity: number,
    private readonly trials: number,
  ) {
    this.refiner = new Refiner(capacity);
    this.queue = new Int32Array(capacity);
    this.seen = new Int32Array(capacity);
    this.arena = new Arena(80 * capacity);
  }

  /** The cheapest of several independent cuts. */
  *splitting(graph: WeightedGraph): Work<Uint8Array> {
    let best = Number.POSITIVE_INFINITY;
    let chosen = new Uint8Array(0);
    // A poor cut costs most at the top, and there are few pieces there.
    const trials = graph.count > 300 ? this.trials : 1;
    for (let t = 0; t < trials; t++) {
      this.arena.clear();
      const part = new Uint8Array(graph.count);
      const found = yield* this.cut(graph, part, t);
      if (found < best) {
        best = found;
        chosen = part;
      }
    }
    return chosen;
  }

  private *cut(graph: WeightedGraph, part: Uint8Array, trial: number): Work<number> {
    if (graph.count <= COARSEST) return this.firstCut(graph, part);
    const map = this.arena.take(graph.count);
    const coarse = contract(graph, map, trial, this.arena);
    if (coarse.count > 0.9 * graph.count) return this.firstCut(graph, part);
    const coarsePart = new Uint8Array(coarse.count);
    if (graph.count > LARGE) yield;
    yield* this.cut(coarse, coarsePart, trial);
    if (graph.count > LARGE) yield;
    for (let v = 0; v < map.length; v++) part[v] = coarsePart[map[v]];
    return this.refiner.refine(graph, part);
  }

  /** Best of several cuts grown breadth first from scattered starts. */
  private firstCut(graph: WeightedGraph, best: Uint8Array): number {
    const { count: n, start, next, weight } = graph;
    const { queue, seen } = this;
    const half = graph.totalWeight / 2;
    let least = Number.POSITIVE_INFINITY;
    const part = new Uint8Array(n);
    for (let t = 0; t < STARTS; t++) {
      part.fill(1);
      const stamp = ++this.stamp;
      const root = Math.floor((t * n) / STARTS);
      let tail = 0;
      queue[tail++] = root;
      seen[root] = stamp;
      let grown = 0;
      let head = 0;
      for (; head < tail && grown < half; head++) {
        const v = queue[head];
        part[v] = 0;
        grown += weight[v];
        for (let p = start[v]; p < start[v + 1]; p++) {
          const w = next[p];
          if (seen[w] === stamp) continue;
          seen[w] = stamp;
          queue[tail++] = w;
        }
      }
      // The rim that was seen but not taken is the first separator.
      for (; head < tail; head++) part[queue[head]] = SEPARATOR;
      const found = this.refiner.refine(graph, part);
      if (found < least) {
        least = found;
        best.set(part);
      }
    }
    return least;
  }
}

/** Contracts a matching of heavy edges; fills map with each vertex's coarse vertex. */
function contract(graph: WeightedGraph, map: Int32Array, trial: number, arena: Arena): WeightedGraph {
  const { count: n, start, next, weight, edgeWeight, totalWeight } = graph;
  const mate = arena.take(n).fill(-1);
  const member = arena.take(n);
  let count = 0;
  // A stride coprime to n visits vertices in scattered order: contraction in mesh order makes long thin clumps.
  let stride = Math.max(1, Math.floor((0.618 - 0.0371 * (trial % 16)) * n));
  while (gcd(stride, n) !== 1) stride++;
  const limit = 3 * Math.ceil(totalWeight / COARSEST);
  for (let i = 0, v = (trial * 7919) % n; i < n; i++, v += stride, v = v >= n ? v - n : v) {
    if (mate[v] >= 0) continue;
    let best = v;
    let bestWeight = 0;
    const own = weight[v];
    for (let p = start[v]; p < start[v + 1]; p++) {
      const w = next[p];
      if (mate[w] >= 0 || own + weight[w] > limit) continue;
      // Edges per vertex weight, so that light vertices are taken first and clumps stay round.
      const heavy = edgeWeight[p] / weight[w];
      if (heavy > bestWeight) {
        bestWeight = heavy;
        best = w;
      }
    }
    mate[v] = best;
    mate[best] = v;
    member[count] = v;
    map[v] = map[best] = count++;
  }
  const newStart = arena.take(count + 1);
  const newNext = arena.take(next.length);
  const newEdgeWeight = arena.take(next.length);
  const newWeight = arena.take(count);
  const seen = arena.take(count).fill(-1);
  newStart[0] = 0;
  let q = 0;
  for (let c = 0; c < count; c++) {
    const begin = q;
    const v = member[c];
    const u = mate[v];
    newWeight[c] = u === v ? weight[v] : weight[v] + weight[u];
    for (let w = v; ; w = u) {
      for (let p = start[w]; p < start[w + 1]; p++) {
        const d = map[next[p]];
        if (d === c) continue;
        const at = seen[d];
        if (at >= begin) newEdgeWeight[at] += edgeWeight[p];
        else {
          seen[d] = q;
          newNext[q] = d;
          newEdgeWeight[q++] = edgeWeight[p];
        }
      }
      if (w === u) break;
    }
    newStart[c + 1] = q;
  }
  return { count, start: newStart, next: newNext, weight: newWeight, edgeWeight: newEdgeWeight, totalWeight };
}

function gcd(a: number, b: number): number {
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}
