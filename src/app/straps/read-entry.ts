import { withOwnUnit } from '../bench/typed-length.ts';
import type { UnitChoice } from '../page/format.ts';
import { type Bag, perInch, readQuantity } from './core.ts';
import type { Entry, Key } from './entry.ts';
import { chosenStance, FIGURES, type FigureKey, hungAs, writtenFigure } from './hung-from.ts';
import type { Ask } from './protocol.ts';
import { words } from './words.ts';

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

/** As in a bag file. */
const RANGES: Readonly<Record<FigureKey, readonly [number, number]>> = { diameter: [0.002, 0.3], slope: [0, Math.PI / 4], apart: [0, 1] };

/** What the fields ask for, or what is wrong with each of them. */
export function read(
  bag: Bag,
  e: Entry,
  units: UnitChoice,
): { readonly ready: Ready; readonly faults: null } | { readonly ready: null; readonly faults: Faults } {
  const faults: Partial<Record<Key, string>> = {};
  const quantity = (key: Exclude<Key, 'things'>, kind: 'length' | 'mass' | 'force' | 'angle', good: (v: number) => boolean, expected: string): number => {
    const typed = e[key].trim();
    const reading = readQuantity(kind === 'length' ? withOwnUnit(typed, units) : kind === 'angle' ? typed.replace(/^([\d.,]+)\s*°?$/, '$1 deg') : typed, kind);
    if (reading.ok && good(reading.value)) return reading.value;
    faults[key] = expected;
    return 0;
  };
  const { mass, force, count, spi } = words.expected;
  const length = words.expected.length(units);
  const positive = (v: number): boolean => v > 0;
  const from = quantity('from', 'length', positive, length);
  const to = quantity('to', 'length', positive, length);
  if (!faults.from && !faults.to && to < from) faults.to = words.order;
  const load = e.load.trim() === '' ? 0 : quantity('load', 'mass', (v) => v >= 0 && v <= 100, mass);
  const edgeLength = quantity('mesh', 'length', (v) => v >= 0.005 && v <= 0.04, words.expected.mesh(units));
  const steps = /^\s*\d+\s*$/.test(e.steps) ? Number(e.steps) : 0;
  if (!(steps >= 2 && steps <= 15)) faults.steps = count;
  const stance = chosenStance(bag, e.stance);
  // Untouched, a figure is the stance's own and not the sixteenth that it is written as.
  const figure = (key: FigureKey): number => {
    if (!FIGURES[stance.from].includes(key) || e[key] === writtenFigure(stance, key, units)) return stance[key];
    const [least, most] = RANGES[key];
    return quantity(key, key === 'slope' ? 'angle' : 'length', (v) => v >= least - 1e-9 && v <= most + 1e-9, words.expected[key](units));
  };
  const figures = { diameter: figure('diameter'), slope: figure('slope'), apart: figure('apart') };
  if (stance.from === 'hands' && (e.alone !== '' || stance.straps.length < 2)) faults[e.alone !== '' ? 'alone' : 'stance'] = words.expected.hands;
  const [threaded, spaced] = [e.thread.trim() !== '', e.stitches.trim() !== ''];
  const thread = threaded ? quantity('thread', 'force', positive, force) : 0;
  const stitches = /^\s*\d+([.,]\d+)?\s*$/.test(e.stitches) ? Number(e.stitches.replace(',', '.')) : 0;
  if (spaced && !(stitches >= 1 && stitches <= 40)) faults.stitches = spi;
  if (threaded !== spaced) faults[threaded ? 'stitches' : 'thread'] = words.together;
  if (Object.keys(faults).length > 0) return { ready: null, faults };
  const hung = hungAs(bag, e.stance, { ...figures, things: e.things, like: e.like, alone: e.alone });
  return {
    ready: {
      ask: { ...hung, strap: e.strap, option: e.option, from, to, steps, load, edgeLength },
      bag,
      stitching: threaded ? { stitchesPerMetre: perInch(stitches), thread } : null,
    },
    faults: null,
  };
}
