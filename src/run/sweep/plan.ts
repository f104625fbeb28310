import { at, defaultStances, strapFamily, strapNames, USUAL_FILL, USUAL_REPOSE } from '../../bag/index.ts';
import { type Bag, BagError, type Fault } from '../../bag/types.ts';
import type { Inside } from '../../report/index.ts';
import type { Drop } from '../../solver/index.ts';
import { assertKnown, RUN_KEYS, SWEEP_KEYS } from '../known-options.ts';
import { usualEdge } from '../mesh-size.ts';
import type { SeriesProgress, Told } from '../progress.ts';
import type { Hanging, Hung } from './hang-once.ts';

/** What is hung, and who is told. */
export interface SweepOptions {
  /** Strap of the file; its copies go with it. Default: the first that carries. */ readonly strap?: string;
  /** Distance (m) or load (kg) of the last step. */ readonly to: number;
  /** Of the first step. */ readonly from?: number;
  /** Steps, evenly spaced with both ends, 1 to 60. Default 7. */ readonly steps?: number;
  readonly option?: string;
  /** A hung stance. Default: the file's first, else a hook. */ readonly stance?: string;
  /** m; default usualEdge(bag), about 2000 points */ readonly edgeLength?: number;
  /** Draw the bag as it hangs at each step (report/picture/hanging.ts). Default false. */ readonly pictures?: boolean;
  /** How rigid contents are let fall. Not needed any more: the sweeps bring it themselves. */ readonly drop?: Drop;
  /** Told where the work is; returning false cancels. */ readonly onProgress?: Told<SeriesProgress>;
}

const MOST = 60;

/** Option, stance, strap and the values to go through. Throws BagError with every fault of the choice. */
export function plan(bag: Bag, o: SweepOptions, what: 'distance' | 'load', most: number) {
  assertKnown(o, [...SWEEP_KEYS, ...RUN_KEYS]);
  const faults: Fault[] = [];
  const option = o.option === undefined ? bag.options[0] : bag.options.find((c) => c.name === o.option);
  if (!option) faults.push({ path: 'options', got: JSON.stringify(o.option), expected: oneOf(bag.options.map((c) => c.name)) });
  const names = strapNames(bag),
    hung = [
      ...bag.stances,
      ...defaultStances(
        bag.panels,
        bag.straps.map((s) => s.name),
      ),
    ].filter((s): s is Hung => s.kind === 'hung');
  const stance = o.stance === undefined ? hung[0] : bag.stances.find((s): s is Hung => s.name === o.stance && s.kind === 'hung');
  if (names.length === 0) faults.push({ path: 'straps', got: 'a bag without straps', expected: 'at least one strap to hang it by' });
  else if (!stance)
    faults.push({
      path: at('stances', o.stance ?? ''),
      got: bag.stances.some((s) => s.name === o.stance) ? 'a stance that does not hang' : 'no such stance',
      expected: oneOf(bag.stances.filter((s) => s.kind === 'hung').map((s) => s.name)),
    });
  const strap = o.strap ?? names.find((n) => stance?.straps.includes(n)) ?? names[0] ?? '';
  if (names.length > 0 && !names.includes(strap)) faults.push({ path: 'straps', got: JSON.stringify(strap), expected: oneOf(names) });
  else if (stance && !strapFamily(bag, strap).some((s) => stance.straps.includes(s.name)))
    faults.push({ path: at('stances', stance.name), got: `strap ${strap} hangs loose`, expected: `a stance in which ${strap} carries` });
  const steps = o.steps ?? 7,
    from = o.from ?? 0;
  if (!(Number.isInteger(steps) && steps >= 1 && steps <= MOST))
    faults.push({ path: 'steps', got: String(steps), expected: `a whole number from 1 to ${MOST}` });
  if (!(from >= 0 && from <= o.to && o.to <= most))
    faults.push({ path: what, got: `${from} to ${o.to}`, expected: `a range from 0 to ${most} ${what === 'load' ? 'kg' : 'm'}, smaller end first` });
  if (faults.length > 0 || !option || !stance) throw new BagError(faults);
  const values = Array.from({ length: steps }, (_, i) => (steps === 1 ? o.to : tenthOfMicron((from * (steps - 1 - i) + o.to * i) / (steps - 1))));
  const same: Hanging = { option: option.name, strap, edgeLength: o.edgeLength ?? usualEdge(bag), pictures: o.pictures ?? false };
  return { same, stance, values };
}

/** 80 mm, not 79.99999999999999. */
const tenthOfMicron = (v: number): number => Math.round(v * 1e7) / 1e7;

const oneOf = (names: readonly string[]): string => (names.length === 0 ? 'a file that has one' : `one of ${names.map((n) => `"${n}"`).join(', ')}`);

/** The stance with this much loose in it, kg; its rigid things stay. */
export const carrying = (stance: Hung, mass: number): Hung => ({
  ...stance,
  load: mass > 0 ? { fill: stance.load?.fill ?? USUAL_FILL, repose: stance.load?.repose ?? USUAL_REPOSE, mass } : null,
});

/** Rigid things of a stance, by name and mass. */
export const thingsIn = (stance: Hung): readonly Inside[] => (stance.contents ?? []).map(({ thing, mass }) => ({ name: thing, mass }));
