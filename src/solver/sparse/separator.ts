import type { Graph } from './graph.ts';

/** A graph whose vertices stand for several, and whose edges too. */
export interface WeightedGraph extends Graph {
  /** n: how many original vertices each stands for. */ readonly weight: Int32Array;
  /** Per neighbour entry: how many original edges. */ readonly edgeWeight: Int32Array;
}

const SEPARATOR = 2;

// Small enough for many starts, large enough to still look like the sheet.
const COARSEST = 80;

/**
 * Price of a cut: the separator becomes a dense front (cube of its size); what is left on either side costs about
 * n^1.5 in turn. The factor is (s / sqrt n)^3 / (1 - 2^-1/2) for sheets with a hinge stencil, where s is about 1.8 sqrt n.
 */
const SIDE_PRICE = 20;

function price(separator: number, left: number, right: number): number {
  return separator * separator * separator + SIDE_PRICE * (left * Math.sqrt(left) + right * Math.sqrt(right));
}

/**
 * Splits a connected graph: returns n marks, 0 and 1 for the sides and 2 for the separator between them.
 *
 * Multilevel (Karypis & Kumar 1998): heavy edges are contracted until the graph is small, the small graph is cut from many
 * starts, and the best cut is carried back and refined on every level (Fiduccia & Mattheyses 1982, vertex separator form).
 */
export function separator(graph: WeightedGraph, starts: number): Uint8Array {
  const levels: WeightedGraph[] = [graph];
  const maps: Int32Array[] = [];
  let coarse = graph;
  while (coarse.count > COARSEST) {
    const map = new Int32Array(coarse.count);
    const next = contract(coarse, map);
    if (next.count > 0.9 * coarse.count) break;
    maps.push(map);
    levels.push(next);
    coarse = next;
  }
  let part = firstCut(coarse, starts);
  for (let l = maps.length - 1; l >= 0; l--) {
    const map = maps[l];
    const fine = new Uint8Array(map.length);
    for (let v = 0; v < map.length; v++) fine[v] = part[map[v]];
    part = fine;
    refine(levels[l], part);
  }
  return part;
}

/** Contracts a matching of heavy edges; fills map with each vertex's coarse vertex. */
function contract(graph: WeightedGraph, map: Int32Array): WeightedGraph {
  const { count: n, start, next, weight, edgeWeight } = graph;
  const mate = new Int32Array(n).fill(-1);
  let count = 0;
  // A stride coprime to n visits vertices in scattered order: contraction in mesh order makes long thin clumps.
  let stride = Math.max(1, Math.floor(0.618 * n));
  while (gcd(stride, n) !== 1) stride++;
  const limit = 3 * Math.ceil(total(weight) / COARSEST);
  for (let i = 0, v = 0; i < n; i++, v = (v + stride) % n) {
    if (mate[v] >= 0) continue;
    let best = v;
    let bestWeight = 0;
    for (let p = start[v]; p < start[v + 1]; p++) {
      const w = next[p];
      // Edges per vertex weight, so that light vertices are taken first and clumps stay round.
      const heavy = edgeWeight[p] / weight[w];
      if (mate[w] < 0 && heavy > bestWeight && weight[v] + weight[w] <= limit) {
        bestWeight = heavy;
        best = w;
      }
    }
    mate[v] = best;
    mate[best] = v;
    map[v] = map[best] = count++;
  }
  const newStart = new Int32Array(count + 1);
  const newNext = new Int32Array(next.length);
  const newEdgeWeight = new Int32Array(next.length);
  const newWeight = new Int32Array(count);
  const seen = new Int32Array(count).fill(-1);
  const member = new Int32Array(count).fill(-1);
  for (let v = n - 1; v >= 0; v--) member[map[v]] = v;
  let q = 0;
  for (let c = 0; c < count; c++) {
    const begin = q;
    const v = member[c];
    for (let half = 0; half < 2; half++) {
      const u = half === 0 ? v : mate[v];
      if (half === 1 && u === v) break;
      newWeight[c] += weight[u];
      for (let p = start[u]; p < start[u + 1]; p++) {
        const d = map[next[p]];
        if (d === c) continue;
        if (seen[d] >= begin) newEdgeWeight[seen[d]] += edgeWeight[p];
        else {
          seen[d] = q;
          newNext[q] = d;
          newEdgeWeight[q++] = edgeWeight[p];
        }
      }
    }
    newStart[c + 1] = q;
  }
  return { count, start: newStart, next: newNext.slice(0, q), weight: newWeight, edgeWeight: newEdgeWeight.slice(0, q) };
}

function gcd(a: number, b: number): number {
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}

function total(weight: Int32Array): number {
  let sum = 0;
  for (let i = 0; i < weight.length; i++) sum += weight[i];
  return sum;
}

