import { anchorRange, type Bag, formatForce, perInch, readQuantity, strapFamily, strapNames, usualDistances } from './core.ts';
import { firstChoice, hungAs, hungStances } from './hung-from.ts';
import type { Ask } from './protocol.ts';
import { words } from './words.ts';

/** What stands in the fields, as typed. */
export interface Entry {
  readonly strap: string;
  readonly option: string;
  readonly stance: string;
  readonly load: string;
  readonly from: string;
  readonly to: string;
  readonly steps: string;
  readonly mesh: string;
  readonly thread: string;
  readonly stitches: string;
}

export type Key = keyof Entry;
export type Faults = Readonly<Partial<Record<Key, string>>>;

interface Stitched {
  readonly stitchesPerMetre: number;
  readonly thread: number;
}

export interface Ready {
  /** With the stance that was chosen, be it the file's or not. */ readonly ask: Omit<Ask, 'job'>;
  /** As the page has it. */ readonly bag: Bag;
  readonly stitching: Stitched | null;
}

/** Coarser than the page's own mesh: a sweep hangs the bag eight times (DEVELOPERS.md, Measured, says by how much the figures differ). */
const USUAL_MESH = '20 mm';
const USUAL_STEPS = '7';

const millimetres = (metres: number): string => `${Math.round(metres * 1000)} mm`;

/** The load that a hung stance states, as text; '' where it hangs empty. */
export function statedLoad(bag: Bag, stance: string): string {
  const load = hungStances(bag).find((s) => s.name === stance)?.load;
  return load ? `${Number(load.mass.toFixed(3))} kg` : '';
}

/** Fields for a bag: what still fits of the old ones, else the usual. chosen: the stance on the mat. */
export function entryFor(bag: Bag, old: Entry | null, option: string, chosen = ''): Entry {
  const straps = strapNames(bag);
  const stance = firstChoice(bag, old !== null && firstChoice(bag, old.stance) === old.stance ? old.stance : chosen);
  const carries = hungStances(bag).find((s) => s.name === stance)?.straps;
  const strap = straps.find((s) => s === old?.strap) ?? straps.find((s) => carries?.includes(s)) ?? straps[0] ?? '';
  const range = usualDistances(bag, strap);
  const same = old !== null && old.strap === strap;
  return {
    strap,
    option: bag.options.some((o) => o.name === old?.option) ? old!.option : option,
    stance,
    // Another stance brings the load it is named for; one typed for this stance stays.
    load: old !== null && old.stance === stance ? old.load : statedLoad(bag, stance),
    from: same ? old.from : range ? millimetres(range.from) : '',
    to: same ? old.to : range ? millimetres(range.to) : '',
    steps: old?.steps ?? USUAL_STEPS,
    mesh: old?.mesh ?? USUAL_MESH,
    ...stitchingFor(bag, strap, old),
  };
}

/** What was typed for this strap or, where the bag states none for it, for another; else the bag's own. */
function stitchingFor(bag: Bag, strap: string, old: Entry | null): Pick<Entry, 'thread' | 'stitches'> {
  const sewn = strapFamily(bag, strap)[0]?.sewn;
  if (old !== null && (old.strap === strap || !sewn)) return { thread: old.thread, stitches: old.stitches };
  return sewn ? { thread: formatForce(sewn.thread), stitches: String(Number((1 / (perInch(1) * sewn.stitch)).toFixed(2))) } : { thread: '', stitches: '' };
}

/** As far as the strap's patches lie on their panels, m; null without a strap, or where there is no such distance. */
export function rangeOf(bag: Bag, strap: string): { readonly from: number; readonly to: number } | null {
  const made = strapFamily(bag, strap)[0];
  if (!made) return null;
  const range = anchorRange(bag, made);
  return range.from <= range.to ? range : null;
}

/** What the fields ask for, or what is wrong with each of them. */
export function read(bag: Bag, e: Entry): { readonly ready: Ready; readonly faults: null } | { readonly ready: null; readonly faults: Faults } {
  const faults: Partial<Record<Key, string>> = {};
  const quantity = (key: Key, kind: 'length' | 'mass' | 'force', good: (v: number) => boolean, expected: string): number => {
    const typed = e[key].trim();
    const bare = kind === 'length' && /^\d+([.,]\d+)?$/.test(typed) ? `${typed} mm` : typed;
    const reading = readQuantity(bare, kind);
    if (reading.ok && good(reading.value)) return reading.value;
    faults[key] = expected;
    return 0;
  };
  const { length, mass, force, count, spi } = words.expected;
  const positive = (v: number): boolean => v > 0;
  const from = quantity('from', 'length', positive, length);
  const to = quantity('to', 'length', positive, length);
  if (!faults.from && !faults.to && to < from) faults.to = words.order;
  const load = e.load.trim() === '' ? 0 : quantity('load', 'mass', (v) => v >= 0, mass);
  const edgeLength = quantity('mesh', 'length', (v) => v >= 0.005 && v <= 0.04, words.expected.length);
  const steps = /^\s*\d+\s*$/.test(e.steps) ? Number(e.steps) : 0;
  if (!(steps >= 2 && steps <= 15)) faults.steps = count;
  const [threaded, spaced] = [e.thread.trim() !== '', e.stitches.trim() !== ''];
  const thread = threaded ? quantity('thread', 'force', positive, force) : 0;
  const stitches = /^\s*\d+([.,]\d+)?\s*$/.test(e.stitches) ? Number(e.stitches.replace(',', '.')) : 0;
  if (spaced && !(stitches >= 1 && stitches <= 40)) faults.stitches = spi;
  if (threaded !== spaced) faults[threaded ? 'stitches' : 'thread'] = words.together;
  if (Object.keys(faults).length > 0) return { ready: null, faults };
  const hung = hungAs(bag, e.stance);
  return {
    ready: {
      ask: { ...hung, strap: e.strap, option: e.option, from, to, steps, load, edgeLength },
      bag,
      stitching: threaded ? { stitchesPerMetre: perInch(stitches), thread } : null,
    },
    faults: null,
  };
}
