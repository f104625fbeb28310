import { strapFamily, withAnchorsAt } from '../../bag/index.ts';
import type { Bag, Strap } from '../../bag/types.ts';
import { length } from '../words.ts';
import { recommend } from './recommend.ts';
import type { AnchorSweep, HangReport } from './types.ts';
import { distanceWords } from './words.ts';

/** Turned under at each end of a strap, m. Common practice, no source. */
const TURN_UNDER = 0.025;

/** Length to cut a strap at, m: between the tops of its patches, both patches, both ends turned under. An adjuster's folds are not in it. */
export const cutLength = (s: Strap): number => s.length + s.anchors[0].height + s.anchors[1].height + 2 * TURN_UNDER;

/** How many straps to cut, how long, and what that is made of. */
export function cutWords(family: readonly Strap[]): string {
  const s = family[0]!,
    [a, b] = s.anchors.map((anchor) => distanceWords(anchor.height)),
    patches = a === b ? `two patches of ${a}` : `patches of ${a} and ${b}`;
  return `${family.length} x ${length(cutLength(s))}: ${length(s.length)} between the tops of the patches, ${patches}, ${distanceWords(TURN_UNDER)} turned under at each end (common practice)`;
}

/** What the length to cut leaves open. */
export const CUT_CAUTIONS: readonly string[] = [
  'An adjuster needs more: the part that is folded back at its longest setting, and 25 mm (1 in) folded and sewn round each bar or ring.',
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
