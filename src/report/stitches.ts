import type { Stitching, StitchReference } from '../material/index.ts';
import { formatForce, formatMm, INCH, POUND_FORCE, trimmed } from '../units/index.ts';

/** What the stitching of a strap's end comes to, in one sentence: beside its pull, wherever that is told. reference null: not stitched flat. */
export function stitchSentence(s: Stitching, reference: StitchReference | null): string {
  if (reference === null) return 'For reference: this anchor is not stitched flat, so stitches tell nothing about it.';
  const { row, strength, source } = reference;
  return `For reference, not a promise: ${formatMm(row)} of stitching at ${trimmed(s.stitchesPerMetre * INCH, 1)} stitches per inch in thread of ${formatForce(s.thread)} (${trimmed(s.thread / POUND_FORCE, 2)} lbf) come to ${formatForce(strength)} per anchor: ${source}. It takes every stitch to bear its share at once and the thread to give way before the cloth.`;
}
