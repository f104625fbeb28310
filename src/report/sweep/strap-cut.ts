import { ADJUSTER, strapCut, strapFamily, TURN_UNDER, withAnchorsAt } from '../../bag/index.ts';
import type { Bag, Strap } from '../../bag/types.ts';
import { length } from '../words.ts';
import { recommend } from './recommend.ts';
import type { AnchorSweep, HangReport } from './types.ts';
import { distanceWords } from './words.ts';

/** Length to cut a strap at, m: between the tops of its patches at its longest, both patches, both ends turned under, and an adjuster's folds where it has one. */
export const cutLength = (s: Strap): number => strapCut(s);

/** How many straps to cut, how long, and what that is made of. */
export function cutWords(family: readonly Strap[]): string {
  const s = family[0]!,
    [a, b] = s.anchors.map((anchor) => distanceWords(anchor.height)),
    patches = a === b ? `two patches of ${a}` : `patches of ${a} and ${b}`;
  return `${family.length} x ${length(cutLength(s))}: ${length(s.length)} between the tops of the patches, ${patches}, ${distanceWords(TURN_UNDER)} turned under at each end${adjusterWords(s)} (common practice)`;
}

/** What an adjuster takes of the strap; '' without one. */
const adjusterWords = (s: Strap): string =>
  s.shortest === undefined
    ? ''
    : `, ${distanceWords(ADJUSTER.foldedBack)} folded back through the adjuster at its longest, ${distanceWords(ADJUSTER.roundBar)} folded and sewn round its bar and ${distanceWords(ADJUSTER.roundRing)} round its ring, in two pieces`;

/** What the length to cut leaves open. */
export const cutCautions = (family: readonly Strap[]): readonly string[] => [
  ...(family.some((s) => s.shortest !== undefined)
    ? []
    : ['An adjuster needs more: the part that is folded back at its longest setting, and 25 mm (1 in) folded and sewn round each bar or ring.']),
  'Webbing and leather stretch under load and in wear: cut one strap, hang the loaded bag from it, then cut the others.',
];

/** The bag with the strap at step `index` of the sweep; the bag itself as drawn (-1), or where it cannot lie there. */
export function bagAt(bag: Bag, a: AnchorSweep, index: number): Bag {
  const step = a.steps[index];
  return (step && withAnchorsAt(bag, a.strap, step.distance).bag) ?? bag;
}

/** The step that a card is made of where none is asked for: the one recommended, else as drawn. */
export const cardIndex = ({ anchors }: HangReport): number => recommend(anchors).index ?? -1;

export const familyOf = (bag: Bag, a: AnchorSweep): readonly Strap[] => strapFamily(bag, a.strap);
