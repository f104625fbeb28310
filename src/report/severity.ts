import type { VerdictWord } from './types.ts';

/**
 * The words from the best to the worst that a bag can get (common practice, no source). A bag that lies flat keeps less of its shape than one that slumps;
 * one that depends has one way of making or filling it that does better than the word beside it in the list.
 */
export const SEVERITY: readonly VerdictWord[] = [
  'holds',
  'softens',
  'depends on the swatch',
  'depends on how it is filled',
  'slumps',
  'lies flat',
  'no verdict',
];

const rank = (word: VerdictWord): number => SEVERITY.indexOf(word);

/** The worst of several by their word, the first among equals. list: at least one. */
export const worstBy = <T>(list: readonly T[], wordOf: (item: T) => VerdictWord): T => list.reduce((a, b) => (rank(wordOf(b)) > rank(wordOf(a)) ? b : a));
