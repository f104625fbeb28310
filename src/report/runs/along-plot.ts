/** Heights with their bands, and the share that holds, against one parameter. */
import { escapeXml } from '../../units/index.ts';
import { FONT_ATTRIBUTES, fitLines, line, px, rect, text } from '../picture/svg.ts';
import { BAND, INK, MUTED, PAPER, RULE } from '../picture/tokens.ts';
import { axisTitle, type Column, columnsOf, quantile } from './columns.ts';
import type { Axis, PlannedRun } from './types.ts';
import { holdShare } from './wilson.ts';

const WIDTH = 760;
const LEFT = 74;
const RIGHT = 40;
const TALL = 190;
const FIRST = 92;
const GAP = 66;

/** Share of the figures that lie in the band of a plot. */
const INSIDE = 0.8;

/** All heights of a column, of every end of the band that was run, sorted. */
const heightsOf = (c: Column): number[] =>
  c.runs
    .flatMap((r) => Object.values(r.bands).map((b) => b.heightKept))
    .filter((h) => h !== null)
    .sort((a, b) => a - b);

/**
 * Two plots under one another as SVG text. Above: the middle height kept (a line with dots), with the band that four fifths of the heights lie in; of a hung bag, which keeps none, the plot is left out. Below: the share of runs
 * that hold, with the counts and, where runs were drawn by chance, Wilson's 95 % interval. Drawn figures in six stretches. Parameters: title; axis; runs of one option
 * and stance; whether they were drawn.
 */
export function alongPlot(title: string, axis: Axis, runs: readonly PlannedRun[], drawn: boolean): string {
  const columns = columnsOf(axis, runs),
    heights = columns.map((c) => ({ c, list: heightsOf(c) })).filter((h) => h.list.length > 0),
    second = heights.length === 0 ? FIRST : FIRST + TALL + GAP,
    high = second + TALL + 72,
    place = (i: number): number => LEFT + ((i + 0.5) / columns.length) * (WIDTH - LEFT - RIGHT);
  const x = (c: Column): number => place(columns.indexOf(c));
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${high}" viewBox="0 0 ${WIDTH} ${high}" role="img" aria-label="${escapeXml(`${title}: height kept and share that holds against ${axis.name}`)}" ${FONT_ATTRIBUTES}>`,
    rect(0, 0, WIDTH, high, PAPER),
    ...fitLines(title, WIDTH - 32, 15, 2).map((t, i) => text(16, 26 + 19 * i, t, { size: 15, weight: 600 })),
    ...(heights.length === 0 ? [] : [heightPlot(heights, x, FIRST)]),
    sharePlot(columns, x, second, drawn),
    ...columns.map((c) => text(x(c), second + TALL + 22, c.label, { size: 12, anchor: 'middle' })),
    text((LEFT + WIDTH - RIGHT) / 2, second + TALL + 48, axisTitle(axis), { size: 13, fill: MUTED, anchor: 'middle' }),
    '</svg>\n',
  ].join('');
}

/** Marks, frame and name of a plot from 0 to `most`; the function from a value to its place. */
function frame(words: string, top: number, most: number): { readonly svg: string; readonly up: (v: number) => number } {
  const up = (v: number): number => top + TALL - (v / most) * TALL,
    marks = [0, 0.25, 0.5, 0.75, 1].filter((m) => m <= most);
  const svg = [
    text(16, top - 14, words, { size: 13, fill: MUTED }),
    ...marks.map((m) => `${line(LEFT, up(m), WIDTH - RIGHT, up(m), RULE)}${text(LEFT - 8, up(m) + 4, `${100 * m} %`, { size: 12, anchor: 'end' })}`),
    line(LEFT, top, LEFT, top + TALL, INK),
    line(LEFT, top + TALL, WIDTH - RIGHT, top + TALL, INK),
  ].join('');
  return { svg, up };
}

function heightPlot(list: readonly { readonly c: Column; readonly list: readonly number[] }[], x: (c: Column) => number, top: number): string {
  const most = Math.max(1, ...list.map((h) => h.list.at(-1)!)),
    { svg, up } = frame('height kept: middle, and the band that four fifths lie in', top, most),
    ends = list.map((h) => ({ x: x(h.c), low: quantile(h.list, (1 - INSIDE) / 2), mid: quantile(h.list, 0.5), high: quantile(h.list, (1 + INSIDE) / 2) })),
    path = (points: readonly (readonly [number, number])[]): string => points.map(([a, b], i) => `${i === 0 ? 'M' : 'L'}${px(a)} ${px(b)}`).join('');
  // A single column has no width: its band is a bar.
  const band =
    ends.length === 1
      ? rect(ends[0]!.x - 7, up(ends[0]!.high), 14, Math.max(1, up(ends[0]!.low) - up(ends[0]!.high)), BAND)
      : `<path d="${path([...ends.map((e) => [e.x, up(e.high)] as const), ...[...ends].reverse().map((e) => [e.x, up(e.low)] as const)])}Z" fill="${BAND}" opacity=".45"/>`;
  return [
    svg,
    band,
    `<path d="${path(ends.map((e) => [e.x, up(e.mid)] as const))}" stroke="${INK}" stroke-width="1.8" fill="none"/>`,
    ...ends.map((e) => `<circle cx="${px(e.x)}" cy="${px(up(e.mid))}" r="3.6" fill="${INK}"/>`),
  ].join('');
}

function sharePlot(columns: readonly Column[], x: (c: Column) => number, top: number, drawn: boolean): string {
  const { svg, up } = frame(drawn ? 'share that holds, with its 95 % interval' : 'share that holds', top, 1);
  return [
    svg,
    ...columns.map((c) => {
      const s = holdShare(c.runs, drawn),
        at = x(c);
      if (s.of === 0) return text(at, top + TALL - 8, 'no verdict', { size: 12, fill: MUTED, anchor: 'middle' });
      const p = s.holds / s.of,
        whisker =
          s.low === undefined || s.high === undefined
            ? ''
            : `<path d="M${px(at)} ${px(up(s.low))}V${px(up(s.high))}M${px(at - 6)} ${px(up(s.low))}h12M${px(at - 6)} ${px(up(s.high))}h12" stroke="${INK}" stroke-width="1.4" fill="none"/>`;
      return `${whisker}<circle cx="${px(at)}" cy="${px(up(p))}" r="4.2" fill="${INK}"/>${text(at + 9, up(p) + (p > 0.9 ? 15 : -7), `${s.holds}/${s.of}`, { size: 12 })}`;
    }),
  ].join('');
}
