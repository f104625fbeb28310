import { DEGREE } from '../../units/index.ts';
import type { AnchorSweep, SingleChange, SweepStep } from './types.ts';

/** Spacing of the two ends of one handle over the width of their panel: a third to a half. Common practice, no source. */
export const SPACING = { from: 1 / 3, to: 1 / 2 } as const;
/** A hand's breadth, m: legs nearer than this leave no room for a hand. Common practice, no source. */
export const HAND = 0.1;
/** A sag of the mouth that differs by less than this share of the height is the same to a maker, and a drop by less than this, m (makers' tolerance). */
const SAME_SAG = 0.01;
const SAME_DROP = 0.01;
/** A figure within this of its limit counts as inside it, so that rounding cannot flip a word. */
const ROUNDED = 1e-9;
/** Tilts that differ by less than this are the same to a maker, rad: half a degree, less than the level of a phone shows. */
const SAME_TILT = 0.5 * DEGREE;
/** Spacings at the very ends of the range count as in it, m. */
const ROUNDING = 5e-4;

/** A limit of hanging level and by how much it is missed: "6.2 % where 5 % holds". */
export interface Miss {
  readonly figure: 'tilt' | 'mouthSag';
  readonly value: number;
  readonly limit: number;
}

/** Where the anchors should go. One answer for table, sentence, plot, card, JSON and page. */
export interface Recommendation {
  /** Number of the step; -1: as drawn; null: it hangs level nowhere that was tried. */ readonly index: number | null;
  /** m; null as drawn, or without a recommendation. */ readonly distance: number | null;
  /** Of the step recommended. */ readonly apart: number | null;
  /** In the trade's range, nearer or wider; null where the rule does not apply. */ readonly spacing: 'usual' | 'near' | 'wide' | null;
  /** Its legs are nearer than a hand's breadth. */ readonly handTight: boolean;
  /** Without a recommendation: the step that comes nearest to level (as `index`), null where none is at rest, and what it misses. */
  readonly nearest: number | null;
  readonly misses: readonly Miss[];
  /** Numbers of the steps that were hung and did not come to rest (-1: as drawn): nothing is said of them. */ readonly unsettled: readonly number[];
}

/** What a step misses of hanging level; nothing of one that does. */
export function missesOf(s: Pick<SweepStep, 'tilt' | 'mouthSag'>, limits: AnchorSweep['limits']): readonly Miss[] {
  return (['tilt', 'mouthSag'] as const).flatMap((figure) => {
    const value = s[figure],
      limit = limits[figure];
    return value !== null && value > limit + ROUNDED ? [{ figure, value, limit }] : [];
  });
}

/** Where a spacing lies against the trade's range, and whether a hand goes between the legs. */
function spacingOf(apart: number | null, width: number | null): { spacing: Recommendation['spacing']; handTight: boolean } {
  if (apart === null) return { spacing: null, handTight: false };
  const handTight = apart < HAND - ROUNDING;
  if (width === null) return { spacing: null, handTight };
  const spacing = apart < SPACING.from * width - ROUNDING ? 'near' : apart > SPACING.to * width + ROUNDING ? 'wide' : 'usual';
  return { spacing, handTight };
}

interface Tried {
  readonly index: number;
  readonly step: SweepStep;
}

/** Those of the list for which the figure is least, within `same` of it; null counts as nought. */
function least(list: readonly Tried[], figure: (t: Tried) => number, same: number): readonly Tried[] {
  const best = Math.min(...list.map(figure));
  return list.filter((t) => figure(t) <= best + same);
}

/**
 * The step that a maker would choose: of those at rest that hang level (tilt, then mouth sag, each within what still holds), first a spacing in the trade's
 * range with room for a hand, then any other with room, then the rest; of these the least mouth sag, to 1 % of the height; then the least miss of the
 * wanted drop, to 10 mm; then as drawn, or what lies nearest to it. Where none hangs level, which comes nearest (tilt, then mouth sag, then as drawn) and what it misses. Pure, deterministic.
 */
