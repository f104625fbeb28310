import { formatAngle, formatMass } from '../units/index.ts';
import { cautionsFor } from './hung.ts';
import { resultRecord, stableJson } from './json.ts';
import { leadRun } from './judge.ts';
import { keepsShape, worstBy } from './severity.ts';
import { PLAIN, type Style, table, wrap } from './text.ts';
import type { Result } from './types.ts';
import { BATCH, length, percent } from './words.ts';

/**
 * One sentence over several stances of one option: where it keeps its shape, and where it first does not, with the bolt and the panel that gives way first.
 * A bag without a base is judged by the stances in which it hangs, where it has any. Stances that have nothing to judge are left out; null when none has a verdict.
 */
export function overStances(results: readonly Result[]): string | null {
  const judged = results.filter((r) => r.verdict.word !== 'no verdict');
  const hung = judged.filter((r) => leadRun(r.runs).hung !== null);
  const byHanging = hung.length > 0 && judged.some((r) => !leadRun(r.runs).hasBase);
  const asked = byHanging ? hung : judged;
  if (asked.length === 0) return null;
  const first = byHanging ? 'It has no base, so how it hangs counts. ' : '';
  const worst = worstBy(asked, (r) => r.verdict.word);
  const kept = asked.filter((r) => keepsShape(r.verdict.word)).map((r) => r.stance);
  if (keepsShape(worst.verdict.word))
    return `${first}${asked.length === results.length ? 'It keeps its shape in every stance.' : `It keeps its shape in every stance that could be judged (${kept.join(', ')}).`}`;
  const panel = worst.verdict.givesWayFirst;
  const bolts = worst.runs.filter((r) => !keepsShape(worst.verdict.byBand[r.band] ?? 'no verdict')).map((r) => BATCH[r.band]);
  const where = bolts.length > 0 && bolts.length < worst.runs.length ? ` with ${bolts.join(' and ')}` : '';
  return `${first}${kept.length > 0 ? `It keeps its shape ${kept.join(', ')}; the` : 'The'} weakest stance is "${worst.stance}": ${worst.verdict.word}${where}${panel === null ? '' : `, ${panel} first`}.`;
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
    ...table(
      rows,
      style,
      `wanted: ${first.verdict.wanted}, in each stance by what makers mean by it there; the figures at the right are of the middle of the band`,
    ),
    '',
    ...results.flatMap((r) =>
      wrap(`${style.strong(r.stance)}: ${[r.verdict.reason, ...r.verdict.details, r.verdict.wantedReason].join(' ')}`.trimEnd(), 100, '  '),
    ),
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
