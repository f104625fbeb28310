import { formatAngle } from '../units/index.ts';
import { type BandVerdict, givesWay, unaidedHeight, wallsOf } from './band.ts';
import { doesNotClose, stuckClosure } from './closures.ts';
import { cornersClause, cornersLines } from './corners.ts';
import { hasGone } from './severity.ts';
import { PUDDLE, THRESHOLDS, type Threshold, wordOf } from './thresholds.ts';
import type { BandRun } from './types.ts';
import { BATCH, clause, length, panelSubject, percent } from './words.ts';

/** Why a run has its word, in a maker's words: one clause with one figure, and the sentences that stand under it. */

const HEIGHT = THRESHOLDS.find((t) => t.gate === 'heightKept')!;
const TILT = THRESHOLDS.find((t) => t.gate === 'hangTilt')!;

export const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

/** Has the bag of this run come down, so that its heights are those of one heap of many? */
const collapsed = ({ word, run }: BandVerdict): boolean => hasGone(word) && run.measures.heightKept !== null && run.measures.heightKept < HEIGHT.softens;

/** Least and most height kept of all runs whose bag has come down; null where none has. */
function collapsedHeights(bands: readonly BandVerdict[]): readonly [number, number] | null {
  const kept = bands.filter(collapsed).map((b) => b.run.measures.heightKept!);
  return kept.length === 0 ? null : [Math.min(...kept), Math.max(...kept)];
}

/** Clause with one figure, no capital and no full stop. bands: all runs, for the range of heaps. */
export function why(b: BandVerdict, bands: readonly BandVerdict[]): string {
  return `${own(b, bands)}${b.other === null ? '' : `; with its walls pressed in it ${b.other.word}`}${cornersClause(b)}`;
}

function own(b: BandVerdict, bands: readonly BandVerdict[]): string {
  const { run, word, decidedBy, threshold } = b;
  const { measures, nudge } = run;
  if (word === 'lies flat') return `it falls over, a wall leaning ${formatAngle(measures.wallLean ?? 0)}: it has no base to stand on`;
  if (word === 'holds') {
    const back = nudge.tested ? ' and comes back from a nudge' : '';
    return measures.heightKept === null ? clause(threshold!, run) : `it keeps ${percent(measures.heightKept)} of its height${back}`;
  }
  if (word === 'hangs true') return clause(measures.hangTilt === null ? threshold! : TILT, run) + (nudge.tested ? ' and swings back from a nudge' : '');
  if (decidedBy === 'nudge') return touched(run);
  if (decidedBy === 'falling') return falling(run);
  return measured(threshold!, b, bands);
}

function touched(run: BandRun): string {
  const { tested, fraction, worstShift } = run.nudge;
  if (!tested) return 'it only balances: the slightest push sends it to another shape';
  const [stands, what, back] = run.hung === null ? ['stands', 'it', 'knocks it over'] : ['hangs still', 'its mouth', 'swings it to another shape'];
  if (!Number.isFinite(worstShift)) return `it ${stands}, but a nudge of ${percent(fraction)} of its weight ${back}`;
  return `it ${stands}, but a nudge leaves ${what} ${length(worstShift)} out of place`;
}

function measured(t: Threshold, b: BandVerdict, bands: readonly BandVerdict[]): string {
  const { run } = b;
  const kept = run.measures.heightKept;
  if (t.gate === 'heightKept' && kept !== null) {
    const range = collapsed(b) ? collapsedHeights(bands) : null;
    const share = range && percent(range[0]) !== percent(range[1]) ? `${percent(range[0]).replace(/ %$/, '')} to ${percent(range[1])}` : percent(kept);
    return `the rim keeps ${share} of its height${(range?.[1] ?? kept) < PUDDLE ? ', a puddle' : ''}`;
  }
  const panel = t.gate === 'bulge' || t.gate === 'wallLean' ? givesWay(run, t.gate) : null;
  const said = panel === null ? clause(t, run) : clause(t, run).replace(/^a wall/, panelSubject(panel.name).replace(/^T/, 't'));
  if (kept === null || wordOf(HEIGHT, kept) !== 'holds') return said;
  return `it holds its height${t.decides ? ', but' : ';'} ${said}`;
}

function falling(run: BandRun): string {
  const kept = run.measures.heightKept;
  if (run.early && kept !== null) return `it is down to ${percent(kept)} of its height and still falls`;
  return `it was still falling at ${kept === null ? 'less than half' : percent(kept)} of its height when the run ended`;
}

/** What stands under the sentence: the panel that gives way first, the other filling, what a nudge could not tell, the other bolts. */
export function under(b: BandVerdict, bands: readonly BandVerdict[]): string[] {
  const { run, word, decidedBy, other } = b;
  const out: string[] = [];
  if (run.early) out.push('Its word is certain, so it was followed no further: the shape and the figures are those of a bag that still falls.');
  else if (decidedBy === 'falling') out.push('The shape shown is not the finished heap.');
  if (word === 'lies flat') out.push('Hang it, or give it a base.');
  if ((word === 'softens' || word === 'slumps') && decidedBy !== 'nudge' && !run.early) out.push(...first(b));
  if (other !== null) {
    const kept = other.measures.heightKept;
    const more =
      other.threshold.gate === 'heightKept' || other.word === 'holds' ? '' : `, and ${clause(other.threshold, { ...run, measures: other.measures })}`;
    if (kept !== null) out.push(`With its walls pressed in it comes to rest at ${percent(kept)} of its height${more}.`);
  }
  out.push(...cornersLines(bands.find((o) => o.run.corners) ?? b));
  if (run.nudge.slides) out.push(`A nudge of ${percent(run.nudge.fraction)} of its weight would slide it along the table, so no nudge was tried.`);
  for (const o of bands) if (o !== b && o.word !== word && o.word !== 'no verdict') out.push(`With ${BATCH[o.run.band]} it ${o.word}: ${why(o, bands)}.`);
  return out;
}

/** The panel that gives way first, and what its stack can do. */
function first({ run, decidedBy }: BandVerdict): string[] {
  const panel = givesWay(run, decidedBy);
  if (panel === null) return [];
  const stands = unaidedHeight(panel);
  if (panel.height > stands)
    return [`${panelSubject(panel.name)} gives way first: it is ${length(panel.height)} tall, its stack stands ${length(stands)} unaided.`];
  if (wallsOf(run).some((p) => p.height > unaidedHeight(p))) return [`${panelSubject(panel.name)} gives way first.`];
  return ['Every wall is low enough for its stack to stand unaided.'];
}

/** A strap that has gone further than this, m, and is not at rest is sliding off: where friction holds it in the end it creeps a few millimetres. */
const SLIDES = 0.01;

/** Why a run has no verdict, as a sentence. */
export function noVerdict(run: BandRun): string {
  const stuck = stuckClosure(run);
  if (stuck !== null) return doesNotClose(stuck);
  if (run.status === 'settled') return 'There is no mouth and no wall to judge here. The marks and the bends of each panel are given instead.';
  const bolt = `With ${BATCH[run.band]}`;
  if (run.status === 'diverged') return `${bolt} the solver diverged after ${run.iterations} steps; nothing is said about this bag.`;
  if (run.hung !== null && run.hung.slid > SLIDES)
    return `${bolt} its straps slide along what it hangs from, ${length(run.hung.slid)} so far after ${run.iterations} steps. Friction does not stop them, and a shape that still moves gets no verdict.`;
  return `${bolt} it had not come to rest after ${run.iterations} steps (out of balance by ${run.residual.toPrecision(2)} of a mesh point's weight). A shape that still moves gets no verdict.`;
}
