// Time model behind the merging of supernodes, in ns (fitted; a factor of two either way
// changes the factorisation by under 2 %): fixed cost of a front, of a multiply-add pair, of a number moved.
const FRONT_NS = 300;
const FLOP_NS = 0.2;
const MOVE_NS = 1;

function frontCost(pivots: number, rows: number): number {
  return FRONT_NS + FLOP_NS * frontFlops(pivots, rows) + MOVE_NS * (rows * rows + pivots * (pivots + 2 * rows));
}

/** Multiplications and additions that eliminate k of k + r scalar rows. */
export function frontFlops(k: number, r: number): number {
  return (k * k * k) / 3 + k * k * r + k * r * r;
}

export interface Supernodes {
  readonly count: number;
  /** n: supernode of each column. */ readonly of: Int32Array;
  /** S: parent supernode. */ readonly parent: Int32Array;
}

/** Supernodes of the postordered tree, merged while the time model says that a bigger front is cheaper. */
export function supernodes(parent: Int32Array, counts: Int32Array, b: number): Supernodes {
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
