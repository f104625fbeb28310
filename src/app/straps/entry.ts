import { inOwnUnit } from '../bench/typed-length.ts';
import type { UnitChoice } from '../page/format.ts';
import { anchorRange, type Bag, formatForce, perInch, type Stance, strapFamily, strapNames, type Thing, usualDistances } from './core.ts';
import { chosenStance, FIGURES, type FigureKey, firstChoice, hungStances, isUsual, writtenFigure } from './hung-from.ts';
import { written, writtenWithin } from './lengths.ts';

/** What stands in the fields, as typed, and the things that were picked. */
export interface Entry extends Readonly<Record<FigureKey, string>> {
  readonly strap: string;
  readonly option: string;
  readonly stance: string;
  /** A strap that carries alone; '': all that the stance says. */ readonly alone: string;
  /** Stance of the file whose contents these began as; '' for none. */ readonly like: string;
  readonly load: string;
  readonly things: readonly Thing[];
  readonly from: string;
  readonly to: string;
  readonly steps: string;
  readonly mesh: string;
  readonly thread: string;
  readonly stitches: string;
}

export type Key = keyof Entry;
/** Lengths, in the maker's unit. */
const LENGTHS = ['from', 'to', 'mesh', 'diameter', 'apart'] as const satisfies readonly Key[];

/** Coarser than the page's own mesh: a sweep hangs the bag eight times (DEVELOPERS.md, Measured, says by how much the figures differ). */
const USUAL_MESH = 0.02;
const USUAL_STEPS = '7';

type Inside = Pick<Entry, 'like' | 'load' | 'things'>;
const EMPTY: Inside = { like: '', load: '', things: [] };

/** Stances of the file that hold anything, standing or hung: what is hung can begin with it. */
export const filledStances = (bag: Bag): readonly Exclude<Stance, { kind: 'held' }>[] =>
  bag.stances.filter((s): s is Exclude<Stance, { kind: 'held' }> => s.kind !== 'held' && (s.load !== null || (s.contents?.length ?? 0) > 0));

/** What a stance of the file holds; nothing where it holds nothing or is none of the file's. */
function insideOf(bag: Bag, stance: string): Inside {
  const filled = filledStances(bag).find((s) => s.name === stance);
  if (!filled) return EMPTY;
  return { like: stance, load: filled.load ? `${Number(filled.load.mass.toFixed(3))} kg` : '', things: filled.contents ?? [] };
}

/** Fields for a bag: what still fits of the old ones, else the usual. chosen: the stance on the mat, whose contents go in where the one that hangs is empty. */
export function entryFor(bag: Bag, old: Entry | null, option: string, chosen = '', units: UnitChoice = 'metric'): Entry {
  const straps = strapNames(bag);
  const stance = firstChoice(bag, old !== null && firstChoice(bag, old.stance) === old.stance ? old.stance : chosen);
  const carries = hungStances(bag).find((s) => s.name === stance)?.straps;
  const strap = straps.find((s) => s === old?.strap) ?? straps.find((s) => carries?.includes(s)) ?? straps[0] ?? '';
  const same = old !== null && old.strap === strap;
  const own = insideOf(bag, stance);
  // What was put in for this stance stays.
  const inside = old !== null && old.stance === stance ? old : own.like !== '' || old !== null ? own : insideOf(bag, chosen);
  return {
    strap,
    option: bag.options.some((o) => o.name === old?.option) ? old!.option : option,
    stance,
    alone: strapFamily(bag, strap).some((s) => s.name === old?.alone) ? old!.alone : '',
    like: filledStances(bag).some((s) => s.name === inside.like) ? inside.like : '',
    load: inside.load,
    things: inside.things,
    ...(old !== null && old.stance === stance ? figuresIn(old) : figuresFor(bag, stance, units)),
    ...(same ? { from: old.from, to: old.to } : distancesFor(bag, strap, units)),
    steps: old?.steps ?? USUAL_STEPS,
    mesh: old?.mesh ?? written(USUAL_MESH, units),
    ...stitchingFor(bag, strap, old),
  };
}

const figuresIn = ({ diameter, slope, apart }: Entry): Pick<Entry, FigureKey> => ({ diameter, slope, apart });

function figuresFor(bag: Bag, choice: string, units: UnitChoice): Pick<Entry, FigureKey> {
  const stance = chosenStance(bag, choice);
  const figure = (key: FigureKey): string => (FIGURES[stance.from].includes(key) ? writtenFigure(stance, key, units) : '');
  return { diameter: figure('diameter'), slope: figure('slope'), apart: figure('apart') };
}

function distancesFor(bag: Bag, strap: string, units: UnitChoice): Pick<Entry, 'from' | 'to'> {
  const range = usualDistances(bag, strap);
  return range ? { from: writtenWithin(range.from, 'from', units), to: writtenWithin(range.to, 'to', units) } : { from: '', to: '' };
}

/** What was typed for this strap or, where the bag states none for it, for another; else the bag's own. */
function stitchingFor(bag: Bag, strap: string, old: Entry | null): Pick<Entry, 'thread' | 'stitches'> {
  const sewn = strapFamily(bag, strap)[0]?.sewn;
  if (old !== null && (old.strap === strap || !sewn)) return { thread: old.thread, stitches: old.stitches };
  return sewn ? { thread: formatForce(sewn.thread), stitches: String(Number((1 / (perInch(1) * sewn.stitch)).toFixed(2))) } : { thread: '', stitches: '' };
}

/** The fields after a change of some of them: a stance of the file brings what it holds, anything else to hang from keeps what is in the bag; another strap has another range. */
export function changed(bag: Bag, e: Entry, part: Partial<Entry>, units: UnitChoice): Entry {
  const { stance, strap, like } = part;
  return {
    ...e,
    ...(stance === undefined ? {} : { ...(isUsual(stance) ? {} : insideOf(bag, stance)), ...figuresFor(bag, stance, units) }),
    ...(strap === undefined ? {} : { ...distancesFor(bag, strap, units), ...stitchingFor(bag, strap, e), alone: '' }),
    ...part,
    ...(like === undefined ? {} : insideOf(bag, like)),
  };
}

/** The fields after the bag has changed: contents that nobody touched follow the file's. */
export function followed(before: Bag, now: Bag, e: Entry, option: string, chosen: string, units: UnitChoice): Entry {
  const was = insideOf(before, e.like);
  const asWritten = e.like !== '' && e.load === was.load && JSON.stringify(e.things) === JSON.stringify(was.things);
  const next = entryFor(now, e, option, chosen, units);
  return asWritten ? { ...next, ...insideOf(now, e.like) } : next;
}

/** Plain lengths written in another unit. */
export const inUnits = (e: Entry, before: UnitChoice, units: UnitChoice): Entry => ({
  ...e,
  ...Object.fromEntries(LENGTHS.map((key) => [key, inOwnUnit(e[key], before, units)])),
});

/** As far as the strap's patches lie on their panels, m; null without a strap, or where there is no such distance. */
export function rangeOf(bag: Bag, strap: string): { readonly from: number; readonly to: number } | null {
  const made = strapFamily(bag, strap)[0];
  if (!made) return null;
  const range = anchorRange(bag, made);
  return range.from <= range.to ? range : null;
}
