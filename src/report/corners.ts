import type { Result } from './types.ts';
import { percent } from './words.ts';

/** What pressing the upright corners to a crease does, as sentences; none where that was not asked, or the bag is far from its limit. The hinge of a crease is an estimate. */
export function cornersLines({ corners, runs, verdict }: Result): string[] {
  if (!corners) return [];
  const middle = runs.find((r) => r.band === 'mid'),
    own = (middle && verdict.byBand[middle.band]) ?? verdict.word,
    kept = corners.heightKept === null ? '' : `, keeping ${percent(corners.heightKept)} of its height`;
  return corners.word === own
    ? [`With its upright corners pressed to a crease it ${corners.word} as well${kept}.`]
    : [`How the corners are pressed decides: sewn plain it ${own}, pressed to a crease it ${corners.word}${kept}. How stiff a crease is is an estimate.`];
}
