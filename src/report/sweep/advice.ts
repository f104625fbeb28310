import { formatAngle, formatMass, trimmed } from '../../units/index.ts';
import { HAND, type Miss, missesOf, type Recommendation, recommend } from './recommend.ts';
import type { AnchorSweep, Inside, SingleChange, SweepStep } from './types.ts';

/** What a sweep comes to, in sentences: the same in table, card, plot and page. Lengths are told by `told`, in the reader's units. */

/** A limit missed by less than this share of it is a near miss, and told with its figures. */
const NEAR = 0.5;

type Told = (metres: number) => string;

const NAMES = { tilt: 'tilt', mouthSag: 'mouth sag' } as const;
const MISSED = { tilt: 'tilts', mouthSag: 'mouth sags' } as const;

const value = (figure: Miss['figure'], v: number): string => (figure === 'tilt' ? formatAngle(v) : `${trimmed(100 * v, 1)} %`);

/** "mouth sag 6.2 % where 5 % holds" */
const marginWords = (m: Miss): string => `${NAMES[m.figure]} ${value(m.figure, m.value)} where ${value(m.figure, m.limit)} holds`;

/** Which limits a step misses: by name, or where it is a near miss, by its figure and the limit; '' where it misses none. */
export const nearMissWords = (misses: readonly Miss[]): string =>
  misses.map((m) => (m.value <= (1 + NEAR) * m.limit ? marginWords(m) : MISSED[m.figure])).join(', ');

const thing = ({ name, mass }: Inside): string => `${/\d$/.test(name) ? '' : /^[aeiou]/.test(name) ? 'an ' : 'a '}${name} of ${formatMass(mass)}`;

/** "nothing inside", "2 kg (4.41 lb) inside", "a bottle of 530 g (1.17 lb) and a book of 600 g (1.32 lb) inside", "2 kg (4.41 lb) loose, a bottle of ... inside". */
export function insideWords({ load, things }: { readonly load: number; readonly things: readonly Inside[] }): string {
  const parts = [...(load > 0 ? [`${formatMass(load)}${things.length > 0 ? ' loose' : ''}`] : []), ...things.map(thing)];
  if (parts.length === 0) return 'nothing inside';
  return `${parts.length === 1 ? parts[0] : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`} inside`;
}

/** "a third to a half of the front's width", and where this spacing lies against it. */
function spacingWords(apart: number | null, r: Pick<Recommendation, 'spacing' | 'handTight'>, told: Told): string[] {
  if (apart === null) return [];
  const range = "the usual third to a half of the front's width";
  const where = { usual: `, within ${range}`, near: `, nearer than ${range}`, wide: `, wider than ${range}` } as const;
  return [
    ...(r.spacing === null ? [] : [`The two ends of a handle are ${told(apart)} apart${where[r.spacing]}.`]),
    ...(r.handTight ? [`Its legs are ${told(apart)} apart, nearer than a hand's breadth (${told(HAND)}).`] : []),
  ];
}

/** Where the anchors should go and why; where nowhere, what comes nearest; and which hangings nothing is said of. */
export function hereWords(a: AnchorSweep, told: Told, r: Recommendation = recommend(a)): string {
  const out: string[] = [];
  const places = a.steps.filter((s) => s.status === 'settled').length + (a.drawn.step.status === 'settled' ? 1 : 0);
  const at = (i: number): string => (i < 0 ? 'as drawn' : `at ${told(a.steps[i]!.distance)}`);
  if (r.index !== null) {
    out.push(
      r.index < 0
        ? 'Recommended: the anchors as drawn, where it hangs level.'
        : `Recommended: the anchors ${told(r.distance!)} from the sides, where it hangs level.`,
    );
    out.push(...spacingWords(r.apart, r, told));
  } else if (r.nearest === null) {
    const hung = [a.drawn.step, ...a.steps].some((s) => s.status !== 'refused');
    out.push(`No recommendation: it ${hung ? 'came to rest' : 'can be hung'} at none of the places tried.`);
  } else
    out.push(
      `No recommendation: it hangs level at none of the ${places} places where it came to rest. Nearest to level ${at(r.nearest)}: ${r.misses.map(marginWords).join(', ')}.`,
    );
  if (r.unsettled.length > 0) out.push(`Not at rest ${r.unsettled.map(at).join(', ')}: nothing is said of the bag there.`);
  const finer = [{ index: -1, step: a.drawn.step }, ...a.steps.map((step, index) => ({ index, step }))].filter(({ step }) => step.finer !== undefined);
  if (finer.length > 0)
    out.push(
      `On a finer mesh (${told(finer[0]!.step.finer!)}) ${finer.map(({ index }) => at(index)).join(', ')}: on ${told(a.edgeLength)} it did not come to rest.`,
    );
  return out.join(' ');
}

/** The single changes tried, a line each, best first. */
export function changesWords(changes: readonly SingleChange[], limits: AnchorSweep['limits']): readonly string[] {
  const state = (s: SweepStep): string =>
    s.status === 'refused'
      ? `not hung: ${s.reason}`
      : s.status !== 'settled'
        ? 'not at rest'
        : s.level
          ? 'hangs level'
          : missesOf(s, limits).map(marginWords).join(', ') || 'not level';
  return changes.map(({ change, step }) => `${change}: ${state(step)}`);
}
