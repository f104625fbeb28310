import type { Stitching, StitchReference } from '../material/index.ts';
import { formatForce, formatMm, INCH, POUND_FORCE, trimmed } from '../units/index.ts';

/** What the stitching of a strap's end comes to, in one sentence: beside its pull, wherever that is told. reference null: not stitched flat. */
export function stitchSentence(s: Stitching, reference: StitchReference | null): string {
  if (reference === null) return 'For reference: this anchor is not stitched flat, so there is no figure for its stitches.';
  const { row, strength, source } = reference;
  return `For reference, not a promise: ${formatMm(row)} of stitching at ${trimmed(s.stitchesPerMetre * INCH, 1)} stitches per inch in thread of ${formatForce(s.thread)} (${trimmed(s.thread / POUND_FORCE, 2)} lbf) come to ${formatForce(strength)} per anchor: ${source}. That counts on every stitch pulling its share, and on the thread breaking before the cloth: no load limit follows from it.`;
}
