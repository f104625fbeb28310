import { formatMass } from '../../units/index.ts';
import { aroundWords } from '../ground.ts';
import { leadRun } from '../judge.ts';
import { overStances } from '../over-stances.ts';
import { pictureRows } from '../picture/column.ts';
import { apartOf, cellOf, gramsApart, rowsOf } from '../rows.ts';
import type { Result } from '../types.ts';
import { BAND_WORD, evidenceTag } from '../words.ts';
import { faint, type ReportBlock, type ReportPart, text } from './blocks.ts';

/** Options that stand side by side in one table: more would not fit a sheet. */
const SIDE = 4;

/** What tells the results of one bag apart: their option, their stance, or both. */
export function namesOf(results: readonly Result[]): readonly string[] {
  const options = new Set(results.map((r) => r.option)).size > 1;
  const stances = new Set(results.map((r) => r.stance)).size > 1;
  return results.map((r) => (options && stances ? `${r.option}, ${r.stance}` : stances ? r.stance : r.option));
}

/** The lightest option that does what is wanted, in all of its stances that are there; -1: none, or there is no choice. */
function chosenOf(results: readonly Result[]): number {
  const options = [...new Set(results.map((r) => r.option))];
  const meets = options.flatMap((o) => {
    const own = results.filter((r) => r.option === o);
    return own.every((r) => r.verdict.meetsWanted === true) ? [own[0]!] : [];
  });
  if (options.length < 2 || meets.length === 0) return -1;
  return results.indexOf(meets.reduce((a, b) => (b.massKg < a.massKg ? b : a)));
}

/** The option whose cutting list belongs in a report: the lightest that does what is wanted, else the first. */
export const chosenOption = (results: readonly Result[]): string => results[Math.max(0, chosenOf(results))]!.option;

const met = (r: Result): string => (r.verdict.meetsWanted === null ? '-' : r.verdict.meetsWanted ? 'yes' : `no: ${r.verdict.fit ?? 'it misses'}`);

/** What was asked, in a word for each: the table that a client reads first. */
export function answerPart(results: readonly Result[]): ReportPart {
  const first = results[0]!;
  const names = namesOf(results);
  const bands = (['low', 'mid', 'high'] as const).filter((b) => results.some((r) => r.verdict.pips.some((p) => p.band === b)));
  const pip = (r: Result, band: (typeof bands)[number]): string => {
    const found = r.verdict.pips.find((p) => p.band === band);
    return found ? `${found.word}${found.follows ? ' (follows)' : ''}` : '-';
  };
  const name = { low: 'soft bolt', mid: 'typical bolt', high: 'stiff bolt' } as const;
  const rows = results.map((r, i) => [
    names[i]!,
    r.verdict.word,
    ...(bands.length > 1 ? bands.map((b) => pip(r, b)) : []),
    r.verdict.givesWayFirst ?? '-',
    met(r),
    formatMass(r.massKg),
  ]);
  const chosen = chosenOf(results);
  const stances = new Set(results.map((r) => r.stance)).size > 1;
  const options = [...new Set(results.map((r) => r.option))];
  const over = stances
    ? options.flatMap((o) => {
        const sentence = overStances(results.filter((r) => r.option === o));
        return sentence === null ? [] : [text(options.length > 1 ? `${o}: ${sentence}` : sentence)];
      })
    : [];
  const light =
    chosen < 0 ? [] : [text(`The lightest that is "${first.verdict.wanted}" as wanted: ${results[chosen]!.option}, ${formatMass(results[chosen]!.massKg)}.`)];
  const none =
    options.length > 1 && chosen < 0 && results.every((r) => r.verdict.meetsWanted === false)
      ? [text(`None of them is "${first.verdict.wanted}" as wanted.`)]
      : [];
  const heads = [
    stances ? 'stance' : 'option',
    'verdict',
    ...(bands.length > 1 ? bands.map((b) => name[b]) : []),
    'gives way first',
    `"${first.verdict.wanted}"`,
    'weight',
  ];
  const table: ReportBlock = {
    kind: 'table',
    heads: [stances && options.length > 1 ? 'option, stance' : heads[0]!, ...heads.slice(1)],
    rows,
    figures: [heads.length - 1],
  };
  return { title: 'The answer', blocks: [...light, ...none, ...over, table] };
}

/** All figures side by side, the difference to the first beside each. */
export function figuresPart(results: readonly Result[]): ReportPart {
  const names = namesOf(results);
  const [first, lead] = [results[0]!, leadRun(results[0]!.runs)];
  const tables: ReportBlock[] = [];
  for (let from = 0; from < results.length; from += SIDE) {
    const shown = results.slice(from, from + SIDE);
    const judged = new Set(pictureRows(shown).map((row) => row.label));
    const rows = rowsOf(first).filter((row) => judged.has(row.label) || shown.some((r) => row.value(leadRun(r.runs)) !== '-'));
    const beside = (value: string, apart: string): string => (apart === '' ? value : `${value} (${apart})`);
    tables.push({
      kind: 'table',
      heads: ['', ...shown.map((_, i) => names[from + i]!), 'holds at'],
      rows: [
        ...rows.map((row) => [
          row.label,
          ...shown.map((r) => {
            const run = leadRun(r.runs);
            return beside(cellOf(row, r, run), run === lead ? '' : apartOf(row, r, run, first, lead));
          }),
          row.limit,
        ]),
        ['weight', ...shown.map((r) => beside(formatMass(r.massKg), r === first || gramsApart(r, first) === '' ? '' : `${gramsApart(r, first)} g`)), ''],
        ['rests on', ...shown.map((r) => evidenceTag(r.evidence)), ''],
      ],
    });
  }
  const apart = results.length > 1 ? ` In brackets: the difference to ${names[0]}.` : '';
  return { title: 'Figures', blocks: [faint(`Of the ${BAND_WORD[lead.band]} of the material band.${apart}`), ...tables] };
}

/** What stands under the bag's name: stance, what is around it, what is wanted. */
export function underName(results: readonly Result[]): string {
  const first = results[0]!;
  const stances = [...new Set(results.map((r) => r.stance))];
  const options = [...new Set(results.map((r) => r.option))];
  const around = stances.length === 1 ? aroundWords(first) : '';
  const what = options.length === 1 ? `option ${first.option}` : `${options.length} options`;
  const how = stances.length === 1 ? `${first.stance}${around === '' ? '' : `: ${around}`}` : `${stances.length} stances`;
  return `${what}; ${how}; wanted: ${first.verdict.wanted}`;
}
