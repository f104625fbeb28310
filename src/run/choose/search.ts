/** Which of many stacks must be settled so that the best of them are known for certain. */
import { libm } from '../../numerics/index.ts';

/** How a stack sits with what is wanted; null without a verdict. */
export type Side = 'soft' | 'meets' | 'stiff' | null;

/** What is known of stacks 0 .. count - 1 before any is settled. They stand in their order: the best by the criterion first, no two alike. */
export interface Field {
  readonly count: number;
  /** Is a softer than b and no lighter, so that it meets nothing that b is too soft for? */ readonly softer: (a: number, b: number) => boolean;
  /** Guess at how well a stack holds, a logarithm: steers what is asked first, never what is told. */ readonly promise: (i: number) => number;
  /** Guess from which promise on a stack meets what is wanted. */ readonly likely: number;
  /** How many of the best are asked for. */ readonly most: number;
}

/** Why a stack need not be settled: it is softer than one that was too soft, stiffer than one too stiff, or stands behind the last of the best. */
type Ruled = { readonly by: number; readonly rule: 'softer' | 'stiffer' } | { readonly rule: 'behind' };

/** The search as it stands. */
export interface Search {
  /** Stacks to settle next, at most `lanes`, none twice; empty once the best are certain. */ readonly next: (lanes: number) => readonly number[];
  /** Takes the answer of a settled stack. */ readonly tell: (i: number, side: Side) => void;
  readonly settled: ReadonlyMap<number, Side>;
  /** Stacks that meet what is wanted, best first, at most `most`. */ readonly best: () => readonly number[];
  readonly ruledOut: ReadonlyMap<number, Ruled>;
  /** Stacks that are neither settled nor ruled out. */ readonly open: () => number;
}

/** Steepness of the guess: a third more overhang turns an even chance into nine to one. */
const STEEP = 8;
/** How far beyond what has failed the limit is looked for, as a logarithm: a sixth more. */
const BEYOND = 0.15;

/**
 * A search that settles what decides most. Three rules rule stacks out, and no others:
 *   softer  what is softer and no lighter everywhere than a stack that was too soft is too soft as well;
 *   stiffer what is stiffer and no heavier everywhere than a stack that was too stiff is too stiff as well;
 *   behind  what stands behind `most` stacks that meet, in the order of the criterion, is not among the best.
 * A stack without a verdict rules nothing out. The guess decides only which is asked first: with the expected number of stacks that either answer decides. Deterministic.
 */
export function createSearch(f: Field): Search {
  const settled = new Map<number, Side>(),
    ruledOut = new Map<number, Ruled>(),
    asked = new Set<number>();
  const best = (): number[] =>
    [...settled]
      .filter(([, side]) => side === 'meets')
      .map(([i]) => i)
      .sort((a, b) => a - b)
      .slice(0, f.most);
  const openOnes = (): number[] => Array.from({ length: f.count }, (_, i) => i).filter((i) => !settled.has(i) && !ruledOut.has(i));

  /** Promise between what failed for softness and what did not, or a little beyond what is known. */
  const limit = (): { soft: number; stiff: number } => {
    const of = (side: Side): number[] => [...settled].flatMap(([i, s]) => (s === side ? [f.promise(i)] : []));
    const [soft, meets, stiff] = [of('soft'), of('meets'), of('stiff')];
    const low = Math.max(Number.NEGATIVE_INFINITY, ...soft),
      high = Math.min(Number.POSITIVE_INFINITY, ...meets, ...stiff);
    const at =
      Number.isFinite(low) && Number.isFinite(high)
        ? (low + high) / 2
        : Number.isFinite(low)
          ? Math.max(f.likely, low + BEYOND)
          : Math.min(f.likely, high - BEYOND);
    return { soft: at, stiff: stiff.length === 0 ? Number.POSITIVE_INFINITY : (Math.min(...stiff) + Math.max(at, ...meets)) / 2 };
  };
  const chance = (i: number, { soft, stiff }: { soft: number; stiff: number }): number => {
    const up = (x: number): number => 1 / (1 + libm.exp(-STEEP * x));
    return up(f.promise(i) - soft) * (stiff === Number.POSITIVE_INFINITY ? 1 : up(stiff - f.promise(i)));
  };

  const next = (lanes: number): readonly number[] => {
    const open = openOnes().filter((i) => !asked.has(i)),
      at = limit(),
      found = best().length;
    // Where several are asked for, one that meets closes nothing until the last of them is found.
    const closes = 1 / Math.max(1, f.most - found);
    const worth = open.map((i, place) => {
      const p = chance(i, at);
      const falls = open.reduce((n, j) => n + (j !== i && f.softer(j, i) ? 1 : 0), 0);
      return { i, value: p * (open.length - place) * closes + (1 - p) * (1 + falls) };
    });
    worth.sort((a, b) => b.value - a.value || a.i - b.i);
    const out: number[] = [];
    for (const { i } of worth) {
      if (out.length >= lanes) break;
      // What the answer to another may settle is not asked beside it.
      if (out.some((j) => f.softer(i, j) || f.softer(j, i))) continue;
      out.push(i);
    }
    for (const i of out) asked.add(i);
    return out;
  };

  const tell = (i: number, side: Side): void => {
    settled.set(i, side);
    ruledOut.delete(i);
    asked.delete(i);
    for (const j of openOnes()) {
      if (side === 'soft' && f.softer(j, i)) ruledOut.set(j, { by: i, rule: 'softer' });
      if (side === 'stiff' && f.softer(i, j)) ruledOut.set(j, { by: i, rule: 'stiffer' });
    }
    const known = best();
    if (known.length === f.most) for (const j of openOnes()) if (j > known[f.most - 1]!) ruledOut.set(j, { rule: 'behind' });
  };
  return { next, tell, settled, best, ruledOut, open: () => openOnes().length };
}
