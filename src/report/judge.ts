import type { Wanted } from '../bag/types.ts';
import type { Band } from '../material/types.ts';
import { formatAngle } from '../units/index.ts';
import { type BandVerdict, givesWay, judgeBand, unaidedHeight, wallsOf } from './band.ts';
import { worstBy } from './severity.ts';
import { strainReason } from './strain.ts';
import { PUDDLE, THRESHOLDS, worstGate } from './thresholds.ts';
import type { BandRun, Verdict, VerdictWord } from './types.ts';
import { judgeWanted } from './wanted.ts';
import { BATCH, clause, length, panelSubject, percent } from './words.ts';

/**
 * The verdict over the runs of one option: the word, one sentence why, the margin, the panel that gives way first, and whether it is what was wanted.
 * Rules: one run by itself in band.ts; all runs agree -> that word; they differ -> "depends on the swatch"; any of them without a verdict ->
 * "no verdict" (byBand still says what the others gave). margin: the smallest of all runs, 1 = as drafted, 0 = on the limit of "holds",
 * negative = missed; NaN without a verdict. The limits are common practice (thresholds.ts); nothing here speaks of strength.
 * runs: low, mid, high, those that were asked for, at least one. wanted: the maker's intent.
 */
export function judge(runs: readonly BandRun[], wanted: Wanted): Verdict {
  const bands = runs.map(judgeBand);
  const word = combine(bands);
  const spoken = speaker(bands, word);
  // What fell over for want of a base did not give way.
  const gives = word === 'holds' || word === 'no verdict' || spoken.word === 'lies flat' ? null : givesWay(spoken.run, spoken.decidedBy);
  const byBand: Partial<Record<Band, VerdictWord>> = {};
  for (const b of bands) byBand[b.run.band] = b.word;
  const margin = word === 'no verdict' ? Number.NaN : Math.min(...bands.map((b) => b.margin));
  return {
    word,
    reason: [reasonOf(word, bands, spoken), strainReason(runs)].filter((s) => s !== '').join(' '),
    margin,
    givesWayFirst: gives?.name ?? null,
    byBand,
    // The wanted look is that of a standing bag.
    ...(runs.some((r) => r.hung !== null) ? { meetsWanted: null, wanted, wantedReason: '' } : judgeWanted(bands, wanted)),
    decidedBy: spoken.decidedBy,
  };
}

/** The run whose figures lead a report: mid, else the first that was asked for. */
export function leadRun(runs: readonly BandRun[]): BandRun {
  const lead = runs.find((r) => r.band === 'mid') ?? runs[0];
  if (lead === undefined) throw new Error('missing runs: a result needs at least one');
  return lead;
}

function combine(bands: readonly BandVerdict[]): VerdictWord {
  if (bands.length === 0) throw new Error('missing runs: a verdict needs at least one');
  if (bands.some((b) => b.word === 'no verdict')) return 'no verdict';
  return bands.every((b) => b.word === bands[0].word) ? bands[0].word : 'depends on the swatch';
}

/** The run that the sentence speaks of: the middle one when all agree, else the worst. */
function speaker(bands: readonly BandVerdict[], word: VerdictWord): BandVerdict {
  const middle = bands.find((b) => b.run.band === 'mid') ?? bands[0];
  if (word === middle.word && word !== 'no verdict') return middle;
  return worstBy(bands, (b) => b.word);
}

function reasonOf(word: VerdictWord, bands: readonly BandVerdict[], spoken: BandVerdict): string {
  switch (word) {
    case 'no verdict':
      return noVerdict(spoken.run);
    case 'holds':
      return holds(bands, spoken);
    case 'depends on the swatch':
      return `${sentence(`${byBatch(bands)}: test a swatch.`)} With ${BATCH[spoken.run.band]}: ${lower(reasonOf(spoken.word, bands, spoken))}`;
    case 'depends on how it is filled': {
      const { inward, measures } = spoken.run;
      const out = `Filled out it keeps ${percent(measures.heightKept ?? 0)} of its height${but(spoken.run)}`;
      return `${out}; with its walls pushed in it comes to rest at ${percent(inward.heightKept ?? 0)}${but({ ...spoken.run, measures: inward.measures ?? measures })}.`;
    }
    case 'lies flat':
      return `It falls over and lies flat, a wall leaning ${formatAngle(spoken.run.measures.wallLean ?? 0)}: it has no base to stand on. Hang it, or give it a base.`;
    default:
      return gone(spoken);
  }
}

