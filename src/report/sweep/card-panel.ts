import { type AnchorPlace, patchOutline, polygonOf } from '../../bag/index.ts';
import type { Anchor, Panel, Point2 } from '../../bag/types.ts';
import { escapeXml } from '../../units/index.ts';
import { FONT, INK, MUTED } from '../picture/tokens.ts';
import { distanceWords } from './words.ts';

/** Room for a panel on a sheet, mm: what A4 (210 x 297) and US letter (216 x 279) share inside 12 mm margins, less words and rulers. */
const ROOM: Point2 = [184, 205];
/** Scales at which a panel is drawn, 1:n. */
const SCALES = [1, 2, 4, 5, 10, 20, 50];
const WORDS = 3.4;
const HEAD = 8;
const FOOT = 15;

const n = (v: number): string => String(Number(v.toFixed(2)));

/**
 * One panel, face up, as a section with an SVG in millimetres of the sheet: outline at the stitch line, patches, dimension lines, and two rulers that
 * tell whether the printer kept the scale. names: every panel that looks so; marks: patches on it and where they lie.
 */
export function paintPanel(panel: Panel, names: readonly string[], marks: readonly { readonly anchor: Anchor; readonly place: AnchorPlace }[]): string {
  const outline = polygonOf(panel.outline),
    xs = outline.map((p) => p[0] * 1000),
    ys = outline.map((p) => p[1] * 1000),
    [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = SCALES.find((s) => (right - left) / s <= ROOM[0] && (high - low) / s <= ROOM[1]) ?? Math.ceil((right - left) / ROOM[0]);
  const wide = Math.max((right - left) / scale, 112) + 2,
    tall = (high - low) / scale + HEAD + FOOT;
  // Panel frame (m, y up) to the sheet (mm, y down).
  const at = ([x, y]: Point2): Point2 => [1 + (x * 1000 - left) / scale, HEAD + (high - y * 1000) / scale];
  const way = (points: readonly Point2[]): string => `M${points.map((p) => at(p).map(n).join(' ')).join('L')}Z`;
  const shapes = [panel.outline, ...panel.holes].map((edges) => way(polygonOf(edges))).join('');
  const who = `${names.length > 1 ? 'Panels' : 'Panel'} ${names.join(', ')}`;
  const title = scale === 1 ? 'full size when printed at 100 %' : `1:${scale} when printed at 100 %`;
  return `<section><h2>${escapeXml(who)}, face up, at the stitch line: ${title}</h2>
<svg xmlns="http://www.w3.org/2000/svg" width="${n(wide)}mm" height="${n(tall)}mm" viewBox="0 0 ${n(wide)} ${n(tall)}" role="img" aria-label="${escapeXml(`${who} with its anchors`)}" font-family="${FONT}" font-size="${WORDS}"><path d="${shapes}" fill="none" stroke="${INK}" stroke-width=".4"/>${marks.map((m) => paintMark(m.anchor, m.place, at, way)).join('')}${rulers(tall)}</svg></section>`;
}

function paintMark(anchor: Anchor, place: AnchorPlace, at: (p: Point2) => Point2, way: (points: readonly Point2[]) => string): string {
  const [cx, cy] = anchor.at,
    left = place.side === 'left',
    side = at([left ? cx - place.fromSide : cx + place.fromSide, cy]),
    centre = at(anchor.at),
    edge = at([cx, cy + anchor.height / 2 + place.fromTop]),
    top = at([cx, cy + anchor.height / 2]),
    below = at([cx, cy - anchor.height / 2]);
  const words = (x: number, y: number, content: string, where: string): string =>
    `<text x="${n(x)}" y="${n(y)}" fill="${INK}" text-anchor="${where}">${escapeXml(content)}</text>`;
  const dimension = `M${n(side[0])} ${n(side[1])}H${n(centre[0])}M${n(edge[0])} ${n(edge[1])}V${n(top[1])}`;
  const ends = `M${n(side[0])} ${n(side[1] - 1.2)}v2.4M${n(centre[0])} ${n(centre[1] - 1.2)}v2.4M${n(edge[0] - 1.2)} ${n(edge[1])}h2.4M${n(top[0] - 1.2)} ${n(top[1])}h2.4`;
  return `<path class="patch" d="${way(patchOutline(anchor))}" fill="none" stroke="${INK}" stroke-width=".35" stroke-dasharray="1.6 .8"/><path d="${dimension}${ends}" fill="none" stroke="${MUTED}" stroke-width=".25"/>${words(
    side[0] + (left ? 1 : -1),
    below[1] + WORDS + 1,
    distanceWords(place.fromSide),
    left ? 'start' : 'end',
  )}${words(edge[0], edge[1] - 1.5, `${distanceWords(place.fromTop)} down`, 'middle')}`;
}

/** 50 mm and 2 in of the sheet itself, whatever the panel's scale. */
function rulers(tall: number): string {
  const y = tall - 5;
  const bar = (x: number, long: number, parts: number, label: string): string => {
    const ticks = Array.from({ length: parts + 1 }, (_, i) => `M${n(x + (long * i) / parts)} ${n(y)}v-2`).join('');
    return `<path class="ruler" d="M${n(x)} ${n(y)}h${n(long)}${ticks}" fill="none" stroke="${INK}" stroke-width=".25"/><text x="${n(x)}" y="${n(y + WORDS + 0.6)}" fill="${MUTED}">${label}</text>`;
  };
  return bar(1, 50, 5, '50 mm on this sheet') + bar(58, 50.8, 4, '2 in on this sheet');
}
