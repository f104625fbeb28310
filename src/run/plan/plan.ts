/** A question to the runs that answer it: how many, and what each of them takes. */
import { at, oneOf, parseBagDocument } from '../../bag/index.ts';
import { type Bag, BagError, type Fault } from '../../bag/types.ts';
import type { Band } from '../../material/types.ts';
import { sha256 } from '../../numerics/index.ts';
import { type Axis, type Plan, VERSION } from '../../report/index.ts';
import { assertKnown } from '../known-options.ts';
import { coarseEdge, EDGE_RANGE, tooFine } from '../mesh-size.ts';
import { bandsOf } from '../settle-bag.ts';
import { latinHypercube } from './latin.ts';
import { findTarget, type Sources } from './targets.ts';
import { readAxis, tidy, valueAt } from './values.ts';
import { type Entry, readVary } from './vary.ts';

/** What is asked of a bag, beside its file. */
export interface PlanOptions {
  /**
   * What is varied, entries with commas between them: a parameter ("W=260..340/5"), "stack.NAME.bond", "stack.NAME[LAYER].thickness", "material.ID.bending" (also in-plane,
   * shear, mass, and band: the first three together), "anchor.STRAP" (distance from the side), "friction", "stance.NAME.friction", "stance.NAME.load", "option", "stance".
   * "a..b/n": n steps with both ends; "a..b": to be drawn from, with `samples`; "a|b|c": these; "*": every option or stance. low, mid and high are those of a material's band.
   */
  readonly vary: string;
  /** Draws of a Latin hypercube over all ranges, 1 to 1e6; lists, options and stances are gone through with the same draws. Default: ranges are gone through as well. */
  readonly samples?: number;
  /** Seed of the draws, a whole number from 0 to 4294967295. Default 1. */ readonly seed?: number;
  /** Ends of the material's band that each run settles. Default the middle: a typical bolt. */ readonly bands?: readonly Band[];
  /** m, the same for every run. Default: about 650 points of the bag as the file has it. */ readonly edgeLength?: number;
}

const FORMAT = 'slumpline plan';
const MOST_SAMPLES = 1e6;
/** No counting beyond this: numbers of runs are exact, and nobody can wait for so many. */
const MOST_RUNS = 1e12;

/**
 * The plan of a question. Nothing is settled and no run is listed: the plan says what each one takes (valuesOf). Default option and stance: the file's first. Parameters: text of the bag file or
 * what its JSON stands for, and its text's SHA-256 where it differs (an object has none). Errors: BagError with every fault of the file or of the question, unknown names with the nearest one. Deterministic.
 */
export function planRuns(source: string | object, o: PlanOptions): Plan {
  assertKnown(o, ['vary', 'samples', 'seed', 'bands', 'edgeLength']);
  const { document, bag } = parseBagDocument(source),
    faults: Fault[] = [],
    { samples, seed = 1 } = o;
  const whole = (path: string, v: unknown, min: number, max: number): boolean => {
    const sound = Number.isInteger(v) && (v as number) >= min && (v as number) <= max;
    if (!sound) faults.push({ path, got: JSON.stringify(v) ?? String(v), expected: `a whole number from ${min} to ${max}` });
    return sound;
  };
  if (samples !== undefined) whole('samples', samples, 1, MOST_SAMPLES);
  whole('seed', seed, 0, 4294967295);
  const edgeLength = o.edgeLength ?? coarseEdge(bag),
    fine = typeof edgeLength === 'number' && edgeLength >= EDGE_RANGE.from && edgeLength <= EDGE_RANGE.to ? tooFine(bag, edgeLength) : null;
  if (!(edgeLength >= EDGE_RANGE.from && edgeLength <= EDGE_RANGE.to))
    faults.push({ path: 'mesh', got: `${1000 * edgeLength} mm`, expected: 'an edge length of 0.5 to 100 mm' });
  if (fine) faults.push(fine);
  const bands = bandsOf({ bands: o.bands ?? ['mid'] }),
    sources: Sources = { bag, writtenStances: Object.keys((document.value.stances as object | undefined) ?? {}) };
  const axes = readVary(o.vary, faults).flatMap((entry) => axisOf(entry, sources, samples !== undefined, faults) ?? []);
  if (samples !== undefined && faults.length === 0 && !axes.some((a) => a.drawn))
    faults.push({ path: 'samples', got: `${samples} draws of nothing`, expected: 'at least one range to draw from, such as friction=0.3..0.5' });
  const runs = axes.reduce((n, a) => n * (a.drawn ? 1 : a.values!.length), samples ?? 1);
  if (runs > MOST_RUNS) faults.push({ path: 'vary', got: `${runs} runs`, expected: `at most ${MOST_RUNS}` });
  if (faults.length > 0) throw new BagError(faults);
  return {
    format: FORMAT,
    formatVersion: 1,
    version: VERSION,
    bagDigest: sha256(typeof source === 'string' ? source : JSON.stringify(source)),
    bag: bag.name,
    wanted: bag.wanted,
    axes,
    samples: samples === undefined ? null : { count: samples, seed },
    bands,
    edgeLength: tidy(edgeLength),
    runs,
  };
}

