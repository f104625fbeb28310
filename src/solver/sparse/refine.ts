import type { Graph } from './graph.ts';

/** A graph whose vertices stand for several, and whose edges too. */
export interface WeightedGraph extends Graph {
  /** n: how many original vertices each stands for. */ readonly weight: Int32Array;
  /** Per neighbour entry: how many original edges. */ readonly edgeWeight: Int32Array;
  /** Sum of the weights. */ readonly totalWeight: number;
}

/** The mark of a separator vertex; the sides are 0 and 1. */
export const SEPARATOR = 2;

/**
 * Price of a cut: the separator becomes a dense front (cube of its size); what is left on either side costs about
 * n^1.5 in turn. For a sheet cut by s = sigma sqrt(n) the factor would be sigma^3 / (1 - 2^-1/2); 8 was measured best of 1 to 40.
 */
function price(separator: number, left: number, right: number): number {
  return separator * separator * separator + 8 * (left * Math.sqrt(left) + right * Math.sqrt(right));
}

const PASSES = 5;
/** Moves without a better cut before a pass ends, on top of half the separator. */
const PATIENCE = 16;

/**
 * Lowers the price of a cut by moving separator vertices to a side, and what they touch on the other side into the
 * separator (Fiduccia & Mattheyses 1982 in its vertex form). Work arrays are shared by all graphs up to `capacity` vertices.
 */
export class Refiner {
  /** The separator is members[0 .. inside-1]; where[v] is a vertex's place there. */
  private readonly members: Int32Array;
  private readonly where: Int32Array;
  /** Weight that a move of v to side 0 (1) draws into the separator: its neighbours on side 1 (0). */
  private readonly pull0: Int32Array;
  private readonly pull1: Int32Array;
  /** Pass in which v was last moved; a vertex moves once a pass. */
  private readonly locked: Int32Array;
  /** Moves: 2 v + side for a mover, -1 - w for each vertex it drew in. */
  private readonly log: Int32Array;
  private pass = 0;

  constructor(capacity: number) {
    this.members = new Int32Array(capacity);
    this.where = new Int32Array(capacity);
    this.pull0 = new Int32Array(capacity);
    this.pull1 = new Int32Array(capacity);
    this.locked = new Int32Array(capacity);
    this.log = new Int32Array(4 * capacity);
  }

  /** Improves `part` in place and returns its price. */
  refine(graph: WeightedGraph, part: Uint8Array): number {
    const { count: n, start, next, weight } = graph;
    const { members, where, pull0, pull1, locked, log } = this;
    // A clump of m vertices is about sqrt(m) across, so a separator of clumps will refine to its weight over sqrt(m).
    const thin = 1 / Math.sqrt(graph.totalWeight / n);
    let inside = 0;
    let heavy = 0;
    let size0 = 0;
    for (let v = 0; v < n; v++) {
      const side = part[v];
      if (side === 0) size0 += weight[v];
      else if (side === SEPARATOR) {
        heavy += weight[v];
        where[v] = inside;
        members[inside++] = v;
      }
    }
    let size1 = graph.totalWeight - size0 - heavy;
    let current = price(heavy * thin, size0, size1);
    for (let turn = 0; turn < PASSES; turn++) {
      const pass = ++this.pass;
      for (let i = 0; i < inside; i++) {
        const v = members[i];
        let on0 = 0;
        let on1 = 0;
        for (let p = start[v]; p < start[v + 1]; p++) {
          const w = next[p];
          if (part[w] === 0) on0 += weight[w];
          else if (part[w] === 1) on1 += weight[w];
        }
        pull0[v] = on1;
        pull1[v] = on0;
      }
      let moves = 0;
      let kept = 0;
      let best = current;
      let patience = PATIENCE + inside / 2;
      while (inside > 0 && patience-- > 0) {
        // Least growth of the separator toward either side; the price decides between the two.
        let pick0 = -1;
        let pick1 = -1;
        let growth0 = 0x3fffffff;
        let growth1 = 0x3fffffff;
        for (let i = 0; i < inside; i++) {
          const v = members[i];
          if (locked[v] === pass) continue;
          const to0 = pull0[v] - weight[v];
          if (to0 < growth0) {
            growth0 = to0;
            pick0 = v;
          }
          const to1 = pull1[v] - weight[v];
          if (to1 < growth1) {
            growth1 = to1;
            pick1 = v;
          }
        }
        if (pick0 < 0) break;
        const price0 = price((heavy + growth0) * thin, size0 + weight[pick0], size1 - pull0[pick0]);
        const price1 = price((heavy + growth1) * thin, size0 - pull1[pick1], size1 + weight[pick1]);
        const side = price0 <= price1 ? 0 : 1;
        const pick = side === 0 ? pick0 : pick1;
        const least = side === 0 ? price0 : price1;
        const other = 1 - side;
        if (side === 0) {
          heavy += growth0;
          size0 += weight[pick];
          size1 -= pull0[pick];
        } else {
          heavy += growth1;
          size1 += weight[pick];
          size0 -= pull1[pick];
        }
        const last = members[--inside];
        members[where[pick]] = last;
        where[last] = where[pick];
        part[pick] = side;
        locked[pick] = pass;
        log[moves++] = 2 * pick + side;
        const toward = side === 0 ? pull1 : pull0;
        const away = side === 0 ? pull0 : pull1;
        for (let p = start[pick]; p < start[pick + 1]; p++) {
          const w = next[p];
          if (part[w] === SEPARATOR) toward[w] += weight[pick];
          else if (part[w] === other) {
            part[w] = SEPARATOR;
            where[w] = inside;
            members[inside++] = w;
            log[moves++] = -1 - w;
            let far = 0;
            let near = 0;
            for (let q = start[w]; q < start[w + 1]; q++) {
              const u = next[q];
              const at = part[u];
              if (at === SEPARATOR) away[u] -= weight[w];
              else if (at === side) near += weight[u];
              else far += weight[u];
            }
            // `pick` is on its side already, so it is counted here and must not be added again.
            toward[w] = near;
            away[w] = far;
          }
        }
        if (least < best) {
          best = least;
          kept = moves;
          patience = PATIENCE + inside / 2;
        }
        if (moves + 64 > log.length) break;
      }
      // Undo what came after the best cut: a drawn vertex goes back to the side its mover did not take.
      while (moves > kept) {
        let mover = moves - 1;
        while (log[mover] < 0) mover--;
        const v = log[mover] >> 1;
        const side = log[mover] & 1;
        for (let i = moves - 1; i > mover; i--) {
          const w = -1 - log[i];
          const last = members[--inside];
          members[where[w]] = last;
          where[last] = where[w];
          part[w] = 1 - side;
          heavy -= weight[w];
          if (side === 0) size1 += weight[w];
          else size0 += weight[w];
        }
        part[v] = SEPARATOR;
        where[v] = inside;
        members[inside++] = v;
        heavy += weight[v];
        if (side === 0) size0 -= weight[v];
        else size1 -= weight[v];
        moves = mover;
      }
      if (!(best < current)) break;
      current = best;
    }
    return current;
  }
}