/** What else than height decides over a shape: ", but a wall bulges 14 % of its width"; '' where height does, or nothing. */
function but(run: BandRun): string {
  const worst = worstGate(run.measures);
  return worst === null || worst.word === 'holds' || worst.threshold.gate === 'heightKept' ? '' : `, but ${clause(worst.threshold, run)}`;
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
const sentence = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A strap that has gone further than this, m, and is not at rest is sliding off: where friction holds it in the end it creeps a few millimetres. */
const SLIDES = 0.01;

function noVerdict(run: BandRun): string {
  if (run.status === 'settled') return 'There is no mouth and no wall to judge here. The marks and the bends of each panel are given instead.';
  const with_ = `With ${BATCH[run.band]}`;
  if (run.status === 'diverged') return `${with_} the solver diverged after ${run.iterations} steps; nothing is said about this bag.`;
  if (run.hung !== null && run.hung.slid > SLIDES)
    return `${with_} its straps slide along what it hangs from, ${length(run.hung.slid)} so far after ${run.iterations} steps. Friction does not stop them, and a shape that still moves gets no verdict.`;
  return `${with_} it had not come to rest after ${run.iterations} steps (out of balance by ${run.residual.toPrecision(2)} of a mesh point's weight). A shape that still moves gets no verdict.`;
}

function holds(bands: readonly BandVerdict[], spoken: BandVerdict): string {
  const { nudge, measures, hung } = spoken.run,
    all = bands.length > 1 ? ' with every bolt' : '';
  if (hung !== null) {
    const sag = THRESHOLDS.filter((t) => t.gate === 'mouthSag' || t.gate === 'baseSag')
      .map((t) => clause(t, spoken.run))
      .filter((c) => c !== '');
    const back = nudge.tested ? `comes back from every nudge${all}: ` : '';
    return sentence(`${back}${clause(THRESHOLDS.find((t) => t.gate === 'hangTilt')!, spoken.run)}${sag.length > 0 ? `; ${sag.join(', ')}` : ''}.`);
  }
  // Under a millimetre there is nothing that a string across the mouth would show.
  const level = measures.topEdgeDrop !== null && measures.topEdgeDrop < 0.001;
  const drop = measures.topEdgeDrop === null ? '' : level ? ', and the top edge stays level' : `, and the top edge drops ${length(measures.topEdgeDrop)}`;
  const kept =
    measures.heightKept === null ? clause(spoken.threshold ?? THRESHOLDS[0], spoken.run) : `keeps ${percent(measures.heightKept)} of its height${drop}`;
  const slides = nudge.slides ? `; a nudge of ${percent(nudge.fraction)} of its weight would slide it along the table, so no nudge was tried` : '';
  return sentence(`${nudge.tested ? `comes back from every nudge${all}: it ` : `it${all} `}${kept}${slides}.`);
}

/** "slumps with a soft bolt, holds with a typical bolt and a stiff bolt" */
function byBatch(bands: readonly BandVerdict[]): string {
  const words = [...new Set(bands.map((b) => b.word))];
  return words
    .map((w) => {
      const names = bands.filter((b) => b.word === w).map((b) => BATCH[b.run.band]);
      return `${w} with ${names.join(' and ')}`;
    })
    .join(', ');
}

function gone(spoken: BandVerdict): string {
  const { run, decidedBy, threshold } = spoken;
  if (decidedBy === 'nudge') {
    const { fraction, worstShift } = run.nudge;
    if (!run.nudge.tested) return 'It only balances: the slightest push sends it to another shape.';
    const [stands, what] = run.hung === null ? ['stands', 'it'] : ['hangs like this', 'its mouth'];
    return Number.isFinite(worstShift)
      ? `It ${stands}, but a nudge of ${percent(fraction)} of its weight leaves ${what} ${length(worstShift)} out of place.`
      : `It ${stands} until it is touched: from a nudge of ${percent(fraction)} of its weight it does not come back.`;
  }
  const what = decidedBy === 'falling' ? `${falling(run)}` : threshold === null ? '' : measured(spoken);
  const panel = givesWay(run, decidedBy);
  if (panel === null) return sentence(`${what}.`);
  const stands = unaidedHeight(panel);
  if (panel.height > stands) {
    return `${panelSubject(panel.name)} gives way first: it is ${length(panel.height)} tall, its stack stands ${length(stands)} unaided; ${what}.`;
  }
  if (wallsOf(run).some((p) => p.height > unaidedHeight(p))) return `${panelSubject(panel.name)} gives way first: ${what}.`;
  return sentence(`${what}, although every wall is low enough for its stack to stand unaided.`);
}

function measured(spoken: BandVerdict): string {
  const text = clause(spoken.threshold ?? THRESHOLDS[0], spoken.run);
  const kept = spoken.run.measures.heightKept;
  return kept !== null && kept < PUDDLE && spoken.threshold?.gate === 'heightKept' ? `${text}, a puddle` : text;
}

function falling(run: BandRun): string {
  const kept = run.measures.heightKept;
  return `it was still falling at ${kept === null ? 'less than half' : percent(kept)} of its height when the run ended, so the shape shown is not the finished heap`;
}
