import type { Graph } from './graph.ts';

/** Parent of each column in the elimination tree (Liu 1986, path compression); graph in new numbers. */
export function eliminationTree(graph: Graph): Int32Array {
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
export function postorder(parent: Int32Array): Int32Array {
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
export function columnCounts(graph: Graph, parent: Int32Array): Int32Array {
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

/** Parents after renumbering, order[new] = old. */
export function relabel(parent: Int32Array, order: Int32Array): Int32Array {
  const name = new Int32Array(order.length);
  for (let i = 0; i < order.length; i++) name[order[i]] = i;
  return order.map((old) => (parent[old] < 0 ? -1 : name[parent[old]]));
}

/** Children of each node, S + 1 starts and their list. */
export function childLists(parent: Int32Array): { childStart: Int32Array; childList: Int32Array } {
  const S = parent.length;
  const childStart = new Int32Array(S + 1);
  for (const p of parent) if (p >= 0) childStart[p + 1]++;
  for (let s = 0; s < S; s++) childStart[s + 1] += childStart[s];
  const fill = childStart.slice(0, S);
  const childList = new Int32Array(childStart[S]);
  for (let s = 0; s < S; s++) if (parent[s] >= 0) childList[fill[parent[s]]++] = s;
  return { childStart, childList };
}
