import { told, type UnitChoice } from '../page/format.ts';
import { type AnchorSweep, baseSags, drawnDistances, type Fault, formatForce, formatMm, missesOf, nearMissWords, type SweepStep } from './core.ts';
import { written } from './lengths.ts';
import { words } from './words.ts';

/** A distance as a maker reads it: in inches with millimetres beside, or millimetres alone. */
export const distance = (m: number, units: UnitChoice): string => `${written(m, units)}${units === 'both' ? ` (${formatMm(m)})` : ''}`;

export const shown = (v: number | null, show: (v: number) => string): string => (v === null ? words.missing : show(v));

/** Angles as the page writes them: "3 deg" of the core is 3°. */
export const degrees = (sentence: string): string => sentence.replace(/(\d) deg\b/g, '$1°');

/** "2 kg (4.41 lb)" of the core in one unit. */
export const inLoad = (words: string, units: UnitChoice): string =>
  units === 'metric' ? words.replace(/(\d k?g) \([\d.]+ lb\)/g, '$1') : words.replace(/[\d.]+ k?g \(([\d.]+ lb)\)/g, '$1');

/** What the bag does: hangs level, or which limit it misses. */
export function stateOf(s: SweepStep, limits: AnchorSweep['limits']): string {
  const { state } = words;
  if (s.status === 'refused') return state.refused;
  if (s.status !== 'settled') return state.moving;
  if (s.level) return baseSags(s) ? state.sags : state.level;
  return degrees(nearMissWords(missesOf(s, limits))) || state.off;
}

/** A hundredth of a newton is the weight of a gram: less is nothing. */
export const pull = (newtons: number): string => (Math.abs(newtons) < 0.01 ? words.nothing : formatForce(newtons));

/** How far the anchors are in as drawn: one distance, or two where the ends are unlike. */
export const drawnAt = (a: AnchorSweep, units: UnitChoice): string =>
  drawnDistances(a)
    .map((d) => distance(d, units))
    .join(words.and);

/** Where it hangs level, and what it does as drawn. */
export function levelSentence(a: AnchorSweep, units: UnitChoice): string {
  const range = (r: { from: number; to: number }): string =>
    r.from === r.to ? words.at(distance(r.from, units)) : words.between(distance(r.from, units), distance(r.to, units));
  const swept = a.level.length === 0 ? words.never(a.drawn.step.level) : words.level(a.level.map(range).join(words.and));
  return `${swept} ${words.levelDrawn(drawnAt(a, units), stateOf(a.drawn.step, a.limits))}`;
}

/** One reason why it cannot be hung so, in a maker's words. */
function faultWords({ path, got, expected }: Fault): string {
  if (/\.contents/.test(path)) return words.holdsNot(got, expected.replace(/^a thing that fits where it is put: /, ''));
  const strap = /^straps\.(.*)\.length$/.exec(path)?.[1];
  return strap === undefined ? words.needs(got, expected) : words.tooShort(strap, got, expected);
}

/** Why there are no figures of a hanging; '' where there are. */
export const reasonOf = (step: SweepStep, units: UnitChoice): string => told(step.faults?.map(faultWords).join(' ') ?? step.reason ?? '', units);

/** What a hanging was refused for, by the field that it is about; null where it was not. */
export function refusedFor(
  step: SweepStep,
  units: UnitChoice,
): { readonly things: string | null; readonly strap: string | null; readonly stance: string | null } | null {
  const about = (part: RegExp): string | null => {
    const list = (step.faults ?? []).filter((f) => part.test(f.path)).map((f) => told(faultWords(f), units));
    return list.length === 0 ? null : [...new Set(list)].join(' ');
  };
  return step.faults ? { things: about(/\.contents/), strap: about(/^straps\./), stance: about(/^stances\.(?!.*\.contents)/) } : null;
}
