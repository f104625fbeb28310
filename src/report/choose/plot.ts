import { escapeXml } from '../../units/index.ts';
import { FONT_ATTRIBUTES, line, px, rect, text } from '../picture/svg.ts';
import { INK, MUTED, PAPER, RULE } from '../picture/tokens.ts';
import type { ChooseReport, SettledStack } from './types.ts';

const [WIDTH, HEIGHT, LEFT, TOP, RIGHT, BOTTOM] = [720, 460, 70, 56, 24, 56];

/** A place of the plot, px, with what stands there. */
interface PlotPoint {
  readonly place: number;
  readonly x: number;
  readonly y: number;
  readonly shape: 'ranked' | 'meets' | 'misses';
  /** Rank from 1 of those that are ranked; 0 of the rest. */ readonly rank: number;
  readonly name: string;
}

/** Round steps of an axis. */
function ticks(from: number, to: number): number[] {
  const raw = (to - from) / 5,
    digits = raw.toExponential().split('e'),
    unit = Number(`1e${digits[1]}`),
    step = [1, 2, 5, 10].map((k) => k * unit).find((s) => s >= raw)!;
  const out: number[] = [];
  for (let v = Math.ceil(from / step) * step; v <= to + 1e-12; v += step) out.push(Number(v.toPrecision(12)));
  return out;
}

/** Axes and places of the weight of every settled stack against its margin. */
function plotOf(r: ChooseReport) {
  const shown = r.settled.filter((s): s is SettledStack & { margin: number } => s.margin !== null);
  const weights = shown.map((s) => 1000 * s.weight),
    margins = [0, ...shown.map((s) => Math.max(-3, s.margin))];
  const span = (list: readonly number[], least: number): [number, number] => {
    const [a, b] = list.length === 0 ? [0, 1] : [Math.min(...list), Math.max(...list)];
    const room = Math.max(least, 0.08 * (b - a));
    return [a - room, b + room];
  };
  const [w0, w1] = span(weights, 5),
    [m0, m1] = span(margins, 0.1);
  const x = (w: number): number => LEFT + ((w - w0) / (w1 - w0)) * (WIDTH - LEFT - RIGHT),
    y = (m: number): number => HEIGHT - BOTTOM - ((m - m0) / (m1 - m0)) * (HEIGHT - TOP - BOTTOM);
  const points = shown.map((s): PlotPoint => {
    const rank = r.ranked.findIndex((k) => k.place === s.place) + 1;
    return {
      place: s.place,
      x: x(1000 * s.weight),
      y: y(Math.max(-3, s.margin)),
      shape: rank > 0 ? 'ranked' : s.side === 'meets' ? 'meets' : 'misses',
      rank,
      name: s.name,
    };
  });
  // Nothing settled is lighter and has more room to spare than what lies on this edge.
  const edge = [...shown]
    .sort((a, b) => a.weight - b.weight || b.margin - a.margin)
    .filter((s, i, all) => all.slice(0, i).every((t) => t.margin < s.margin))
    .map((s) => points.find((p) => p.place === s.place)!);
  return { width: WIDTH, height: HEIGHT, x, y, weights: ticks(w0, w1), margins: ticks(m0, m1), points, edge };
}

/** A mark by its shape, so that it is told apart without colour: a filled disc with its rank, a ring, a cross. */
function plotMark({ x, y, shape, rank }: PlotPoint): string {
  if (shape === 'ranked')
    return `<circle cx="${px(x)}" cy="${px(y)}" r="10" fill="${INK}"/>${text(x, y + 4.5, String(rank), { size: 13, weight: 700, anchor: 'middle', fill: PAPER })}`;
  if (shape === 'meets') return `<circle cx="${px(x)}" cy="${px(y)}" r="6" fill="none" stroke="${INK}" stroke-width="2"/>`;
  return `<path d="M${px(x - 5)} ${px(y - 5)}l10 10m0 -10l-10 10" stroke="${INK}" stroke-width="2" fill="none"/>`;
}

/** Weight against room to spare (the margin) of every settled stack (SVG): which is lighter, which has more to spare. */
export function choosePlot(r: ChooseReport): string {
  const p = plotOf(r);
  const zero = p.y(0);
  const axis = [
    ...p.weights.flatMap((w) => [
      line(p.x(w), TOP, p.x(w), HEIGHT - BOTTOM, RULE),
      text(p.x(w), HEIGHT - BOTTOM + 18, `${w} g`, { size: 12, anchor: 'middle', fill: MUTED }),
    ]),
    ...p.margins.flatMap((m) => [
      line(LEFT, p.y(m), WIDTH - RIGHT, p.y(m), RULE),
      text(LEFT - 8, p.y(m) + 4, `${Number((100 * m).toFixed(0))} %`, { size: 12, anchor: 'end', fill: MUTED }),
    ]),
  ];
  const edge =
    p.edge.length < 2
      ? ''
      : `<path class="edge" d="M${p.edge.map((e) => `${px(e.x)} ${px(e.y)}`).join('L')}" fill="none" stroke="${INK}" stroke-width="1.5" stroke-dasharray="2 4"/>`;
  // Names stand under the plot: beside the points they would lie on one another where stacks are alike.
  const named = p.points
    .filter((q) => q.rank > 0)
    .sort((a, b) => a.rank - b.rank)
    .map((q, i) => text(LEFT, HEIGHT + 18 * i, `${q.rank}  ${q.name.length > 92 ? `${q.name.slice(0, 91)}…` : q.name}`, { size: 12, fill: INK }));
  const high = HEIGHT + 18 * named.length;
  const marks = p.points.map((q) => `<g class="stack" data-place="${q.place}"><title>${escapeXml(q.name)}</title>${plotMark(q)}</g>`);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${high}" viewBox="0 0 ${WIDTH} ${high}" role="img" aria-label="${escapeXml(`Weight against room to spare of ${p.points.length} settled stacks`)}" ${FONT_ATTRIBUTES}>${rect(0, 0, WIDTH, high, PAPER)}${text(LEFT, 24, `${r.bag}: weight against room to spare`, { size: 15, weight: 700, fill: INK })}${text(LEFT, 42, `disc: ranked; ring: does as well; cross: does not. Dotted: none is lighter with more to spare. Lowest: -300 % or less.`, { size: 12, fill: MUTED })}${axis.join('')}${line(LEFT, zero, WIDTH - RIGHT, zero, INK)}${text(WIDTH - RIGHT, zero - 5, 'limit of "holds"', { size: 12, anchor: 'end', fill: INK })}${text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 12, 'weight as cut', { size: 13, anchor: 'middle', fill: INK })}<g transform="translate(18 ${px((TOP + HEIGHT - BOTTOM) / 2)}) rotate(-90)">${text(0, 0, 'room to spare: 100 % as drafted, 0 % on the limit', { size: 13, anchor: 'middle', fill: INK })}</g>${edge}${marks.join('')}${named.join('')}</svg>\n`;
}
