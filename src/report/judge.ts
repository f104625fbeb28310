import type { Wanted } from '../bag/types.ts';
import type { Band } from '../material/types.ts';
import { formatMm } from '../units/index.ts';
import { type BandVerdict, givesWay, judgeBand } from './band.ts';
import { hasGone, stepOf, worstBy } from './severity.ts';
import { strainReason } from './strain.ts';
import type { BandRun, Verdict, VerdictWord } from './types.ts';
import { judgeWanted } from './wanted.ts';
import { noVerdict, sentence, under, why } from './why.ts';
import { BATCH, PIP, percent } from './words.ts';

/**
 * The verdict over the runs of one option: the word, one sentence why with one figure, what stands under it, the margin, and whether it is what was wanted.
 * Rules: one run by itself in band.ts. The word is that of the middle of the band (else of the first run): the ends stand beside it as `pips`. Only where two
 * runs lie two steps apart (one keeps its shape, another has lost it) it "depends on the swatch"; any run without a verdict -> "no verdict" (byBand still says
 * what the others gave). margin: the smallest over all figures and runs, nudge and other filling included, 1 = as drafted, 0 = on the limit of "holds",
 * negative = missed; NaN without a verdict. The limits are common practice (thresholds.ts); nothing here speaks of strength.
 * Where the middle lies near its limit and a second mesh gives another word, that is the verdict: "near its limit", both told.
 * runs: low, mid, high, those that were asked for, at least one. wanted: the maker's intent. pattern: what the pattern check warns of, a sentence each.
 */
export function judge(runs: readonly BandRun[], wanted: Wanted, pattern: readonly string[] = []): Verdict {
  const bands = runs.map(judgeBand);
  const combined = combine(bands),
    near = nearAgain(leadOf(bands));
  const word = near?.other && combined === leadOf(bands).word ? 'near its limit' : combined;
  const spoken = speaker(bands, word);
  // What fell over for want of a base, or only when it was touched, did not give way.
  const gives =
    (word === 'softens' || hasGone(word) || word === 'depends on the swatch') &&
    spoken.word !== 'lies flat' &&
    spoken.decidedBy !== 'nudge' &&
    !spoken.run.early;
  const pips = pipsOf(bands);
  const byBand: Partial<Record<Band, VerdictWord>> = {};
  for (const p of pips) byBand[p.band] = p.word;
  const strain = strainReason(runs);
  return {
    word,
    reason: reasonOf(word, bands, spoken),
    details: [
      ...pattern,
      ...(near === null || word === 'no verdict' ? [] : [near.told]),
      ...(word === 'no verdict' ? [] : under(spoken, bands)),
      ...(strain === '' ? [] : [strain]),
    ],
    pips,
    testSwatch: new Set(bands.map((b) => b.word)).size > 1,
    margin: word === 'no verdict' ? Number.NaN : Math.min(...bands.map((b) => b.margin)),
    givesWayFirst: gives ? (givesWay(spoken.run, spoken.decidedBy)?.name ?? null) : null,
    byBand,
    ...judgeWanted(bands, wanted),
    decidedBy: spoken.decidedBy,
  };
}

/** The run whose figures lead a report: mid, else the first that was asked for. */
export function leadRun(runs: readonly BandRun[]): BandRun {
  const lead = runs.find((r) => r.band === 'mid') ?? runs[0];
  if (lead === undefined) throw new Error('missing runs: a result needs at least one');
  return lead;
}

/** A pip for every end that was run or follows, soft to stiff. */
const pipsOf = (bands: readonly BandVerdict[]): Verdict['pips'] =>
  bands
    .flatMap(({ run, word }) => [
      { band: run.band, name: PIP[run.band], word },
      ...(run.standsFor ?? []).map((band) => ({ band, name: PIP[band], word, follows: true as const })),
    ])
    .sort((a, b) => ORDER.indexOf(a.band) - ORDER.indexOf(b.band));

const ORDER: readonly Band[] = ['low', 'mid', 'high'];

const leadOf = (bands: readonly BandVerdict[]): BandVerdict => bands.find((b) => b.run.band === 'mid') ?? bands[0];

function combine(bands: readonly BandVerdict[]): VerdictWord {
  if (bands.length === 0) throw new Error('missing runs: a verdict needs at least one');
  if (bands.some((b) => b.word === 'no verdict')) return 'no verdict';
  const steps = bands.map((b) => stepOf(b.word));
  return Math.max(...steps) - Math.min(...steps) > 1 ? 'depends on the swatch' : leadOf(bands).word;
}

/** The run that the sentence speaks of: the middle one, where the word is its own; else the worst. */
const speaker = (bands: readonly BandVerdict[], word: VerdictWord): BandVerdict =>
  word === leadOf(bands).word || word === 'near its limit' ? leadOf(bands) : worstBy(bands, (b) => b.word);

/** What another mesh and another start said of a run near its limit; null where they were not asked. other: another word. */
function nearAgain({ run: { again }, word }: BandVerdict): { readonly other: boolean; readonly told: string } | null {
  if (!again) return null;
  const kept = again.heightKept === null ? '' : ` and keeps ${percent(again.heightKept)} of its height`;
  const on = `On a second mesh, of ${formatMm(again.edgeLength, 1)}, it ${again.word}${kept}`;
  return again.word === word ? { other: false, told: `${on}: the same word, near its limit.` } : { other: true, told: `${on}. Treat it as either.` };
}

function reasonOf(word: VerdictWord, bands: readonly BandVerdict[], spoken: BandVerdict): string {
  if (word === 'no verdict') return noVerdict(spoken.run);
  if (word === 'near its limit') return sentence(`on one mesh it ${spoken.word}, on another it ${spoken.run.again!.word}: ${why(spoken, bands)}`);
  if (word !== 'depends on the swatch') return sentence(why(spoken, bands));
  // "It slumps with a soft bolt (the rim keeps 61 % of its height) and holds with a typical bolt and a stiff bolt."
  const words = [...new Set(bands.map((b) => b.word))];
  const parts = words.map((w) => {
    const bolts = bands
      .filter((b) => b.word === w)
      .flatMap(({ run }) => [run.band, ...(run.standsFor ?? [])])
      .sort((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b))
      .map((band) => BATCH[band]);
    return `${w} with ${bolts.join(' and ')}${w === spoken.word ? ` (${why(spoken, bands)})` : ''}`;
  });
  return `It ${parts.length === 2 ? parts.join(' and ') : `${parts.slice(0, -1).join(', ')} and ${parts[parts.length - 1]}`}.`;
}
