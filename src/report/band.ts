import type { Measures, PanelMeasures } from '../measures/types.ts';
import { stuckClosure } from './closures.ts';
import { isWorse } from './severity.ts';
import { type GateMargin, GONE, gateMargins, nearLimit, nearSlump, nudgeWord, THRESHOLDS, type Threshold, UNAIDED, worstGate } from './thresholds.ts';
import type { BandRun, Verdict, VerdictWord } from './types.ts';

/** What one run says by itself, and what decided it. */
export interface BandVerdict {
  readonly run: BandRun;
  readonly word: VerdictWord;
  readonly decidedBy: Verdict['decidedBy'];
  /** The limit that is nearest, or missed most, of the figures. */ readonly threshold: Threshold | null;
  /** Smallest margin of all that was judged, nudge and other filling included; NaN when nothing could be. A worse word never has a larger one. */ readonly margin: number;
  /** What becomes of it with its walls pressed in, where that is another word; null where it was not asked or is the same. */
  readonly other: { readonly word: VerdictWord; readonly threshold: Threshold; readonly measures: Measures } | null;
}

/** Lean beyond which a wall lies rather than leans, rad (common practice, no source: half way over). */
const FELL_OVER = Math.PI / 4;

/** Does a bag without a base lie rather than stand? */
const fellOver = (measures: Measures, hasBase: boolean): boolean => !hasBase && (measures.wallLean ?? 0) > FELL_OVER;

/**
 * Verdict of one run, in this order:
 *   0. ended because its word was certain on the way down (early-word.ts): that word;
 *      a closure of its stance does not close: "no verdict";
 *   1. not at rest: "slumps" when it passed below half its height and still fell, else "no verdict";
 *   2. nothing to judge (no mouth, no wall): "no verdict";
 *   3. the worst gated measure (thresholds.ts): height kept, top edge, lean and mouth may say slumps, the others softens at worst;
 *      without a base, a slump whose wall leans more than 45 deg is a bag that fell over as it must: "lies flat";
 *   4. the nudge, where it says worse: a bag that does not come back is what it has become. It softens, or where that is a slump, or no rest, it only stands
 *      until it is touched; so does one whose state is unstable and that was not nudged.
 * Filled out, as it leaves the sewing table, is how a bag is likelier to be: its word counts, and that of walls pressed in stands beside it (`other`).
 * A hung bag that keeps its shape hangs true: nothing is said of its straps.
 */
export function judgeBand(run: BandRun): BandVerdict {
  const none = { run, decidedBy: null, threshold: null, margin: Number.NaN, other: null } as const;
  if (run.early) return { ...none, word: run.early, decidedBy: 'falling', threshold: THRESHOLDS[0], margin: worstGate(run.measures)?.margin ?? Number.NaN };
  // A shape that is not the one asked for has no word.
  if (stuckClosure(run) !== null) return { ...none, word: 'no verdict' };
  if (run.status !== 'settled') {
    if (run.status === 'notConverged' && run.stillFalling)
      return { ...none, word: 'slumps', decidedBy: 'falling', threshold: THRESHOLDS[0], margin: worstGate(run.measures)?.margin ?? Number.NaN };
    return { ...none, word: 'no verdict' };
  }
  const worst = worstGate(run.measures);
  if (worst === null) return { ...none, word: 'no verdict' };
  const { threshold } = worst;
  const filled = otherFilling(run);
  const touched = nudged(run);
  // The other filling stands beside the word: it counts down to what softens, so that word and margin rank alike.
  const margin = Math.min(worst.margin, touched?.margin ?? 1, Math.max(GONE, filled?.margin ?? 1));
  if (worst.word === 'slumps' && fellOver(run.measures, run.hasBase)) return { ...none, word: 'lies flat', decidedBy: 'wallLean', threshold, margin };
  const byNudge = touched !== null && isWorse(touched.word, worst.word);
  const word = byNudge ? touched.word : worst.word;
  return {
    run,
    word: run.hung === null ? word : whileHung(word),
    decidedBy: byNudge ? 'nudge' : worst.word === 'holds' ? null : threshold.gate,
    threshold,
    margin,
    other: filled === null || filled.word === worst.word ? null : filled,
  };
}

