import { libm } from '../../numerics/index.ts';
import { shelfCell } from '../../shelf/index.ts';
import { formatMm, trimmed } from '../../units/index.ts';
import { HANGING_CAUTIONS } from '../hung.ts';
import { stableJson } from '../json.ts';
import { CAUTIONS, PIP } from '../words.ts';
import type { ChooseReport, ChosenCut, SettledStack } from './types.ts';

const grams = (kg: number): string => `${Math.round(1000 * kg)} g`;
const money = (cost: number | null, currency: string): string => (cost === null ? '-' : `${cost.toFixed(2)}${currency === '' ? '' : ` ${currency}`}`);
const margin = (m: number | null): string => (m === null ? '-' : `${(100 * m).toFixed(0)} %`);

/** "soft slumps · typical holds · stiff holds", or the word of the one bolt that was settled. */
function boltWords({ word, whole }: SettledStack, bolt: ChooseReport['bolt']): string {
  if (!whole) return `${bolt} ${word}`;
  return (['low', 'mid', 'high'] as const).flatMap((b) => (whole.byBand[b] === undefined ? [] : [`${PIP[b]} ${whole.byBand[b]}`])).join(' · ');
}

/** "0.62 m of canvas (0.1 m more than there is)" */
function cutWords({ item, area, bought }: ChosenCut): string {
  const written = (v: number, whole: boolean): string => trimmed(v, whole ? 0 : v < 0.1 ? 3 : 2);
  if (bought === null) return `${written(area, false)} m2 of ${item}`;
  const unit = bought.unit === 'sheets' && bought.amount === 1 ? 'sheet' : bought.unit;
  const amount = `${written(bought.amount, bought.unit === 'sheets')} ${unit} of ${item}`;
  return bought.short === null || bought.short < 5e-4
    ? amount
    : `${amount} (${written(bought.short, bought.unit === 'sheets')} ${bought.unit} more than there is)`;
}

/** Columns under their headings, two blanks apart. */
function table(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, c) => Math.max(...rows.map((r) => r[c]!.length)));
  return rows.map((r) =>
    r
      .map((cell, c) => cell.padEnd(widths[c]!))
      .join('  ')
      .trimEnd(),
  );
}

function rankedLines(r: ChooseReport): string[] {
  const rows = [
    ['', 'stack', 'room to spare', 'weight', 'cost', 'thickest seam', 'pieces'],
    ...r.ranked.map((s, i) => [`${i + 1}.`, s.name, margin(s.margin), grams(s.weight), money(s.cost, r.currency), formatMm(s.bulk, 1), String(s.layers)]),
  ];
  return [
    ...table(rows),
    '',
    ...r.ranked.flatMap((s, i) => [
      `${i + 1}. ${boltWords(s, r.bolt)}${s.whole?.word === 'near its limit' ? '; near its limit: another mesh says otherwise' : ''}`,
      `   to cut: ${s.cut.map(cutWords).join(', ')}`,
    ]),
  ];
}

/** "You would need an overhang of 84 mm where it has 61": of the walls' stack, by what needOf found; '' where nothing was. */
function nearestNeed(r: ChooseReport): string {
  const need = r.nearest?.need,
    found = need?.stances[0]?.mid,
    lead = need?.stacks[0];
  if (!need || !found || !lead) return '';
  if (!found.least) return found.met ? '' : 'Stiffness alone would not do it: no rigidity that was tried does.';
  const mm = (m: number): string => formatMm(m, 0);
  return `You would need an overhang of ${mm(lead.overhang * libm.cbrt(found.least.met.factor))} where it has ${mm(lead.overhang)}, its weight staying.`;
}

/** What a shelf has for a bag, for a terminal. */
export function chooseText(r: ChooseReport): string {
  const { softer, stiffer, behind } = r.ruledOut;
  const none = r.nearest;
  const head = `${r.bag} · ${r.stance} · wanted "${r.wanted}" with a ${r.bolt} bolt · from ${r.shelf}, by ${r.by}`;
  const found =
    none !== null
      ? [
          `Nothing on your shelf does. The nearest is ${none.stack.name}: it ${none.stack.word}, room to spare ${margin(none.stack.margin)}, ${grams(none.stack.weight)}.`,
          ...[nearestNeed(r)].filter((w) => w !== ''),
        ]
      : r.ranked.length === 0
        ? ['No stack came to rest, so nothing is said.']
        : [
            ...rankedLines(r),
            ...(r.ranked.length < r.asked ? ['', `Only ${r.ranked.length} of the ${r.asked} asked for: no other stack of this shelf does.`] : []),
          ];
  const ruled = [
    softer > 0 ? `${softer} softer and no lighter than one that was too soft` : '',
    stiffer > 0 ? `${stiffer} stiffer and no heavier than one too stiff` : '',
    behind > 0 ? `${behind} behind the last of the best` : '',
  ].filter((w) => w !== '');
  return `${[
    head,
    '',
    ...found,
    '',
    `${r.stacks} stacks; ${r.settled.length} settled${ruled.length > 0 ? `, the rest ruled out: ${ruled.join(', ')}` : ''}.`,
    `Settled on a mesh of ${formatMm(r.edgeLength, 0)} (${r.vertices} points): settle the stack you choose.`,
    'Areas are those of the cutting list; cloth is counted by area alone, so a lay takes more.',
    ...r.notes,
    ...(r.hung ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS),
  ].join('\n')}\n`;
}

/** The same as JSON: kg, m, m2, the shelf's currency, and the cautions that go with it. */
export const chooseJson = (r: ChooseReport): string => stableJson({ ...r, cautions: r.hung ? [...HANGING_CAUTIONS, ...CAUTIONS] : CAUTIONS });

const COLUMNS = [
  'rank',
  'place',
  'stack',
  'word',
  'soft',
  'typical',
  'stiff',
  'meets',
  'margin',
  'weight kg',
  'cost',
  'currency',
  'thickest seam m',
  'pieces',
  'to cut',
];

/** Every settled stack as a table (CSV, RFC 4180; SI), in the order of the criterion. */
export function chooseCsv(r: ChooseReport): string {
  const rows = r.settled.map((s) => {
    const rank = r.ranked.findIndex((k) => k.place === s.place) + 1,
      by = s.whole?.byBand ?? {};
    return [
      rank > 0 ? String(rank) : '',
      String(s.place),
      s.name,
      s.word,
      by.low ?? '',
      by.mid ?? '',
      by.high ?? '',
      s.side === 'meets' ? 'yes' : s.side === null ? '' : 'no',
      s.margin === null ? '' : String(s.margin),
      String(s.weight),
      s.cost === null ? '' : String(s.cost),
      r.currency,
      String(s.bulk),
      String(s.layers),
      s.cut.map(cutWords).join(', '),
    ];
  });
  return `${[COLUMNS, ...rows].map((row) => row.map(shelfCell).join(',')).join('\r\n')}\r\n`;
}
