import { formatAngle, formatMass } from '../units/index.ts';
import { cautionsFor } from './hung.ts';
import { resultRecord, stableJson } from './json.ts';
import { leadRun } from './judge.ts';
import { worstBy } from './severity.ts';
import { PLAIN, type Style, table, wrap } from './text.ts';
import type { Result } from './types.ts';
import { BATCH, length, percent } from './words.ts';

/**
 * One sentence over several stances of one option: where it holds, and where it first does not, with the batch and the panel that gives way first.
 * Stances that have nothing to judge are left out of it; null when none has a verdict.
 */
export function overStances(results: readonly Result[]): string | null {
  const judged = results.filter((r) => r.verdict.word !== 'no verdict');
  if (judged.length === 0) return null;
  const worst = worstBy(judged, (r) => r.verdict.word);
  if (worst.verdict.word === 'holds')
    return judged.length === results.length
      ? 'It keeps its shape in every stance.'
      : `It keeps its shape in every stance that could be judged (${judged.map((r) => r.stance).join(', ')}).`;
  const holding = judged.filter((r) => r.verdict.word === 'holds').map((r) => r.stance);
  const panel = worst.verdict.givesWayFirst;
  const batches = Object.entries(worst.verdict.byBand)
    .filter(([, word]) => word !== 'holds')
    .map(([band]) => BATCH[band as keyof typeof BATCH]);
  const where = batches.length > 0 && batches.length < worst.runs.length ? ` with ${batches.join(' and ')}` : '';
  return `${holding.length > 0 ? `It keeps its shape ${holding.join(', ')}; ` : ''}${holding.length > 0 ? 'the' : 'The'} weakest stance is "${worst.stance}": ${worst.verdict.word}${where}${panel === null ? '' : `, ${panel} first`}.`;
}

const shape = (r: Result): string => {
  const { measures, balance } = leadRun(r.runs);
  if (measures.heightKept !== null) {
    const tips = balance?.tipping ? `, tips at ${formatAngle(Math.min(...Object.values(balance.tipping)))}` : '';
    return `keeps ${percent(measures.heightKept)} of its height${tips}`;
  }
  const parts = [
    measures.hangTilt === null ? '' : `tilts ${formatAngle(measures.hangTilt)}`,
    measures.mouthSag === null ? '' : `mouth sags ${percent(measures.mouthSag)}`,
    measures.baseSag === null ? '' : `base sags ${length(measures.baseSag)}`,
  ];
  return parts.filter((p) => p !== '').join(', ') || '-';
};

/** One option in each of its stances, a line each, for a terminal. results: of one bag and one option. */
export function stancesText(results: readonly Result[], style: Style = PLAIN): string {
  const first = results[0];
  const bands = first.runs.map((r) => r.band);
  const rows = [
    ['', ...bands, 'verdict', 'gives way first', 'wanted', 'middle of the band'],
    ...results.map((r) => [
      r.stance,
      ...bands.map((b) => r.verdict.byBand[b] ?? '-'),
      r.verdict.word,
      r.verdict.givesWayFirst ?? '-',
      r.verdict.meetsWanted === null ? '-' : r.verdict.meetsWanted ? 'met' : 'missed',
      shape(r),
    ]),
  ];
  const over = overStances(results);
  return `${[
    `${style.strong(first.bag)} · option ${first.option} · ${results.length} stances · ${formatMass(first.massKg)}`,
    '',
    ...(over === null ? [] : [...wrap(over, 100), '']),
    ...table(rows, style, `wanted: ${first.verdict.wanted}, asked of standing stances; the figures at the right are of the middle of the band`),
    '',
    ...results.flatMap((r) => wrap(`${style.strong(r.stance)}: ${r.verdict.reason} ${r.verdict.wantedReason}`.trimEnd(), 100, '  ')),
    '',
    ...cautionsFor(results.map((r) => leadRun(r.runs))).flatMap((c) => wrap(c, 100).map(style.faint)),
  ].join('\n')}\n`;
}

/** The same as a record: { bag, option, over, stances: [...] }, each with its cautions. */
export const stancesRecord = (results: readonly Result[]): Record<string, unknown> => ({
  bag: results[0]?.bag ?? null,
  option: results[0]?.option ?? null,
  over: overStances(results),
  stances: results.map(resultRecord),
});

/** JSON text of that. */
export const stancesJson = (results: readonly Result[]): string => stableJson(stancesRecord(results));
