import { formatAngle, formatForce, formatInches, formatMm, trimmed } from '../../units/index.ts';
import { THRESHOLDS } from '../thresholds.ts';
import { length } from '../words.ts';
import { nearMissWords } from './advice.ts';
import { missesOf } from './recommend.ts';
import type { AnchorSweep, SweepStep } from './types.ts';

/** Turns of phrase shared by the table, the plot and the card. */

const dash = (v: number | null, show: (v: number) => string): string => (v === null ? '-' : show(v));

/** "62.5 mm (2 7/16 in)": tenths of a millimetre where they are not nought, inches to the sixteenth. */
export const distanceWords = (m: number): string => `${formatMm(m)} (${formatInches(m)})`;

/** How far an anchor is from the finished corner of a boxed bag, to follow its distance from the side; '' of any other bag. */
export const cornerWords = (p: { readonly fromCorner: number | null }): string =>
  p.fromCorner === null ? '' : `, ${distanceWords(p.fromCorner)} from the finished corner`;

/** Figures of a step as its table shows them: none of one that is not at rest. */
export const stepFigures = (step: SweepStep) =>
  figuresOf(step.status === 'settled' ? step : { tilt: null, mouthSag: null, baseSag: null, drop: null, force: null, inward: null });

const figuresOf = (s: Pick<SweepStep, 'tilt' | 'mouthSag' | 'baseSag' | 'drop' | 'force' | 'inward'>) => ({
  tilt: dash(s.tilt, formatAngle),
  mouthSag: dash(s.mouthSag, (v) => `${trimmed(100 * v, 1)} %`),
  baseSag: dash(s.baseSag, (v) => formatMm(v)),
  drop: dash(s.drop, length),
  force: dash(s.force, formatForce),
  inward: dash(s.inward, formatForce),
});

/** Does the base sag past what still holds? That is no matter of hanging level, but it is one of the bag's verdict. */
export const baseSags = (s: SweepStep): boolean => (s.baseSag ?? 0) > SAG.holds;
const SAG = THRESHOLDS.find((t) => t.gate === 'baseSag')!;

/** Where bases of hung steps sag past their limit: that level is not the whole verdict; '' where none does. */
export const sagWords = (steps: readonly SweepStep[]): string =>
  steps.some(baseSags)
    ? `Where the base sags past ${formatMm(SAG.holds)} the bag does not keep its shape, level or not. Settle the stance for the whole verdict.`
    : '';

/** "level" (and whether its base sags past the limit), which limit is missed ("tilts", "mouth sag 6.2 % where 5 % holds"), "NOT at rest" or "not hung". */
export function stepWord(s: SweepStep, limits: AnchorSweep['limits']): string {
  if (s.status === 'refused') return 'not hung';
  if (s.status !== 'settled') return 'NOT at rest';
  if (s.level) return baseSags(s) ? 'level, base sags' : 'level';
  return nearMissWords(missesOf(s, limits)) || 'not level';
}

const limitWords = (a: AnchorSweep): string =>
  `tilt at most ${formatAngle(a.limits.tilt)}, mouth sag at most ${trimmed(100 * a.limits.mouthSag, 1)} %${lookWords(a.wanted)}`;

/** Why the mouth may sag further than a firm bag's: what look is wanted; '' of a firm one. */
export const lookWords = (wanted: AnchorSweep['wanted']): string => (wanted === 'slouchy' || wanted === 'soft' ? `, because "${wanted}" is wanted` : '');

/** Distances of the anchors as the file has them from the sides they are nearer to, each once, smallest first, m. */
export const drawnDistances = (a: AnchorSweep): readonly number[] =>
  [...new Set(a.drawn.places.map((p) => Math.round(p.fromSide * 1e5) / 1e5))].sort((p, q) => p - q);

/** Where it hangs level, and what it does as drawn. */
export function levelWords(a: AnchorSweep): string {
  const drawn = `As drawn, ${drawnDistances(a).map(distanceWords).join(' and ')} from the side: ${stepWord(a.drawn.step, a.limits)}.`;
  const hung = a.steps.filter((s) => s.status !== 'refused').length;
  if (a.level.length === 0)
    return `${a.drawn.step.level ? 'Moved, it hangs' : 'It hangs'} level at none of the ${hung} distances tried (${limitWords(a)}). ${drawn}`;
  const ranges = a.level.map((r) => (r.from === r.to ? `at ${distanceWords(r.from)}` : `from ${distanceWords(r.from)} to ${distanceWords(r.to)}`));
  return `Hangs level ${ranges.join(' and ')} from the side (${limitWords(a)}); only the listed distances were tried. ${drawn}`;
}
