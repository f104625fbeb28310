import { formatAngle, formatForce, formatInches, formatMm, trimmed } from '../../units/index.ts';
import { length } from '../words.ts';
import type { AnchorSweep, SweepStep } from './types.ts';

/** Turns of phrase shared by the table, the plot and the card. */

const dash = (v: number | null, show: (v: number) => string): string => (v === null ? '-' : show(v));

/** "62.5 mm (2 7/16 in)": tenths of a millimetre where they are not nought, inches to the sixteenth. */
export const distanceWords = (m: number): string => `${formatMm(m)} (${formatInches(m)})`;

/** Figures of a step as its table shows them. */
export const stepFigures = (s: SweepStep) => ({
  tilt: dash(s.tilt, formatAngle),
  mouthSag: dash(s.mouthSag, (v) => `${trimmed(100 * v, 1)} %`),
  baseSag: dash(s.baseSag, (v) => formatMm(v)),
  drop: dash(s.drop, length),
  force: dash(s.force, formatForce),
  inward: dash(s.inward, formatForce),
});

/** "level", "not level", "NOT at rest" or "not hung". */
export const stepWord = (s: SweepStep): string =>
  s.status === 'refused' ? 'not hung' : s.status !== 'settled' ? 'NOT at rest' : s.level ? 'level' : 'not level';

export const limitWords = (a: AnchorSweep): string => `tilt at most ${formatAngle(a.limits.tilt)}, mouth sag at most ${trimmed(100 * a.limits.mouthSag, 1)} %`;

/** One sentence on the range that hangs level. */
export function levelWords(a: AnchorSweep): string {
  const hung = a.steps.filter((s) => s.status !== 'refused').length;
  if (a.level.length === 0) return `At none of the ${hung} distances hung does it hang level (${limitWords(a)}).`;
  const ranges = a.level.map((r) => (r.from === r.to ? `at ${distanceWords(r.from)}` : `from ${distanceWords(r.from)} to ${distanceWords(r.to)}`));
  return `Hangs level ${ranges.join(' and ')} from the side (${limitWords(a)}); only the listed distances were hung.`;
}
