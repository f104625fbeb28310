import type { BandVerdict } from './band.ts';
import { percent } from './words.ts';

/** Clause of the sentence where pressing the upright corners to a crease gives another word; '' where it does not, or was not asked. */
export function cornersClause({ run: { corners }, word }: BandVerdict): string {
  return corners && corners.word !== word ? `; it depends on how the corners are pressed: to a crease it ${corners.word}` : '';
}

/** What pressing them does, as a sentence of the details; none where that was not asked. The hinge of a crease is an estimate. */
export function cornersLines({ run: { corners }, word }: BandVerdict): string[] {
  if (!corners) return [];
  const kept = corners.heightKept === null ? '' : `, keeping ${percent(corners.heightKept)} of its height`;
  return corners.word === word
    ? [`With its upright corners pressed to a crease it ${word} as well${kept}.`]
    : [`Sewn plain it ${word}, with its upright corners pressed to a crease it ${corners.word}${kept}. The stiffness of a crease is an estimate.`];
}
