import { anchorPlace, patchOutline, polygonOf, strapFamily } from '../../bag/index.ts';
import type { Anchor, Bag, Point2, Strap } from '../../bag/types.ts';
import { escapeXml } from '../../units/index.ts';
import { FONT, INK, MUTED } from '../picture/tokens.ts';
import { distanceWords } from './words.ts';

/** Sheets, mm: A4 (ISO 216) and US letter (8.5 x 11 in). */
const PAPERS = { a4: [210, 297], letter: [215.9, 279.4] } as const;
/** Paper that a template is printed on. */
export type Paper = keyof typeof PAPERS;

/** Margin that printers leave free, room for words above and for the bars below, mm. */
const MARGIN = 12;
const HEAD = 34;
const FOOT = 18;
/** Of the panel's edges, from the window's own, mm. */
const EDGE = 8;
const WORDS = 3.6;
/** Letters of a line of WORDS that fit between the margins of the narrower paper. */
const LINE = 92;

const n = (v: number): string => String(Number(v.toFixed(3)));

/** One sheet to print: which anchors it is for, and its SVG in millimetres. */
export interface CornerSheet {
  readonly ends: readonly string[];
  readonly svg: string;
}

/**
 * Full-size templates of the panel's corner with an anchor patch and its stitching, one sheet for each unlike end of a strap and its copies: SVG of the sheet in
 * millimetres, with a bar of 50 mm. What lies off the sheet is cut off. Drawn at the stitch line, face up. Deterministic.
 */
export function cornerSheets(bag: Bag, strap: string, paper: Paper): readonly CornerSheet[] {
  const sheets = new Map<string, { strap: Strap; end: 0 | 1; ends: string[] }>();
  for (const s of strapFamily(bag, strap))
    for (const e of [0, 1] as const) {
      const place = anchorPlace(bag, s, e),
        { kind, width, height } = s.anchors[e],
        // A left and a right end at the same distances are one sheet: it is turned over.
        key = JSON.stringify([kind, ...[width, height, place.fromSide, place.fromTop].map((v) => Math.round(v * 1e5))]);
      const known = sheets.get(key),
        named = `${place.side} of ${s.anchors[e].panel}`;
      if (known) known.ends.push(named);
      else sheets.set(key, { strap: s, end: e, ends: [named] });
    }
  return [...sheets.values()].map((s) => ({ ends: s.ends, svg: paint(bag, s.strap, s.end, s.ends, paper) }));
}

function paint(bag: Bag, strap: Strap, end: 0 | 1, ends: readonly string[], paper: Paper): string {
  const [wide, tall] = PAPERS[paper],
    anchor = strap.anchors[end],
    place = anchorPlace(bag, strap, end),
    panel = bag.panels.find((p) => p.name === anchor.panel)!,
    mirror = place.side === 'right' ? -1 : 1;
  const room = { x: MARGIN, y: MARGIN + HEAD, w: wide - 2 * MARGIN, h: tall - 2 * MARGIN - HEAD - FOOT };
  // The side and the edge above lie by the window's corner where the patch then still fits, else the patch lies in its middle.
  const side = 1000 * place.fromSide,
    top = 1000 * (place.fromTop + anchor.height / 2),
    fits = side + 500 * anchor.width + EDGE < room.w,
    cx = room.x + (fits ? EDGE + side : room.w / 2),
    cy = room.y + EDGE + Math.min(top, room.h - EDGE - 500 * anchor.height);
  // A right end is drawn from the panel's back, so that both lie to the left on the sheet.
  const at = ([x, y]: Point2): Point2 => [cx + mirror * 1000 * (x - anchor.at[0]), cy - 1000 * (y - anchor.at[1])];
  const way = (points: readonly Point2[]): string => `M${points.map((p) => at(p).map(n).join(' ')).join('L')}Z`;
  const words = (x: number, y: number, content: string, more = ''): string => `<text x="${n(x)}" y="${n(y)}" fill="${INK}"${more}>${escapeXml(content)}</text>`;
  const shapes = [panel.outline, ...panel.holes].map((edges) => way(polygonOf(edges))).join('');
  const left = cx - side,
    above = cy - top,
    patchTop = cy - 500 * anchor.height;
  const dimensions = [
    ...(fits ? [`M${n(left)} ${n(cy)}H${n(cx)}`] : []),
    `M${n(cx)} ${n(above)}V${n(patchTop)}`,
    // The strap's centre line, down through the patch.
    `M${n(cx)} ${n(patchTop)}V${n(cy + 500 * anchor.height + 6)}`,
  ].join('');
  const told = wrapped([
    `For the ${ends.join(', ')}${ends.length > 1 ? ' (turn it over for the other side)' : ''}.`,
    `${distanceWords(place.fromSide)} from the side to the strap's centre line, ${distanceWords(place.fromTop)} from the top to the patch.${fits ? '' : ' The side lies off this sheet.'}`,
    'Print at 100 %, not fitted to the page, and measure the bar. Drawn at the stitch line: add your seam allowance.',
  ]);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}mm" height="${tall}mm" viewBox="0 0 ${wide} ${tall}" role="img" aria-label="${escapeXml(`Corner of ${anchor.panel} with the patch of strap ${strap.name}`)}" font-family="${FONT}" font-size="${WORDS}"><defs><clipPath id="sheet"><rect x="${n(room.x)}" y="${n(room.y)}" width="${n(room.w)}" height="${n(room.h)}"/></clipPath></defs><rect width="${wide}" height="${tall}" fill="#fff"/>
