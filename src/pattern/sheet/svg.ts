import { escapeXml } from '../../units/index.ts';
import { font } from './font.ts';
import { INKS, n } from './ink.ts';
import type { Sheet, SheetLine } from './types.ts';

const path = ({ points, closed }: SheetLine): string => `M${points.map((p) => `${n(p[0])} ${n(p[1])}`).join('L')}${closed ? 'Z' : ''}`;

/** A pen as attributes: what reads no style sheets (cutters, plotters) draws the same. */
function pen(ink: SheetLine['ink']): string {
  const { width, dash, grey } = INKS[ink];
  const shade = Math.round(255 * grey);
  return `fill="none" stroke="rgb(${shade},${shade},${shade})" stroke-width="${width}"${dash.length > 0 ? ` stroke-dasharray="${dash.join(' ')}"` : ''}`;
}

/**
 * The sheet as SVG, 1 user unit = 1 mm, one group per piece and in it one per pen (class cut, stitch, fold, mark, grain). The letters' font is inside, so that
 * words take the room that they were given. Same sheet, same bytes.
 */
export function sheetSvg(sheet: Sheet): string {
  const numbers = [-1, ...sheet.laid.map((l) => l.number)];
  const groups = numbers.map((number) => {
    const own = sheet.lines.filter((l) => l.piece === number);
    const name = sheet.laid.find((l) => l.number === number)?.piece.name;
    const pens = (Object.keys(INKS) as SheetLine['ink'][]).flatMap((ink) => {
      const lines = own.filter((l) => l.ink === ink);
      return lines.length > 0
        ? [`<g class="${ink}" ${pen(ink)}>${lines.map((l) => `<path d="${path(l)}"><title>${escapeXml(l.what)}</title></path>`).join('\n')}</g>`]
        : [];
    });
    const words = sheet.texts
      .filter((t) => t.piece === number)
      .map((t) => `<text x="${n(t.x)}" y="${n(t.y)}" font-size="${n(t.size)}">${escapeXml(t.text)}</text>`)
      .join('\n');
    return `<g${name === undefined ? ' class="sheet"' : ` class="piece" id="piece-${number}" aria-label="${escapeXml(name)}"`}>${pens.join('\n')}${words}</g>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${n(sheet.width)}mm" height="${n(sheet.height)}mm" viewBox="0 0 ${n(sheet.width)} ${n(sheet.height)}" font-family="'Pattern Letters','Noto Sans',sans-serif" role="img" aria-label="${escapeXml(`Pattern of ${sheet.title}, full size`)}">
<style>@font-face{font-family:'Pattern Letters';src:url(data:font/ttf;base64,${font().base64}) format('truetype')}</style>
<rect width="${n(sheet.width)}" height="${n(sheet.height)}" fill="#fff"/>
${groups.join('\n')}
</svg>
`;
}
