import { bentStrip } from '../../material/index.ts';
import { formatMass, trimmed } from '../../units/index.ts';
import { givesWay, unaidedHeight } from '../band.ts';
import { leadRun } from '../judge.ts';
import { apartOf, cellOf, fallen, markLines, type Row, rowsOf } from '../rows.ts';
import type { BandRun, Result } from '../types.ts';
import { evidenceTag, length, pipsLine } from '../words.ts';
import { fitLines, px, rect, text, textWidth } from './svg.ts';
import { BAND, INK, MUTED, RULE } from './tokens.ts';

/** Heights of the verdict block and of one row of figures, px. */
export const ROW = 34;
const SIGN = 26;

/** Rows under the picture, those that apply to at least one option. */
export function pictureRows(results: readonly Result[]): readonly Row[] {
  return rowsOf(results[0]).filter((row) => row.limit !== '' && results.some((r) => row.value(leadRun(r.runs)) !== '-'));
}

/** The drooping strip: a clamped strip as long as the wall that gives way (or stands worst), bent by its own weight at its own angle. */
function paintSign(x: number, y: number, standNumber: number): string {
  const points = bentStrip(standNumber, 16).map(([a, d]) => `${px(x + 9 + a * SIGN)} ${px(y + d * SIGN)}`);
  return [
    `<path d="M${px(x)} ${px(y + 4)}h9v${px(SIGN)}" fill="none" stroke="#9aa5a3" stroke-width="1.4"/>`,
    `<path d="M${px(x)} ${px(y)}L${points.join('L')}" fill="none" stroke="${INK}" stroke-width="3.2" stroke-linecap="round" stroke-linejoin="round"/>`,
  ].join('');
}

/** Height that the verdict block of one column needs, px. */
export function verdictHeight(result: Result, width: number): number {
  return 28 + 30 * wordLines(result, width).length + 20 * reasonLines(result, width).length + 14;
}

const wordLines = (r: Result, width: number): string[] => fitLines(r.verdict.word, width - 64, 22, 3);
const reasonLines = (r: Result, width: number): string[] => [
  ...(r.verdict.testSwatch ? fitLines(pipsLine(r.verdict), width - 28, 14.5) : []),
  ...fitLines(`${r.verdict.reason} ${r.verdict.wantedReason}`, width - 28, 14.5),
];

/** Verdict as sign, word and sentence. x, y: upper left corner of the column's block. */
export function paintVerdict(result: Result, x: number, y: number, width: number): string {
  const lead = leadRun(result.runs);
  const wall = givesWay(lead);
  const words = wordLines(result, width);
  const indent = wall === null ? 0 : 46;
  const parts = wall === null ? [] : [paintSign(x, y + 16, wall.standNumber)];
  words.forEach((w, i) => {
    parts.push(text(x + indent, y + 38 + 30 * i, w, { size: 22, weight: 650 }));
  });
  reasonLines(result, width).forEach((l, i) => {
    parts.push(text(x, y + 38 + 30 * words.length + 20 * i, l, { size: 14.5, fill: MUTED }));
  });
  return parts.join('');
}

/** One figure: value, grey difference to the first option, and the low / mid / high bar. */
export function paintCell(row: Row, result: Result, first: Result, x: number, y: number, width: number): string {
  const lead = leadRun(result.runs);
  const value = cellOf(row, result, lead);
  // Beside the figures, not at the far end of a wide column, and in one line down the column.
  const barX = x + Math.min(232, width - 28 - BAR);
  let difference = result === first ? '' : apartOf(row, result, lead, first, leadRun(first.runs));
  // The value before it has the unit already.
  if (x + textWidth(`${value}${difference}`, 15) + 28 > barX) difference = difference.replace(/ mm$/, '');
  const parts = [text(x, y + 22, value, { size: 15 })];
  let at = x + textWidth(value, 15) + 8;
  if (difference !== '') {
    parts.push(text(at, y + 22, difference, { size: 15, fill: MUTED }));
    at += textWidth(difference, 15) + 8;
  }
  // Of heaps none is the middle.
  const heap = row.range !== undefined && fallen(result).includes(lead);
  if (barX > at) parts.push(paintBar(row, result.runs, barX, y + 17, !heap));
  return parts.join('');
}

const BAR = 84;

/** Low to high as a thick stretch, the middle as a tick, on 0 to 100 %. */
function paintBar(row: Row, runs: readonly BandRun[], x: number, y: number, tick: boolean): string {
  const all = runs.map(row.bar).filter((v): v is number => v !== null);
  const mid = row.bar(leadRun(runs));
  if (mid === null || all.length < 2) return '';
  const low = Math.min(...all) * BAR;
  const high = Math.max(...all) * BAR;
  return [
    rect(x, y - 4, BAR, 8, '#e4eae7', 4),
    rect(x + Math.min(low, BAR - 5), y - 4, Math.max(5, high - low), 8, BAND, 4),
    ...(tick ? [rect(Math.min(x + BAR - 2, x + mid * BAR - 1), y - 8, 2.2, 16, INK)] : []),
  ].join('');
}

/** Rows that are not measures of shape: weight, what the stack can do, and the marks of a piece that has no walls. Each: label, then text and tag per option. */
export function extraRows(results: readonly Result[]): { label: string; cells: { value: string; difference: string; tag: string }[] }[] {
  // Of the figures shown, so that they add up.
  const grams = (r: Result) => Math.round(r.massKg * 1000) - Math.round(results[0].massKg * 1000);
  const signed = (g: number) => (g === 0 ? '' : `${g > 0 ? '+' : ''}${trimmed(g, 0)} g`);
  const rows = [{ label: 'weight', cells: results.map((r) => ({ value: formatMass(r.massKg), difference: signed(grams(r)), tag: evidenceTag(r.evidence) })) }];
  const walls = results.map((r) => givesWay(leadRun(r.runs)));
  if (walls.some((w) => w !== null)) {
    rows.push({
      label: 'stack stands unaided',
      cells: results.map((r, i) => {
        const wall = walls[i];
        return wall === null ? { value: '-', difference: '', tag: '' } : { value: length(unaidedHeight(wall)), difference: '', tag: tagOf(r, wall.name) };
      }),
    });
  }
  if (walls.every((w) => w === null)) {
    const names = markLines(results[0], leadRun(results[0].runs)).map((m) => m.name);
    for (const name of names.slice(0, 6)) {
      // Two rows: one sentence would be wider than its column.
      const marks = results.map((r) => markLines(r, leadRun(r.runs)).find((m) => m.name === name));
      rows.push({ label: name, cells: marks.map((m) => ({ value: m?.down ?? '-', difference: '', tag: '' })) });
      rows.push({ label: '    sideways', cells: marks.map((m) => ({ value: m?.side ?? '-', difference: '', tag: '' })) });
    }
  }
  return rows;
}

const tagOf = (r: Result, panel: string): string => evidenceTag(r.stacks.find((s) => s.panel === panel && s.region === null)?.evidence ?? r.evidence);

/** A small framed word: what a figure rests on. */
export function paintTag(x: number, y: number, word: string): string {
  const w = textWidth(word, 12.5) + 12;
  return `<rect x="${px(x)}" y="${px(y - 14)}" width="${px(w)}" height="19" rx="4" fill="none" stroke="${RULE}"/>${text(x + 6, y, word, { size: 12.5, fill: MUTED })}`;
}
