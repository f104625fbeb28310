import { anchorPlace, LIMITS, strapFamily, withAnchorsAt } from '../../bag/index.ts';
import type { Bag, Strap } from '../../bag/types.ts';
import { type AnchorSweep, levelLimits, type SweepStep } from '../../report/index.ts';
import { runSeries, type Series, type Step } from '../series.ts';
import { hangingTwice, refused } from './hang-once.ts';
import { carrying, plan, type SweepOptions, thingsIn } from './plan.ts';
import { frontOf, wantedFirst } from './usual.ts';

/** What is hung at several distances of its anchors. */
export interface AnchorSweepOptions extends SweepOptions {
  /** Loose contents instead of the stance's own, kg. */ readonly load?: number;
  /** Told of each hanging as it is done, as drawn first: all that is known by then. Steps not hung yet are missing from it. */
  readonly onStep?: (soFar: AnchorSweep) => void;
}

/** Moves less than this are none, m. */
const SAME_PLACE = 1e-7;

/**
 * Hangs the bag as drawn, then with the strap's anchors (a pair and its copies together) at each of several distances from the side, m, those in the trade's range first:
 * see AnchorSweep. The inner distance nearest to where the file has them is theirs; what does not come to rest is hung again on a mesh 0.9 times as coarse. A step whose patch leaves its panel or whose strap is too short is refused with its reason; a distance that the file has already is not hung
 * again. Throws BagError for a choice that the bag does not have, Cancelled when onProgress returned false. Deterministic.
 */
export const sweepAnchors = (bag: Bag, o: AnchorSweepOptions): AnchorSweep => runSeries(anchorSeries(bag, o), o.onProgress);

/** The hangings that sweepAnchors asks for. Throws as it does. */
export function anchorSeries(bag: Bag, o: AnchorSweepOptions): Series<AnchorSweep> {
  const { same, stance: own, values: even } = plan(bag, o, 'distance', LIMITS.length);
  const { option, strap, edgeLength } = same;
  const stance = o.load === undefined ? own : carrying(own, o.load),
    family = strapFamily(bag, strap);
  const places = family.flatMap((s) => ([0, 1] as const).map((e) => ({ strap: s.name, panel: s.anchors[e].panel, ...anchorPlace(bag, s, e) })));
  const drawnAt = places.reduce((sum, p) => sum + p.fromSide, 0) / places.length,
    front = frontOf(bag, strap),
    values = throughDrawn(
      even,
      places.map((p) => p.fromSide),
    );
  let drawnStep: SweepStep | undefined, shortest: SweepStep | undefined;
  const done: ((SweepStep & { readonly distance: number }) | undefined)[] = values.map(() => undefined);
  /** All that is known; null before the bag as drawn is, because everything is told beside it. */
  const soFar = (): AnchorSweep | null => {
    if (!drawnStep) return null;
    const steps = done.filter((s) => s !== undefined);
    return {
      bag: bag.name,
      option,
      stance: stance.name,
      strap,
      edgeLength,
      things: thingsIn(stance),
      load: stance.load?.mass ?? 0,
      panelWidth: front?.width ?? null,
      wantedDrop: family[0]?.drop ?? null,
      drawn: { places, step: drawnStep },
      steps,
      ...(shortest ? { shortest } : {}),
      level: levelRuns(steps),
      limits: levelLimits(bag.wanted),
      wanted: bag.wanted,
    };
  };
  const told = (): void => {
    const all = soFar();
    if (all) o.onStep?.(all);
  };
  const chains: (readonly Step[])[] = [];
  /** Steps that need no hanging of their own, taken down when the bag as drawn is. */
  const known: (() => void)[] = [];
  const hang = (of: Bag, run: string, take: (step: SweepStep) => void): void => {
    const step = (hung: SweepStep): void => {
      take(hung);
      told();
    };
    chains.push(hangingTwice(of, stance, same, run, step));
  };
  const drawnFirst = (step: SweepStep): void => {
    drawnStep = step;
    told();
    for (const take of known) {
      take();
      told();
    }
  };
  chains.push(hangingTwice(bag, stance, same, 'as drawn', drawnFirst));
  wantedFirst(values, front, drawnAt).forEach((i, k) => {
    const distance = values[i]!,
      moved = withAnchorsAt(bag, strap, distance);
    const there = places.every((p) => Math.abs(p.fromSide - distance) < SAME_PLACE);
    const take = (step: SweepStep): void => {
      done[i] = { distance, ...step };
    };
    if (there) known.push(() => take(drawnStep!));
    else if (moved.bag) hang(moved.bag, `${Number((distance * 1000).toFixed(1))} mm, ${k + 1} of ${values.length}`, take);
    else known.push(() => take(refused(moved.faults)));
  });
  if (family[0]?.shortest !== undefined)
    hang(atShortest(bag, family), 'at its shortest', (step) => {
      shortest = step;
    });
  return { chains, result: () => soFar()! };
}

/** The bag with these straps' adjusters at their shortest. */
const atShortest = (bag: Bag, family: readonly Strap[]): Bag => ({
  ...bag,
  straps: bag.straps.map((s) => (family.includes(s) ? { ...s, length: s.shortest ?? s.length } : s)),
});

/**
 * Evenly spaced distances of which the inner one nearest to where the file has all its anchors is moved there, if it lies within half a step: one place is hung once, and the
 * figures as drawn lie on the line of the others. Unlike ends, or a place outside: as they were.
 */
function throughDrawn(even: readonly number[], drawn: readonly number[]): readonly number[] {
  const at = drawn[0]!,
    half = (even[1]! - even[0]!) / 2;
  if (drawn.some((d) => Math.abs(d - at) > SAME_PLACE)) return even;
  const inner = even.findIndex((d, i) => i > 0 && i < even.length - 1 && Math.abs(d - at) <= half + SAME_PLACE);
  return even.map((d, i) => (i === inner ? at : d));
}

/** Runs of neighbouring steps that hang level. */
function levelRuns(steps: AnchorSweep['steps']): { from: number; to: number }[] {
  const level: { from: number; to: number }[] = [];
  steps.forEach((s, i) => {
    if (!s.level) return;
    if (i > 0 && steps[i - 1]!.level) level.at(-1)!.to = s.distance;
    else level.push({ from: s.distance, to: s.distance });
  });
  return level;
}