/** Best of several cuts grown breadth first from scattered starts. */
function firstCut(graph: WeightedGraph, starts: number): Uint8Array {
  const { count: n, start, next, weight } = graph;
  const half = total(weight) / 2;
  const queue = new Int32Array(n);
  let best = new Uint8Array(n);
  let bestPrice = Number.POSITIVE_INFINITY;
  for (let t = 0; t < starts; t++) {
    const part = new Uint8Array(n).fill(1);
    const seen = new Uint8Array(n);
    const root = Math.floor((t * n) / starts);
    let tail = 0;
    queue[tail++] = root;
    seen[root] = 1;
    let grown = 0;
    for (let head = 0; head < tail && grown < half; head++) {
      const v = queue[head];
      part[v] = 0;
      grown += weight[v];
      for (let p = start[v]; p < start[v + 1]; p++) {
        const w = next[p];
        if (seen[w] === 1) continue;
        seen[w] = 1;
        queue[tail++] = w;
      }
    }
    for (let v = 0; v < n; v++) {
      if (part[v] !== 0) continue;
      for (let p = start[v]; p < start[v + 1]; p++) if (part[next[p]] === 1) part[v] = SEPARATOR;
    }
    const found = refine(graph, part);
    if (found < bestPrice) {
      bestPrice = found;
      best = part;
    }
  }
  return best;
}

/** Lowers the price of a cut by moving separator vertices to a side (and what they touch on the other into the separator); returns the price. */
function refine(graph: WeightedGraph, part: Uint8Array): number {
  const { count: n, start, next, weight } = graph;
  const size = [0, 0, 0];
  // members[0 .. inside-1] is the separator; where[v] its place there.
  const members = new Int32Array(n);
  const where = new Int32Array(n);
  let inside = 0;
  for (let v = 0; v < n; v++) {
    size[part[v]] += weight[v];
    if (part[v] === SEPARATOR) {
      where[v] = inside;
      members[inside++] = v;
    }
  }
  // pull0[v]: weight drawn into the separator if v goes to side 0, that is its neighbours on side 1.
  const pull0 = new Int32Array(n);
  const pull1 = new Int32Array(n);
  const measure = (v: number): void => {
    let on0 = 0;
    let on1 = 0;
    for (let p = start[v]; p < start[v + 1]; p++) {
      const w = next[p];
      if (part[w] === 0) on0 += weight[w];
      else if (part[w] === 1) on1 += weight[w];
    }
    pull0[v] = on1;
    pull1[v] = on0;
  };
  const enter = (v: number): void => {
    size[part[v]] -= weight[v];
    size[SEPARATOR] += weight[v];
    part[v] = SEPARATOR;
    where[v] = inside;
    members[inside++] = v;
  };
  const leave = (v: number, side: number): void => {
    size[SEPARATOR] -= weight[v];
    size[side] += weight[v];
    part[v] = side;
    const last = members[--inside];
    members[where[v]] = last;
    where[last] = where[v];
  };
  const locked = new Int32Array(n).fill(-1);
  const log = new Int32Array(4 * n + 64);
  let current = price(size[SEPARATOR], size[0], size[1]);
  for (let pass = 0; pass < 8; pass++) {
    for (let i = 0; i < inside; i++) measure(members[i]);
    let moves = 0;
    let kept = 0;
    let best = current;
    const patience = 20 + inside;
    let since = 0;
    while (inside > 0 && since < patience && moves + 64 < log.length) {
      let pick = -1;
      let side = 0;
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < inside; i++) {
        const v = members[i];
        if (locked[v] === pass) continue;
        const w = weight[v];
        const to0 = price(size[SEPARATOR] - w + pull0[v], size[0] + w, size[1] - pull0[v]);
        if (to0 < least) {
          least = to0;
          pick = v;
          side = 0;
        }
        const to1 = price(size[SEPARATOR] - w + pull1[v], size[0] - pull1[v], size[1] + w);
        if (to1 < least) {
          least = to1;
          pick = v;
          side = 1;
        }
      }
      if (pick < 0) break;
      locked[pick] = pass;
      leave(pick, side);
      log[moves++] = 2 * pick + side;
      const drawn = moves;
      for (let p = start[pick]; p < start[pick + 1]; p++) {
        const w = next[p];
        if (part[w] === SEPARATOR) {
          if (side === 0) pull1[w] += weight[pick];
          else pull0[w] += weight[pick];
        } else if (part[w] === 1 - side) {
          enter(w);
          log[moves++] = -1 - w;
        }
      }
      for (let i = drawn; i < moves; i++) {
        const w = -1 - log[i];
        measure(w);
        for (let p = start[w]; p < start[w + 1]; p++) {
          const u = next[p];
          if (part[u] !== SEPARATOR) continue;
          if (side === 0) pull0[u] -= weight[w];
          else pull1[u] -= weight[w];
        }
      }
      // Vertices drawn in together have just counted each other: count afresh.
      for (let i = drawn; i < moves; i++) measure(-1 - log[i]);
      since++;
      if (least < best) {
        best = least;
        kept = moves;
        since = 0;
      }
    }
    // Undo what came after the best cut; a drawn vertex goes back to the side its mover did not take.
    while (moves > kept) {
      let mover = moves - 1;
      while (log[mover] < 0) mover--;
      const side = log[mover] & 1;
      for (let i = moves - 1; i > mover; i--) leave(-1 - log[i], 1 - side);
      enter(log[mover] >> 1);
      moves = mover;
    }
    if (!(best < current)) break;
    current = best;
  }
  return current;
}
