import { anchorPlace, at, defaultStances, LIMITS, strapFamily, strapNames, USUAL_FILL, USUAL_REPOSE, withAnchorsAt } from '../bag/index.ts';
import { type Bag, BagError, type Fault, type Stance } from '../bag/types.ts';
import { type AnchorSweep, hungPicture, type LoadSweep, type SweepStep, THRESHOLDS, wordOf } from '../report/index.ts';
import type { BandRun } from '../report/types.ts';
import { previewBag } from './preview.ts';
import { type PreviewProgress, partOf, type SeriesProgress, type Told } from './progress.ts';
import { DEFAULT_EDGE } from './scene.ts';

export interface SweepOptions {
  /** Strap of the file; its copies go with it. Default: the first that carries. */ readonly strap?: string;
  /** Distance (m) or load (kg) of the last step. */ readonly to: number;
  /** Of the first step. */ readonly from?: number;
  /** Steps, evenly spaced with both ends, 1 to 60. Default 7. */ readonly steps?: number;
  readonly option?: string;
  /** A hung stance. Default: the file's first, else a hook. */ readonly stance?: string;
  /** m */ readonly edgeLength?: number;
  /** Draw the bag as it hangs at each step (report/picture/hanging.ts). Default false. */ readonly pictures?: boolean;
  /** Told where the work is; returning false cancels. */ readonly onProgress?: Told<SeriesProgress>;
}

type Hung = Extract<Stance, { kind: 'hung' }>;

const TILT = THRESHOLDS.find((t) => t.gate === 'hangTilt')!;
const MOUTH = THRESHOLDS.find((t) => t.gate === 'mouthSag')!;
const MOST = 60;

/** Option, stance, strap and the values to go through. Throws BagError with every fault of the choice. */
function plan(bag: Bag, o: SweepOptions, what: 'distance' | 'load', most: number) {
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
  const same: Hanging = { option: option.name, strap, edgeLength: o.edgeLength ?? DEFAULT_EDGE, pictures: o.pictures ?? false };
  return { same, stance, values };
}

/** 80 mm, not 79.99999999999999. */
const tenthOfMicron = (v: number): number => Math.round(v * 1e7) / 1e7;

const oneOf = (names: readonly string[]): string => (names.length === 0 ? 'a file that has one' : `one of ${names.map((n) => `"${n}"`).join(', ')}`);

const carrying = (stance: Hung, mass: number): Hung => ({
  ...stance,
  load: mass > 0 ? { fill: stance.load?.fill ?? USUAL_FILL, repose: stance.load?.repose ?? USUAL_REPOSE, mass } : null,
});

const refused = (reasons: readonly string[]): SweepStep => ({
  status: 'refused',
  reason: reasons.join('; '),
  residual: null,
  tilt: null,
  mouthSag: null,
  baseSag: null,
  drop: null,
  force: null,
  inward: null,
  weight: null,
  carried: null,
  anchors: [],
  level: false,
});

/** What stays the same through a sweep. */
interface Hanging {
  readonly option: string;
  readonly strap: string;
  readonly edgeLength: number;
  readonly pictures: boolean;
}

/** Hangs the bag once, middle of the band. A bag that cannot be hung so (strap too short for the bar) is a refused step. */
function hangOnce(bag: Bag, stance: Hung, h: Hanging, onProgress: Told<PreviewProgress>): SweepStep {
  const { option, strap, edgeLength } = h;
  try {
    const alone = { ...bag, stances: [stance] };
    const result = previewBag(alone, { option, stance: stance.name, bands: ['mid'], edgeLength, skipNudge: true, onProgress });
    const step = stepOf(
      result.runs[0]!,
      strapFamily(bag, strap).map((s) => s.name),
    );
    const drawn = h.pictures ? hungPicture(result) : null;
    return drawn === null ? step : { ...step, picture: drawn };
  } catch (error) {
    if (error instanceof BagError) return refused(error.faults.map((f) => `${f.path}: got ${f.got}; expected ${f.expected}`));
    throw error;
  }
}

