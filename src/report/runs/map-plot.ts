/** Verdicts over two parameters as a picture: every cell says its word and has its own pattern, so that nothing hangs on colour. */
import { escapeXml } from '../../units/index.ts';
import { FONT_ATTRIBUTES, fitLines, px, rect, text } from '../picture/svg.ts';
import { INK, MUTED, PAPER, RULE } from '../picture/tokens.ts';
import { isWorse, SEVERITY } from '../severity.ts';
import type { VerdictWord } from '../types.ts';
import { axisTitle, columnsOf } from './columns.ts';
import type { Axis, PlannedRun } from './types.ts';

const CELL = { wide: 104, high: 58 } as const;
const LEFT = 150;
const TOP = 84;

type Seen = VerdictWord | 'cannot be made';
const WORDS: readonly Seen[] = [...SEVERITY, 'cannot be made'];

/** Ink on paper for each word: none where it holds, the denser the worse. */
const MARKS: Readonly<Record<Seen, string>> = {
  holds: '',
  'hangs true': '',
  softens: '<circle cx="6" cy="6" r="1.5"/>',
  'near its limit': '<path d="M0 6h4"/>',
  'stands until touched': '<path d="M6 0v12"/>',
  'hangs true until touched': '<path d="M6 0v12"/>',
  'depends on the swatch': '<path d="M0 0l12 12M12 0l-12 12"/>',
  slumps: '<path d="M-3 3l6 -6M0 12l12 -12M9 15l6 -6"/>',
  'lies flat': '<path d="M-3 3l6 -6M0 12l12 -12M9 15l6 -6M-3 9l12 -12M3 15l12 -12"/>',
  'no verdict': '<path d="M0 6h12"/>',
  'cannot be made': '<path d="M2 2l8 8M10 2l-8 8"/>',
};
const idOf = (word: Seen): string => `w${WORDS.indexOf(word)}`;
const pattern = (word: Seen): string =>
  `<pattern id="${idOf(word)}" width="12" height="12" patternUnits="userSpaceOnUse"><g stroke="${INK}" fill="${INK}" stroke-width="1.2" opacity=".45">${MARKS[word]}</g></pattern>`;

const seenOf = (r: PlannedRun): Seen => r.word ?? 'cannot be made';

/** The word that most runs of a cell have, of several the worst, and how many have it. */
function wordOf(runs: readonly PlannedRun[]): { readonly word: Seen; readonly count: number } {
  const counts = WORDS.map((word) => ({ word, count: runs.filter((r) => seenOf(r) === word).length }));
  return counts.reduce((a, b) => (b.count > a.count || (b.count === a.count && worse(b.word, a.word)) ? b : a));
}
const worse = (a: Seen, b: Seen): boolean => a === 'cannot be made' || (b !== 'cannot be made' && isWorse(a, b));

/** A pair of values of two axes: the word that most of its runs have, how many have it, and how many runs there are. */
export interface VerdictCell {
  readonly word: VerdictWord | 'cannot be made';
  readonly count: number;
  readonly of: number;
}

/** The verdicts over two axes as words, for a table: labels across, and rows from the least value of the one upward; a cell without runs is null. Drawn figures in six stretches. */
export function verdictCells(
  across: Axis,
  up: Axis,
  runs: readonly PlannedRun[],
): { readonly columns: readonly string[]; readonly rows: readonly { readonly label: string; readonly cells: readonly (VerdictCell | null)[] }[] } {
  const columns = columnsOf(across, runs),
    rows = columnsOf(up, runs).map((row) => {
      const own = new Set(row.runs.map((r) => r.run));
      const cells = columns.map((column) => {
        const list = column.runs.filter((r) => own.has(r.run));
        return list.length === 0 ? null : { ...wordOf(list), of: list.length };
      });
      return { label: row.label, cells };
    });
  return { columns: columns.map((c) => c.label), rows };
}

/**
 * A cell for every pair of values of two axes; drawn figures in six stretches. A cell says its word, and where its runs differ how many have it. Parameters: title; the axis across and the
 * one upward; runs of one option and stance. Returns SVG text.
 */
export function verdictMap(title: string, across: Axis, up: Axis, runs: readonly PlannedRun[]): string {
  const { columns, rows: upward } = verdictCells(across, up, runs),
    rows = [...upward].reverse(),
    used = WORDS.filter((w) => runs.some((r) => seenOf(r) === w)),
    [wide, foot] = [Math.max(LEFT + columns.length * CELL.wide + 24, 460), TOP + rows.length * CELL.high],
    high = foot + 76 + 24 * used.length;
  const cells = rows.flatMap((row, j) => row.cells.map((cell, i) => drawnCell(cell, LEFT + i * CELL.wide, TOP + j * CELL.high)));
  const label = (words: string, x: number, y: number, anchor: 'middle' | 'end'): string => text(x, y, words, { size: 12, anchor });
  const legend = used.map((word, i) => {
    const y = foot + 58 + 24 * i;
    return `${box(16, y, 28, 18, word)}${text(54, y + 14, `${word}: ${runs.filter((r) => seenOf(r) === word).length}`, { size: 13 })}`;
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${px(wide)}" height="${px(high)}" viewBox="0 0 ${px(wide)} ${px(high)}" role="img" aria-label="${escapeXml(`Verdicts of ${title} over ${across.name} and ${up.name}`)}" ${FONT_ATTRIBUTES}>`,
    `<defs>${used.map(pattern).join('')}</defs>${rect(0, 0, wide, high, PAPER)}`,
    ...fitLines(title, wide - 32, 15, 2).map((t, i) => text(16, 24 + 18 * i, t, { size: 15, weight: 600 })),
    text(16, TOP - 16, `${axisTitle(up)}, upward`, { size: 13, fill: MUTED }),
    ...cells,
    ...rows.map((r, j) => label(r.label, LEFT - 10, TOP + (j + 0.5) * CELL.high + 4, 'end')),
    ...columns.map((c, i) => label(c, LEFT + (i + 0.5) * CELL.wide, foot + 20, 'middle')),
    text(LEFT, foot + 42, axisTitle(across), { size: 13, fill: MUTED }),
    ...legend,
    '</svg>\n',
  ].join('');
}

const box = (x: number, y: number, w: number, h: number, word: Seen): string =>
  `${rect(x, y, w, h, PAPER)}<rect x="${px(x)}" y="${px(y)}" width="${px(w)}" height="${px(h)}" fill="url(#${idOf(word)})" stroke="${RULE}"/>`;

function drawnCell(cell: VerdictCell | null, x: number, y: number): string {
  if (cell === null) return `<rect x="${px(x)}" y="${px(y)}" width="${CELL.wide}" height="${CELL.high}" fill="none" stroke="${RULE}" stroke-dasharray="3 3"/>`;
  const { word, count, of } = cell,
    lines = [...fitLines(word, CELL.wide - 16, 12, 2), ...(of === count ? [] : [`in ${count} of ${of}`])],
    first = y + CELL.high / 2 - (lines.length - 1) * 7.5 + 4,
    room = Math.max(...lines.map((l) => 6.8 * l.length)) + 8;
  return [
    box(x, y, CELL.wide, CELL.high, word),
    // Words stand on plain paper, not on lines.
    rect(x + CELL.wide / 2 - room / 2, first - 13, room, 15 * lines.length + 4, PAPER, 3),
    ...lines.map((l, i) => text(x + CELL.wide / 2, first + 15 * i, l, { size: 12, anchor: 'middle' })),
  ].join('');
}
