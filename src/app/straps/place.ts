import type { BagForm } from '../page/bag-form.ts';
import { told, type UnitChoice } from '../page/format.ts';
import { anchorPlace, type Bag, strapFamily, withAnchorsAt } from './core.ts';
import { rangeOf } from './entry.ts';
import { written } from './lengths.ts';
import { words } from './words.ts';

const ENDS = ['from', 'to'] as const;

/** The form with both anchors of a strap at `written` from the side each is nearer to; an end that mirrors the other goes with it. */
export function putAt(form: BagForm, bag: Bag, strap: string, written: string): BagForm {
  const entry = form.straps?.[strap],
    made = strapFamily(bag, strap)[0];
  if (!entry || !made) return form;
  const ends = ENDS.flatMap((end, i) => {
    const old = entry[end];
    if (typeof old !== 'object' || old === null) return [];
    const { 'from left': _, 'from right': __, ...rest } = old as Record<string, unknown>;
    return [[end, { ...rest, [`from ${anchorPlace(bag, made, i as 0 | 1).side}`]: written }] as const];
  });
  return { ...form, straps: { ...form.straps, [strap]: { ...entry, ...Object.fromEntries(ends) } } };
}

/** Ends of a range count as in it, m. */
const ROUNDING = 1e-6;

/** Why both anchors of a strap cannot lie at this distance (m) from the sides; null where they can. */
export function cannotLie(bag: Bag, strap: string, distance: number, units: UnitChoice): string | null {
  const range = rangeOf(bag, strap);
  if (range && (distance < range.from - ROUNDING || distance > range.to + ROUNDING)) return words.beyond(written(range.from, units), written(range.to, units));
  const { faults } = withAnchorsAt(bag, strap, distance);
  return faults && told(faults.join('; '), units);
}

/** Distances of a strap's anchors from the sides they are nearer to, m, each once. */
export function distancesOf(bag: Bag, strap: string): readonly number[] {
  const all = strapFamily(bag, strap).flatMap((s) => ([0, 1] as const).map((e) => Math.round(anchorPlace(bag, s, e).fromSide * 1e5) / 1e5));
  return [...new Set(all)].sort((a, b) => a - b);
}

/** All that a hanging depends on, as text: bags of one key hang alike. What is wanted, a name or a parameter that nothing uses any more are not among it. */
export const hungKey = (bag: Bag): string =>
  JSON.stringify([bag.panels, bag.seams, bag.straps, bag.topstitch, bag.materials, bag.stacks, bag.options, bag.stances]);
