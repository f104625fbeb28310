import { anchorPlace, LIMITS, strapFamily, withAnchorsAt } from '../../bag/index.ts';
import type { Bag } from '../../bag/types.ts';
import type { AnchorSweep, SweepStep } from '../../report/index.ts';
import { partOf } from '../progress.ts';
import { hangOnce, MOUTH, refused, TILT } from './hang-once.ts';
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
 * see AnchorSweep. A step whose patch leaves its panel or whose strap is too short is refused with its reason; a distance that the file has already is not hung
 * again. Throws BagError for a choice that the bag does not have, Cancelled when onProgress returned false. Deterministic.
 */
export function sweepAnchors(bag: Bag, o: AnchorSweepOptions): AnchorSweep {
  const { same, stance: own, values } = plan(bag, o, 'distance', LIMITS.length);
  const { option, strap, edgeLength } = same;
  const stance = o.load === undefined ? own : carrying(own, o.load),
    family = strapFamily(bag, strap),
    count = values.length + 1;
  const places = family.flatMap((s) => ([0, 1] as const).map((e) => ({ strap: s.name, panel: s.anchors[e].panel, ...anchorPlace(bag, s, e) })));
  const drawnAt = places.reduce((sum, p) => sum + p.fromSide, 0) / places.length,
    front = frontOf(bag, strap);
  const drawn = { places, step: hangOnce(bag, stance, same, partOf(o.onProgress, 'as drawn', 0, count)) };
  const done: ((SweepStep & { readonly distance: number }) | undefined)[] = values.map(() => undefined);
  const soFar = (): AnchorSweep => {
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
      drawn,
      steps,
      level: levelRuns(steps),
      limits: { tilt: TILT.holds, mouthSag: MOUTH.holds },
    };
  };
  o.onStep?.(soFar());
  wantedFirst(values, front, drawnAt).forEach((i, k) => {
    const distance = values[i]!,
      moved = withAnchorsAt(bag, strap, distance),
      name = `${Number((distance * 1000).toFixed(1))} mm, ${k + 1} of ${values.length}`;
    const there = places.every((p) => Math.abs(p.fromSide - distance) < SAME_PLACE);
    const step = there ? drawn.step : moved.bag ? hangOnce(moved.bag, stance, same, partOf(o.onProgress, name, k + 1, count)) : refused(moved.faults);
    done[i] = { distance, ...step };
    o.onStep?.(soFar());
  });
  return soFar();
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
