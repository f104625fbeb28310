import type { UnitChoice } from '../page/format.ts';
import { type Bag, type HangsFrom, type Stance, type Thing, usualHung } from './core.ts';
import { written } from './lengths.ts';
import { words } from './words.ts';

export type Hung = Extract<Stance, { kind: 'hung' }>;

/** Things that any bag can be hung from, whatever its file says, with their usual figures. */
const ANYTHING = ['hook', 'bar', 'shoulder', 'hands'] as const satisfies readonly HangsFrom[];
const MARK = 'usual:';

export const hungStances = (bag: Bag): readonly Hung[] => bag.stances.filter((s): s is Hung => s.kind === 'hung');

/** Choices of what the bag hangs from: the file's own stances first, then whatever else there is to hang it from. */
export const hangChoices = (bag: Bag): readonly { readonly value: string; readonly label: string }[] => [
  ...hungStances(bag).map((s) => ({ value: s.name, label: words.asIn(s.name, words.froms[s.from]) })),
  ...ANYTHING.map((from) => ({ value: MARK + from, label: words.froms[from] })),
];

/** Is this one of the usual things, and no stance of the file? */
export const isUsual = (choice: string): boolean => ANYTHING.some((f) => choice === MARK + f);

/** What stands in the field where nothing else was chosen. */
export const firstChoice = (bag: Bag, wanted: string): string => {
  const all = hangChoices(bag).map((c) => c.value);
  return all.includes(wanted) ? wanted : (hungStances(bag)[0]?.name ?? `${MARK}hook`);
};

/** The stance that a choice names, with its usual figures and all straps carrying where the file does not have it. */
export function chosenStance(bag: Bag, choice: string): Hung {
  const own = hungStances(bag).find((s) => s.name === choice);
  if (own) return own;
  const from = ANYTHING.find((f) => choice === MARK + f) ?? 'hook';
  return usualHung(
    words.hungFrom(words.froms[from]),
    from,
    bag.straps.map((s) => s.name),
  ) as Hung;
}

/** Figures of what a bag hangs from. SI. */
interface Figures {
  readonly diameter: number;
  readonly slope: number;
  readonly apart: number;
}
export type FigureKey = keyof Figures;

/** Which of them a hanging has. */
export const FIGURES: Readonly<Record<HangsFrom, readonly FigureKey[]>> = {
  hook: ['diameter'],
  bar: ['diameter'],
  shoulder: ['diameter', 'slope'],
  hands: ['diameter', 'apart'],
};

/** A figure as its field begins. */
export const writtenFigure = (stance: Hung, key: FigureKey, units: UnitChoice): string =>
  key === 'slope' ? `${Number(((stance.slope * 180) / Math.PI).toFixed(1))} deg` : written(stance[key], units);

/** What is asked beside the choice itself. */
export interface HungWith extends Figures {
  readonly things: readonly Thing[];
  /** Stance whose loose load says how it fills the bag. */ readonly like: string;
  /** One strap that carries alone; '': those of the stance. */ readonly alone: string;
}

/** The bag with the stance that is asked for, and that stance's name: what is in it and what carries it are part of it. The stance of the file gives way to it where it bears the same name. */
export function hungAs(bag: Bag, choice: string, w: HungWith): { readonly bag: Bag; readonly stance: string } {
  const { contents: _, ...chosen } = chosenStance(bag, choice);
  const filled = bag.stances.find((s) => s.name === w.like);
  const load = chosen.load ?? (filled && filled.kind !== 'held' ? filled.load : null);
  const straps = w.alone === '' ? chosen.straps : [w.alone];
  const name = w.alone === '' ? chosen.name : words.byAlone(chosen.name, w.alone);
  const { diameter, slope, apart } = w;
  const stance: Hung = { ...chosen, name, diameter, slope, apart, straps, load, ...(w.things.length > 0 ? { contents: w.things } : {}) };
  return { bag: { ...bag, stances: [...bag.stances.filter((s) => s.name !== name), stance] }, stance: name };
}
