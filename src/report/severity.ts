import type { VerdictWord } from './types.ts';

/**
 * The words from the best to the worst that a bag can get (common practice, no source). One that stands until it is touched looks as drafted and will not stay
 * so: worse than one that softens and keeps what it has, better than one that has slumped already. A bag that lies flat keeps less of its shape than one
 * that slumps.
 */
export const SEVERITY: readonly VerdictWord[] = [
  'holds',
  'hangs true',
  'softens',
  'near its limit',
  'stands until touched',
  'hangs true until touched',
  'depends on the swatch',
  'slumps',
  'lies flat',
  'no verdict',
];

const rank = (word: VerdictWord): number => SEVERITY.indexOf(word);

/** Is the first word worse than the second? */
export const isWorse = (a: VerdictWord, b: VerdictWord): boolean => rank(a) > rank(b);

/** The worst of several by their word, the first among equals. list: at least one. */
export const worstBy = <T>(list: readonly T[], wordOf: (item: T) => VerdictWord): T => list.reduce((a, b) => (isWorse(wordOf(b), wordOf(a)) ? b : a));

/** Does a bag of this word keep its shape, standing or hanging? */
export const keepsShape = (word: VerdictWord): boolean => word === 'holds' || word === 'hangs true';

/** Has a bag of this word come down: no wall of it keeps what it was? */
export const hasGone = (word: VerdictWord): boolean => word === 'slumps' || word === 'lies flat';

/** Steps from keeping the shape to having lost it: 0, 1, 2. Words two steps apart make a verdict that depends on the swatch. */
export const stepOf = (word: VerdictWord): number => (keepsShape(word) ? 0 : hasGone(word) ? 2 : 1);
