/** One rung of the ladder of factors: neighbours differ by 7 %. */
export const RUNG = 1.07;
/** Rungs that are tried above and below the start at most: 224 times as stiff, 224 times as soft. */
const REACH = 80;
/** Rungs of the first stride away from the start: three times as stiff. Every later one goes as far again from the start, twice over: a heap takes several times as long to settle as what stands. */
const STRIDE = 16;
/** Rungs beyond an edge at which the words are looked at once more. */
const BEYOND = 8;

/** How a rung sits with what is wanted; null without a verdict. */
export type Side = 'soft' | 'meets' | 'stiff' | null;

/** Two rungs with unlike answers and nothing tried between them that has one. `below` null: nothing softer fails down to the end of the ladder; `above` likewise. */
export interface Edge {
  readonly below: number | null;
  readonly above: number | null;
}

/** What a search asks, and where it begins. */
export interface Ladder {
  /** Answer of a rung; asked once each, in the order in which `sideOf` is called. */ readonly sideOf: (rung: number) => Side;
  /** Rung tried first. */ readonly start: number;
  /** Rungs of the first stride; default 16. Small where the answer is known to be near. */ readonly stride?: number;
}

/** Rungs asked so far with their answers. */
export interface Climbed {
  readonly sides: ReadonlyMap<number, Side>;
  readonly ask: (rung: number) => Side;
}

/** Remembers what was asked. */
export function climb(sideOf: Ladder['sideOf']): Climbed {
  const sides = new Map<number, Side>();
  const ask = (rung: number): Side => {
    const known = sides.get(rung);
    if (known !== undefined) return known;
    const side = sideOf(rung);
    sides.set(rung, side);
    return side;
  };
  return { sides, ask };
}

/**
 * Where the answers change, "below" to "above": strides up or down from the start until both are known, then halving until two neighbouring rungs differ, then one rung beyond
 * each side, so that an answer that goes up and down again is found out rather than taken for the edge. Where answers go up and down, the last rung
 * below counts for `lastBelow`, else the first above. A rung without a verdict is stepped over.
 */
export function edgeOf(c: Climbed, o: Ladder, isBelow: (side: NonNullable<Side>) => boolean, lastBelow: boolean): Edge {
  const below = (): number[] => pick(c, isBelow),
    above = (): number[] => pick(c, (s) => !isBelow(s));
  /** The two rungs between which the answer changes, as far as is known. */
  const known = (): { lo: number | null; hi: number | null } => {
    if (lastBelow) {
      const lo = max(below());
      return { lo, hi: min(above().filter((k) => lo === null || k > lo)) };
    }
    const hi = min(above());
    return { hi, lo: max(below().filter((k) => hi === null || k < hi)) };
  };
  const halve = (lo: number, hi: number): boolean => {
    // From the middle outward: a rung without a verdict leaves the choice to its neighbours.
    const between = Array.from({ length: hi - lo - 1 }, (_, i) => lo + 1 + i).filter((k) => !c.sides.has(k));
    const middle = (lo + hi) / 2;
    between.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle) || a - b);
    if (between.length === 0) return false;
    c.ask(between[0]!);
    return true;
  };
  /** The next stride from the outermost rung tried in one direction; false at the end of the ladder. */
  const stride = (way: 1 | -1): boolean => {
    const from = [...c.sides.keys()].reduce((a, b) => (way * b > way * a ? b : a), o.start);
    const end = o.start + way * REACH;
    if (way * from >= way * end) return false;
    const by = Math.max(o.stride ?? STRIDE, 2 * Math.abs(from - o.start));
    c.ask(way * (from + way * by) > way * end ? end : from + way * by);
    return true;
  };
  c.ask(o.start);
  const checked = new Set<number>();
  for (;;) {
    const { lo, hi } = known();
    if (lo === null || hi === null) {
      // Without any verdict yet, stiffer first: a bag that did not come to rest is a soft one.
      const way = hi === null ? 1 : -1;
      if (stride(way) || (lo === null && hi === null && stride(-1))) continue;
      return { below: lo, above: hi };
    }
    if (hi - lo > 1 && halve(lo, hi)) continue;
    // One rung beyond each side, where none was tried: words that go up and down again must not be missed.
    const further = [hi + BEYOND, lo - BEYOND].find((k, side) => {
      const tried = [...c.sides.keys()].some((t) => (side === 0 ? t > hi : t < lo));
      return !tried && !checked.has(k);
    });
    if (further === undefined) return { below: lo, above: hi };
    checked.add(further);
    c.ask(further);
  }
}

const pick = (c: Climbed, wanted: (side: NonNullable<Side>) => boolean): number[] =>
  [...c.sides].flatMap(([k, side]) => (side !== null && wanted(side) ? [k] : []));
const max = (list: readonly number[]): number | null => (list.length === 0 ? null : Math.max(...list));
const min = (list: readonly number[]): number | null => (list.length === 0 ? null : Math.min(...list));
