import type { Work } from '../work.ts';
import type { Graph } from './graph.ts';
import { leafOrder } from './leaf.ts';
import { SEPARATOR, type WeightedGraph } from './refine.ts';
import { Splitter } from './separator.ts';

/**
 * Elimination order (order[new] = old) by nested dissection (George 1973): cut the graph in two, number the separator last,
 * go on with the sides; small pieces are ordered by least degree.
 *
 * In steps: a cut after another. Blocks of 3 make fill 9 times as dear, so they get more trials and are cut further before least degree takes over.
 */
export function* ordering(graph: Graph, blockSize: number): Work<Int32Array> {
  const { count: n } = graph;
  const leaf = blockSize === 3 ? 64 : 160;
  const trials = blockSize === 3 ? 4 : 2;
  const out = new Int32Array(n);
  const numbered = new Uint8Array(n);
  const local = new Int32Array(n).fill(-1);
  const splitter = new Splitter(n, trials);
  let place = n;
  const stack: Int32Array[] = [Int32Array.from({ length: n }, (_, i) => i)];
  for (let verts = stack.pop(); verts; verts = stack.pop()) {
    if (verts.length > leaf) {
      yield;
      const piece = subgraph(graph, verts, local);
      const sides = components(piece) ?? (yield* splitter.splitting(piece));
      const parts: Int32Array[] = [0, 1].map((side) => verts.filter((_, i) => sides[i] === side));
      if (parts[0].length > 0 && parts[1].length > 0) {
        stack.push(...parts);
        for (let i = verts.length - 1; i >= 0; i--) {
          if (sides[i] !== SEPARATOR) continue;
          out[--place] = verts[i];
          numbered[verts[i]] = 1;
        }
        continue;
      }
    }
    // Small, or not worth cutting (a dense piece).
    place -= verts.length;
    out.set(leafOrder(graph, verts, local, numbered), place);
  }
  return out;
}

function subgraph(graph: Graph, verts: Int32Array, local: Int32Array): WeightedGraph {
  const { start, next } = graph;
  const count = verts.length;
  let entries = 0;
  for (let i = 0; i < count; i++) {
    local[verts[i]] = i;
    entries += start[verts[i] + 1] - start[verts[i]];
  }
  const newStart = new Int32Array(count + 1);
  const newNext = new Int32Array(entries);
  let q = 0;
  for (let i = 0; i < count; i++) {
    const v = verts[i];
    for (let p = start[v]; p < start[v + 1]; p++) {
      const w = local[next[p]];
      if (w >= 0) newNext[q++] = w;
    }
    newStart[i + 1] = q;
  }
  for (let i = 0; i < count; i++) local[verts[i]] = -1;
  return { count, start: newStart, next: newNext, weight: new Int32Array(count).fill(1), edgeWeight: new Int32Array(entries).fill(1), totalWeight: count };
}

/** undefined for a connected graph, otherwise sides that share its components out evenly, with nothing between them. */
function components(graph: Graph): Uint8Array | undefined {
  const { count: n, start, next } = graph;
  const side = new Uint8Array(n).fill(SEPARATOR);
  const queue = new Int32Array(n);
  const size = [0, 0];
  let tail = 0;
  for (let root = 0; root < n; root++) {
    if (side[root] !== SEPARATOR) continue;
    const smaller = size[0] <= size[1] ? 0 : 1;
    const begin = tail;
    side[root] = smaller;
    queue[tail++] = root;
    for (let head = begin; head < tail; head++)
      for (let p = start[queue[head]]; p < start[queue[head] + 1]; p++) {
        const w = next[p];
        if (side[w] !== SEPARATOR) continue;
        side[w] = smaller;
        queue[tail++] = w;
      }
    if (tail === n && begin === 0) return undefined;
    size[smaller] += tail - begin;
  }
  return side;
}