function axisOf({ name, parts, values }: Entry, s: Sources, sampled: boolean, faults: Fault[]): Axis | null {
  const found = findTarget(name, parts, s, faults);
  if (found === null) return null;
  if (found.figures !== null) return readAxis(name, values, found.figures, sampled, faults);
  const what = found.target.kind as 'option' | 'stance',
    known = namesIn(s.bag, what);
  const axis = (list: readonly string[]): Axis => ({
    name,
    kind: 'words',
    unit: '',
    values: list,
    from: null,
    to: null,
    middle: null,
    byRatio: false,
    drawn: false,
  });
  if (values.kind === 'all') return axis(known);
  if (values.kind === 'range') {
    faults.push({ path: `vary.${name}`, got: `${values.from}..${values.to}`, expected: `names with | between them, or *: ${known.join(' | ')}` });
    return null;
  }
  const wrong = values.words.filter((w) => !known.includes(w));
  for (const word of wrong)
    faults.push({ path: `vary.${at(name, word)}`, got: JSON.stringify(word), expected: oneOf(`an ${what}`.replace('an s', 'a s'), word, known) });
  return wrong.length > 0 ? null : axis(values.words);
}

const namesIn = (bag: Bag, what: 'option' | 'stance'): string[] => (what === 'option' ? bag.options : bag.stances).map((x) => x.name);

/** What each run of a plan takes, by the names of its axes. Draws are made once, for all runs. The function asserts 0 <= i < plan.runs. */
export function valuesOf(plan: Plan): (i: number) => Record<string, number | string> {
  const drawn = plan.axes.filter((a) => a.drawn),
    count = plan.samples?.count ?? 1,
    shares = plan.samples === null ? new Float64Array(0) : latinHypercube(count, drawn.length, plan.samples.seed);
  const draw = (axis: Axis, k: number): number | string => {
    const share = shares[k * drawn.length + drawn.indexOf(axis)]!;
    return axis.values === null ? valueAt(axis, share) : axis.values[Math.floor(share * axis.values.length)]!;
  };
  return (i) => {
    if (!(Number.isInteger(i) && i >= 0 && i < plan.runs)) throw new Error(`no run ${i} of ${plan.runs}`);
    const values: Record<string, number | string> = {};
    let rest = Math.floor(i / count);
    // The last axis changes first, as figures of a number do.
    for (const axis of [...plan.axes].reverse()) {
      if (axis.drawn) values[axis.name] = draw(axis, i % count);
      else {
        values[axis.name] = axis.values![rest % axis.values!.length]!;
        rest = Math.floor(rest / axis.values!.length);
      }
    }
    return Object.fromEntries(plan.axes.map((a) => [a.name, values[a.name]!]));
  };
}