export function recommend(a: Pick<AnchorSweep, 'drawn' | 'steps' | 'limits' | 'panelWidth' | 'wantedDrop'>): Recommendation {
  const tried: readonly Tried[] = [{ index: -1, step: a.drawn.step }, ...a.steps.map((step, index) => ({ index, step }))],
    unsettled = tried.filter(({ step }) => step.status !== 'settled' && step.status !== 'refused').map((t) => t.index),
    level = tried.filter(({ step }) => step.status === 'settled' && step.level);
  if (level.length === 0) {
    const nearest = nearestOf(tried, a);
    return {
      index: null,
      distance: null,
      apart: null,
      spacing: null,
      handTight: false,
      nearest: nearest?.index ?? null,
      misses: nearest ? missesOf(nearest.step, a.limits) : [],
      unsettled,
    };
  }
  const room = ({ step }: Tried): number => {
    const { spacing, handTight } = spacingOf(step.apart, a.panelWidth);
    return handTight ? 2 : spacing === null || spacing === 'usual' ? 0 : 1;
  };
  let left = least(level, room, 0);
  left = least(left, (t) => t.step.mouthSag ?? 0, SAME_SAG);
  if (a.wantedDrop !== null) left = least(left, (t) => Math.abs((t.step.drop ?? 0) - a.wantedDrop!), SAME_DROP);
  const best = nearestToDrawn(left, a);
  return {
    index: best.index,
    distance: best.index < 0 ? null : a.steps[best.index]!.distance,
    apart: best.step.apart,
    ...spacingOf(best.step.apart, a.panelWidth),
    nearest: null,
    misses: [],
    unsettled,
  };
}

/** How far a step is from level, as the largest of its figures over their limits. */
const excess = (s: SweepStep, limits: AnchorSweep['limits']): number => Math.max(0, ...missesOf(s, limits).map((m) => m.value / m.limit));

/** As drawn, or what lies nearest to it. */
function nearestToDrawn(list: readonly Tried[], a: Pick<AnchorSweep, 'drawn' | 'steps'>): Tried {
  const drawn = a.drawn.places.reduce((sum, p) => sum + p.fromSide, 0) / Math.max(1, a.drawn.places.length),
    off = (t: Tried): number => (t.index < 0 ? 0 : Math.abs(a.steps[t.index]!.distance - drawn));
  return list.find((t) => t.index < 0) ?? [...list].sort((p, q) => off(p) - off(q) || p.index - q.index)[0]!;
}

/** What comes nearest to level, in the order in which level is asked for: tilt past its limit first, then mouth sag, then as drawn. */
function nearestOf(tried: readonly Tried[], a: Pick<AnchorSweep, 'drawn' | 'steps' | 'limits'>): Tried | null {
  const still = tried.filter(({ step }) => step.status === 'settled'),
    tilt = least(still, ({ step }) => Math.max(0, (step.tilt ?? 0) - a.limits.tilt), SAME_TILT);
  return still.length === 0
    ? null
    : nearestToDrawn(
        least(tilt, (t) => t.step.mouthSag ?? 0, SAME_SAG),
        a,
      );
}

/** Which kind of change a maker makes first: another length of strap costs a cut, a rim a seam, a lighter load the use of the bag. Common practice, no source. */
const FIRST: Readonly<Record<SingleChange['kind'], number>> = { strap: 0, rim: 1, load: 2 };

/** Single changes in the order to be told: those that hang level first, by kind and then by how little of it; then those at rest by what they lack; then the rest. */
export function rankSingleChanges(list: readonly SingleChange[], limits: AnchorSweep['limits']): readonly SingleChange[] {
  const place = ({ step }: SingleChange): number => (step.status !== 'settled' ? 2 : step.level ? 0 : 1);
  return [...list].sort((a, b) => {
    const [p, q] = [place(a), place(b)];
    if (p !== q) return p - q;
    if (p === 1) return excess(a.step, limits) - excess(b.step, limits);
    return FIRST[a.kind] - FIRST[b.kind] || a.amount - b.amount;
  });
}
