import { escapeXml, formatMm } from '../../units/index.ts';
import { textWidth } from '../sheet/font.ts';
import { n } from '../sheet/ink.ts';
import { laidLoops } from './nest.ts';
import type { ListedMaterial } from './types.ts';

const BORDER = 40;

/**
 * A picture of a lay to lay out by, in millimetres: the roll from above, its length to the right, each piece's outline and name, and a scale every 100 mm. Empty
 * where the material has no lay (leather).
 */
export function laySvg({ name, lay, items }: ListedMaterial, title: string): string {
  if (!lay) return '';
  const [long, wide] = [1000 * lay.length, 1000 * lay.width];
  // Along the roll to the right, across it downward.
  const at = ([x, y]: readonly [number, number]): string => `${n(BORDER + 1000 * y)} ${n(BORDER + 60 + 1000 * x)}`;
  const shapes = lay.laid.map((l, k) => {
    const loops = laidLoops(items, l);
    const xs = loops.flat().map((p) => p[1] * 1000);
    const ys = loops.flat().map((p) => p[0] * 1000);
    const [cx, cy] = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
    const words = `${items[l.item]!.number ?? k + 1}. ${l.name}${l.mirrored ? ' (mirrored)' : ''}`;
    const room = Math.max(...xs) - Math.min(...xs) - 8;
    const size = Math.min(22, (22 * room) / Math.max(1, textWidth(words, 22)), Math.max(4, (Math.max(...ys) - Math.min(...ys)) / 2));
    return `<path class="piece" fill="#f3ead2" stroke="#15201f" stroke-width="1.5" fill-rule="evenodd" d="${loops.map((loop) => `M${loop.map(at).join('L')}Z`).join('')}"/><text x="${n(BORDER + cx - textWidth(words, size) / 2)}" y="${n(BORDER + 60 + cy + size * 0.35)}" font-size="${n(size)}">${escapeXml(words)}</text>`;
  });
  const ticks = Array.from({ length: Math.floor(long / 100) + 1 }, (_, i) => `M${n(BORDER + 100 * i)} ${n(BORDER + 60)}v${i % 5 === 0 ? -14 : -7}`).join('');
  const told = `${name}: ${formatMm(lay.length, 0)} of a width of ${formatMm(lay.width, 0)}, ${(100 * lay.used).toFixed(0)} % used. Grain along the roll.`;
  const width = Math.max(long, 1.15 * textWidth(told, 22), 1.15 * textWidth(title, 26)) + 2 * BORDER;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(width)} ${n(wide + 2 * BORDER + 60)}" role="img" aria-label="${escapeXml(`Lay of ${name}`)}" font-family="'Noto Sans',system-ui,sans-serif">
<rect width="100%" height="100%" fill="#fff"/><text x="${BORDER}" y="30" font-size="26">${escapeXml(title)}</text><text x="${BORDER}" y="62" font-size="22">${escapeXml(told)}</text>
<rect class="roll" fill="#e9ece7" stroke="#5b6967" x="${BORDER}" y="${BORDER + 60}" width="${n(long)}" height="${n(wide)}"/><path class="tick" stroke="#5b6967" stroke-width="1.5" fill="none" d="${ticks}"/>
${shapes.join('\n')}
</svg>
`;
}
