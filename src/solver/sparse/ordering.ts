import type { Graph } from './graph.ts';
import { leafOrder } from './leaf.ts';
import { SEPARATOR, type WeightedGraph } from './refine.ts';
import { Splitter } from './separator.ts';

const LEAF = 64;

/** Elimination order (order[new] = old) by nested dissection. */
export function order(graph: Graph): Int32Array {
  const { count: n } = graph;
  const out = new Int32Array(n);
  let place = n;
  const local = new Int32Array(n).fill(-1);
  const splitter = new Splitter(n);
  const done = new Uint8Array(n);
  const leaf = (verts: Int32Array): void => {
    const o = leafOrder(graph, verts, local, done);
    place -= o.length;
    out.set(o, place);
  };
  const stack: Int32Array[] = [Int32Array.from({ length: n }, (_, i) => i)];
  for (let verts = stack.pop(); verts; verts = stack.pop()) {
    if (verts.length <= LEAF) {
      leaf(verts);
      continue;
    }
    const piece = subgraph(graph, verts, local);
    const comps = components(piece);
    if (comps.length > 1) {
      for (const c of comps) stack.push(c.map((v) => verts[v]));
      continue;
    }
    const part = splitter.split(piece);
    const sides: number[][] = [[], []];
    for (let v = verts.length - 1; v >= 0; v--) {
      if (part[v] === SEPARATOR) {
        out[--place] = verts[v];
        done[verts[v]] = 1;
      } else sides[part[v]].push(verts[v]);
    }
    if (sides[0].length === 0 || sides[1].length === 0) {
      // Not worth cutting.
      const rest = sides[0].length === 0 ? sides[1] : sides[0];
      leaf(Int32Array.from(rest));
      continue;
    }
    for (const s of sides) if (s.length > 0) stack.push(Int32Array.from(s.reverse()));
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

function components(graph: Graph): Int32Array[] {
  const { count: n, start, next } = graph;
  const seen = new Uint8Array(n);
  const queue = new Int32Array(n);
  const out: Int32Array[] = [];
  let tail = 0;
  for (let root = 0; root < n; root++) {
    if (seen[root] === 1) continue;
    const begin = tail;
    seen[root] = 1;
    queue[tail++] = root;
    for (let head = begin; head < tail; head++)
      for (let p = start[queue[head]]; p < start[queue[head] + 1]; p++) {
        const w = next[p];
        if (seen[w] === 1) continue;
        seen[w] = 1;
        queue[tail++] = w;
      }
    out.push(queue.slice(begin, tail).sort());
  }
  return out;
}