function stepOf(run: BandRun, family: readonly string[]): SweepStep {
  const h = run.hung!,
    { hangTilt: tilt, mouthSag, baseSag } = run.measures,
    own = h.straps.filter((s) => family.includes(s.name)),
    ends = own.flatMap((s) => s.anchors);
  return {
    status: run.status,
    reason: null,
    residual: run.residual,
    tilt,
    mouthSag,
    baseSag,
    drop: own.reduce((sum, s) => sum + s.drop, 0) / own.length,
    force: Math.max(...ends.map((a) => a.size)),
    inward: Math.max(...ends.map((a) => a.inward)),
    weight: h.weight,
    carried: h.carried[2],
    anchors: h.straps.flatMap((s) =>
      s.anchors.map(({ panel, size, force, peel, shear, inward, legAngle }) => ({
        strap: s.name,
        panel,
        force: size,
        vertical: force[2],
        peel,
        shear,
        inward,
        legAngle,
      })),
    ),
    level: run.status === 'settled' && tilt !== null && wordOf(TILT, tilt) === 'holds' && (mouthSag === null || wordOf(MOUTH, mouthSag) === 'holds'),
  };
}

/**
 * Hangs the bag as drawn, then with the strap's anchors (a pair and its copies together) at each of several distances from the side, m: see AnchorSweep.
 * A step whose patch leaves its panel or whose strap is too short is refused with its reason. load: contents instead of the stance's own, kg.
 * Throws BagError for a choice that the bag does not have, Cancelled when onProgress returned false. Deterministic.
 */
export function sweepAnchors(bag: Bag, o: SweepOptions & { readonly load?: number }): AnchorSweep {
  const { same, stance: own, values } = plan(bag, o, 'distance', LIMITS.length);
  const { option, strap, edgeLength } = same;
  const stance = o.load === undefined ? own : carrying(own, o.load),
    count = values.length + 1;
  const places = strapFamily(bag, strap).flatMap((s) =>
    ([0, 1] as const).map((e) => ({ strap: s.name, panel: s.anchors[e].panel, ...anchorPlace(bag, s, e) })),
  );
  const drawn = { places, step: hangOnce(bag, stance, same, partOf(o.onProgress, 'as drawn', 0, count)) };
  const steps = values.map((distance, i) => {
    const moved = withAnchorsAt(bag, strap, distance),
      name = `${Number((distance * 1000).toFixed(1))} mm, ${i + 1} of ${values.length}`;
    const step = moved.bag ? hangOnce(moved.bag, stance, same, partOf(o.onProgress, name, i + 1, count)) : refused(moved.faults);
    return { distance, ...step };
  });
  const level: { from: number; to: number }[] = [];
  steps.forEach((s, i) => {
    if (!s.level) return;
    if (i > 0 && steps[i - 1]!.level) level.at(-1)!.to = s.distance;
    else level.push({ from: s.distance, to: s.distance });
  });
  const load = stance.load?.mass ?? 0;
  return { bag: bag.name, option, stance: stance.name, strap, edgeLength, load, drawn, steps, level, limits: { tilt: TILT.holds, mouthSag: MOUTH.holds } };
}

/** Hangs the bag as drawn under loads from `from` (default 0) to `to`, kg. Fill and angle of repose are the stance's, else the usual ones. Errors as sweepAnchors. */
export function sweepLoad(bag: Bag, o: SweepOptions): LoadSweep {
  const { same, stance, values } = plan(bag, o, 'load', LIMITS.mass);
  const { option, strap, edgeLength } = same;
  const steps = values.map((load, i) => {
    const name = `${Number(load.toFixed(3))} kg, ${i + 1} of ${values.length}`;
    return { load, ...hangOnce(bag, carrying(stance, load), same, partOf(o.onProgress, name, i, values.length)) };
  });
  return { bag: bag.name, option, stance: stance.name, strap, edgeLength, steps };
}