/**
 * May another mesh or start give this run another word? All that is judged counts, the nudge and the other filling included; near the limit of a slump the shape at rest, and of one
 * that a nudge leaves out of place the shape that it leaves. Whether a slump lies flat is not asked: both have come down. Of what is not at rest nothing is said.
 */
export function nearItsLimit(run: BandRun): boolean {
  if (run.status !== 'settled') return false;
  const touched = nudged(run),
    own = gateMargins(run.measures);
  const margins: readonly GateMargin[] = [
    ...own,
    ...(touched === null ? [] : [{ gate: 'nudge', margin: touched.margin } as const]),
    ...(run.inward.ran && run.inward.differs && run.inward.measures ? gateMargins(run.inward.measures) : []),
  ];
  const { left } = run.nudge;
  return nearLimit(margins) || nearSlump(own) || (worstGate(run.measures)?.word !== 'slumps' && !!left && nearSlump(gateMargins(left)));
}

const whileHung = (word: VerdictWord): VerdictWord => (word === 'holds' ? 'hangs true' : word === 'stands until touched' ? 'hangs true until touched' : word);

/** The word by all its measures of walls pressed in at the start, where that came to rest in another shape. */
function otherFilling({ inward }: BandRun): (NonNullable<BandVerdict['other']> & { readonly margin: number }) | null {
  const other = inward.ran && inward.differs && inward.measures ? worstGate(inward.measures) : null;
  return other && { ...other, measures: inward.measures! };
}

/** What the nudge says; null where none was tried and nothing else is known. */
function nudged(run: BandRun): ReturnType<typeof nudgeWord> | null {
  const { tested, worstShift, left } = run.nudge;
  if (tested) return nudgeWord(worstShift, heightOf(run), left ? worstGate(left) : null);
  return run.stable ? null : nudgeWord(Number.POSITIVE_INFINITY, heightOf(run));
}

/** Drafted height of a bag, m; of a closed one, which has no rim, that of its tallest wall. */
export const heightOf = (run: Pick<BandRun, 'measures' | 'panels'>): number => run.measures.draftedHeight ?? Math.max(0, ...run.panels.map((p) => p.height));

/** Wall panels: those that have a height to keep. */
export const wallsOf = (run: BandRun): readonly PanelMeasures[] => run.panels.filter((p) => p.heightKept !== null && p.height > 0);

/** Height to which a panel's stack stands by itself, m (0.9930 of its 41.5-degree overhang). */
export const unaidedHeight = (panel: PanelMeasures): number => UNAIDED * panel.overhang;

/**
 * The panel that gives way first, or null when there is no wall. Walls taller than their stack stands unaided come first; among them the one
 * that kept least of its height, and within 2 % of that the one with the largest stand number. When every wall would stand by itself,
 * the same rule over all walls (their neighbours pull them down). decidedBy: where a bulge or a lean decided the word, it is the wall that bulges or leans most.
 */
export function givesWay(run: BandRun, decidedBy: Verdict['decidedBy'] = null): PanelMeasures | null {
  const walls = wallsOf(run);
  if (decidedBy === 'bulge' || decidedBy === 'wallLean') {
    const of = (p: PanelMeasures): number => (decidedBy === 'bulge' ? p.bulge : p.lean) ?? -1;
    const most = Math.max(-1, ...walls.map(of));
    // Mirror images differ by rounding alone: among those the other rules choose.
    const alike = walls.filter((p) => of(p) >= most * (1 - 1e-3));
    if (most >= 0) return soonest(alike);
  }
  return soonest(walls);
}

function soonest(walls: readonly PanelMeasures[]): PanelMeasures | null {
  const tall = walls.filter((p) => p.height > unaidedHeight(p));
  const from = tall.length > 0 ? tall : walls;
  if (from.length === 0) return null;
  const least = Math.min(...from.map((p) => p.heightKept ?? 1));
  const near = from.filter((p) => (p.heightKept ?? 1) <= least + 0.02);
  return near.reduce((a, b) => (b.standNumber > a.standNumber + 1e-9 ? b : a));
}