${words(MARGIN, MARGIN + 5, `${bag.name}: strap ${strap.name}, corner template, full size`, ' font-size="5" font-weight="600"')}
${told.map((line, i) => words(MARGIN, MARGIN + 11 + 4.6 * i, line)).join('')}
<g clip-path="url(#sheet)"><path class="panel" d="${shapes}" fill="none" stroke="${INK}" stroke-width=".4"/><path class="patch" d="${way(patchOutline(anchor))}" fill="none" stroke="${INK}" stroke-width=".35" stroke-dasharray="3 1"/>${stitching(anchor, way, at)}<path d="${dimensions}" fill="none" stroke="${MUTED}" stroke-width=".25" stroke-dasharray="6 1.5 1 1.5"/></g>
${bar(tall)}</svg>
`;
}

/** Sentences broken into lines between words. */
function wrapped(sentences: readonly string[]): string[] {
  const lines: string[] = [];
  for (const sentence of sentences) {
    let line = '';
    for (const word of sentence.split(' ')) {
      if (line !== '' && line.length + 1 + word.length > LINE) {
        lines.push(line);
        line = word;
      } else line = line === '' ? word : `${line} ${word}`;
    }
    lines.push(line);
  }
  return lines;
}

/** The stitching of an anchor, as it is sewn: once round, with a cross, a row, or a hole. */
function stitching(anchor: Anchor, way: (p: readonly Point2[]) => string, at: (p: Point2) => Point2): string {
  const corners = patchOutline(anchor),
    line = (d: string): string => `<path class="stitches" d="${d}" fill="none" stroke="${INK}" stroke-width=".3" stroke-dasharray="1.8 .9"/>`;
  if (anchor.kind === 'rivet' || anchor.kind === 'ring loop') {
    const [x, y] = at(anchor.at);
    return `<path class="stitches" d="M${n(x - 4)} ${n(y)}h8M${n(x)} ${n(y - 4)}v8" stroke="${INK}" stroke-width=".3"/>`;
  }
  const [a, b, c, d] = corners.map((p) => at(p).map(n).join(' '));
  if (anchor.kind === 'row') return line(`M${d}L${c}`);
  return line(`${way(corners)}${anchor.kind === 'box with cross' ? `M${a}L${c}M${b}L${d}` : ''}`);
}

/** 50 mm of the sheet, and 2 in. */
function bar(tall: number): string {
  const y = tall - MARGIN - 6;
  const one = (x: number, long: number, parts: number, label: string): string =>
    `<path class="bar" d="M${n(x)} ${n(y)}h${n(long)}${Array.from({ length: parts + 1 }, (_, i) => `M${n(x + (long * i) / parts)} ${n(y)}v-2.5`).join('')}" fill="none" stroke="${INK}" stroke-width=".3"/><text x="${n(x)}" y="${n(y + 4.5)}" fill="${MUTED}">${label}</text>`;
  return one(MARGIN, 50, 5, '50 mm on this sheet') + one(MARGIN + 62, 50.8, 4, '2 in on this sheet');
}
