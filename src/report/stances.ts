import { formatAngle, formatMass } from '../units/index.ts';
import { cautionsFor } from './hung.ts';
import { leadRun } from './judge.ts';
import { overStances } from './over-stances.ts';
import { PLAIN, type Style, table, wrap } from './text.ts';
import type { Result } from './types.ts';
import { length, percent } from './words.ts';

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
