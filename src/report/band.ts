import type { PanelMeasures } from '../measures/types.ts';
import { THRESHOLDS, type Threshold, UNAIDED, worstGate } from './thresholds.ts';
import type { BandRun, Verdict, VerdictWord } from './types.ts';

/** What one run says by itself, and what decided it. */
export interface BandVerdict {
  readonly run: BandRun;
  readonly word: VerdictWord;
  readonly decidedBy: Verdict['decidedBy'];
  /** The limit that decided, when a measure did. */ readonly threshold: Threshold | null;
  /** Smallest margin of all that was judged; NaN when nothing could be. */ readonly margin: number;
}

/** Lean beyond which a wall lies rather than leans, rad (common practice, no source: half way over). */
const FELL_OVER = Math.PI / 4;

/**
 * Verdict of one run, in this order:
 *   1. not at rest: "slumps" when it passed below half its height and still fell, else "no verdict";
 *   2. nothing to judge (no mouth, no wall): "no verdict";
 *   3. the worst gated measure decides (thresholds.ts);
 *      without a base, a slump whose wall leans more than 45 deg is a bag that fell over as it must: "lies flat";
 *   4. a run from walls bulged inward that ends in another shape with another word, by the same gates: "depends on how it is filled"
 *      (two heaps that both slump are still a slump: a heap's exact shape is one of many);
 *   5. not coming back from a nudge, or unstable and never nudged: at best "softens".
 */
export function judgeBand(run: BandRun): BandVerdict {
  if (run.status !== 'settled') {
    if (run.status === 'notConverged' && run.stillFalling) {
      return { run, word: 'slumps', decidedBy: 'falling', threshold: THRESHOLDS[0], margin: worstGate(run.measures)?.margin ?? Number.NaN };
    }
    return { run, word: 'no verdict', decidedBy: null, threshold: null, margin: Number.NaN };
  }
  const worst = worstGate(run.measures);
  if (worst === null) return { run, word: 'no verdict', decidedBy: null, threshold: null, margin: Number.NaN };
  if (worst.word === 'slumps' && !run.hasBase && (run.measures.wallLean ?? 0) > FELL_OVER)
    return { run, word: 'lies flat', decidedBy: 'wallLean', threshold: worst.threshold, margin: worst.margin };
  const decidedBy = worst.word === 'holds' ? null : worst.threshold.gate;
  const base: BandVerdict = { run, word: worst.word, decidedBy, threshold: worst.threshold, margin: worst.margin };
  return nudged(filled(base), run);
}

function filled(verdict: BandVerdict): BandVerdict {
  const { inward } = verdict.run;
  // By all its measures: a bag whose pressed-in walls keep its height and shut its mouth has given way as well.
  const other = inward.ran && inward.differs && inward.measures ? worstGate(inward.measures) : null;
  if (other === null) return verdict;
  const margin = Math.min(verdict.margin, other.margin);
  if (other.word === verdict.word) return { ...verdict, margin };
  return { ...verdict, word: 'depends on how it is filled', decidedBy: 'filling', threshold: other.threshold, margin };
}

function nudged(verdict: BandVerdict, run: BandRun): BandVerdict {
  if (verdict.word !== 'holds') return verdict;
  const returns = run.nudge.tested ? run.nudge.comesBack : run.stable;
  if (returns) return verdict;
  // What a nudge leaves behind is weighed on the scale of the top-edge drop, so that the margin turns negative with it.
  const height = run.measures.draftedHeight ?? Number.NaN;
  const left = -run.nudge.worstShift / (0.05 * height);
  return { ...verdict, word: 'softens', decidedBy: 'nudge', margin: Math.min(verdict.margin, Number.isFinite(left) ? left : 0, 0) };
}

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
