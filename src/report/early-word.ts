import type { Measures } from '../measures/types.ts';
import { judgeBand } from './band.ts';
import type { BandRun, EarlyWord } from './types.ts';

/**
 * Height kept below which a bag on a path that only loses energy has slumped for good: it would have to come back up by a twentieth of its height to merely soften. Measured
 * over every template, option and end of the band (`npm run bench:early-word`, table in test/bench/README.md), not proved.
 */
export const GONE_BELOW = 0.8;
/** Lean, rad, from which a wall of a bag without a base does not stand up again: what is told to lie flat leans past 45 degrees at rest. */
const GOES_OVER = Math.PI / 3;

/**
 * Returns the word of a bag that is still on its way down, or null where that is not certain yet. measures: of the shape that it has now, on a path that only
 * loses energy (never one of big Newton steps, which stray and come back). A bag without a base slumps or lies flat: that it lies is certain once it leans far enough,
 * that it does not is certain only at rest.
 */
export function earlyWord({ heightKept, wallLean }: Measures, hasBase: boolean): EarlyWord | null {
  if (heightKept === null || heightKept >= GONE_BELOW) return null;
  if (hasBase) return 'slumps';
  return (wallLean ?? 0) > GOES_OVER ? 'lies flat' : null;
}

/** Margin from which on a bag that holds does so with a stiffer bolt as well. */
const FIRM = 0.5;

/**
 * The end of the band that need not be run, because its word follows from this one's, or null: a typical bolt that holds with room to spare holds when it is stiffer; one
 * that has come down comes down when it is softer. Measured as above, not proved. run: of the middle.
 */
export function endThatFollows(run: BandRun): 'low' | 'high' | null {
  // Measured of bags that stand empty: not of what hangs, nor with things inside.
  if (run.band !== 'mid' || run.hung !== null || run.contents.length > 0 || run.again) return null;
  const { word, margin } = judgeBand(run);
  if (word === 'holds' && run.nudge.tested && margin >= FIRM) return 'high';
  // One that keeps its height and slumps by its mouth may soften with a softer bolt (a drawstring pouch: 0.90 slumps, 0.91 softens).
  return word === 'slumps' && run.hasBase && (run.measures.heightKept ?? 1) < GONE_BELOW ? 'low' : null;
}

/** The run with the end of the band that follows from it told on it. */
export function withFollowing(run: BandRun): BandRun {
  const end = endThatFollows(run);
  return end === null ? run : { ...run, standsFor: [end] };
}
