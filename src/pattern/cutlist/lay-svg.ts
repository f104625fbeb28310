import { libm } from '../../numerics/index.ts';
import { escapeXml, formatMm } from '../../units/index.ts';
import { textWidth } from '../sheet/font.ts';
import { n } from '../sheet/ink.ts';
import { laidLoops } from './nest.ts';
import type { ListedMaterial } from './types.ts';

const BORDER = 40;

/** How the grain lies in a lay, in words: boards, felts and foams have none that a cutter keeps, and may lie across. */
export function grainWords({ lay, items }: Pick<ListedMaterial, 'lay' | 'items'>): string {
  const across = lay?.laid.some((l) => {
    const { warp } = items[l.item]!;
    return Math.abs(libm.cos((l.mirrored ? Math.PI - warp : warp) + l.turn)) > 0.5;
  });
  return across ? 'Some pieces lie across: this has no grain to keep' : 'Grain along the roll';
}

/**
 * A picture of a lay to lay out by, in millimetres: the roll from above, each piece's outline and name, and a scale every 100 mm of its length. The longer way of the
 * two lies across the picture, so that it prints large. Empty where the material has no lay (leather).
 */
export function laySvg({ name, lay, items }: ListedMaterial, title: string): string {
  if (!lay) return '';
  const [long, wide] = [1000 * (lay.sheet === undefined ? lay.length : lay.sheet * (lay.sheets ?? 1)), 1000 * lay.width];
  const downward = wide > long;
  const [across, down] = downward ? [wide, long] : [long, wide];
  const top = BORDER + 60;
  // From the roll (x across it, y along it, m) to the picture's own directions, mm.
  const turned = ([x, y]: readonly [number, number]): readonly [number, number] => (downward ? [1000 * x, 1000 * y] : [1000 * y, 1000 * x]);
  const shapes = lay.laid.map((l, k) => {
    const loops = laidLoops(items, l).map((loop) => loop.map(turned));
    const [xs, ys] = [loops.flat().map((p) => p[0]), loops.flat().map((p) => p[1])];
    const [cx, cy] = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
    const words = `${items[l.item]!.number ?? k + 1}. ${l.name}${l.mirrored ? ' (mirrored)' : ''}`;
    const room = Math.max(...xs) - Math.min(...xs) - 8;
    const size = Math.min(22, (22 * room) / Math.max(1, 1.15 * textWidth(words, 22)), Math.max(4, (Math.max(...ys) - Math.min(...ys)) / 2));
    const d = loops.map((loop) => `M${loop.map(([x, y]) => `${n(BORDER + x)} ${n(top + y)}`).join('L')}Z`).join('');
    return `<path class="piece" fill="#f3ead2" stroke="#15201f" stroke-width="1.5" fill-rule="evenodd" d="${d}"/><text x="${n(BORDER + cx - textWidth(words, size) / 2)}" y="${n(top + cy + size * 0.35)}" font-size="${n(size)}">${escapeXml(words)}</text>`;
  });
  const tick = (i: number): string => {
    const out = i % 5 === 0 ? -14 : -7;
    return downward ? `M${BORDER} ${n(top + 100 * i)}h${out}` : `M${n(BORDER + 100 * i)} ${top}v${out}`;
  };
  const ticks = Array.from({ length: Math.floor(long / 100) + 1 }, (_, i) => tick(i)).join('');
  // On sheets the picture shows where each ends, and the last one whole.
  const ends = lay.sheet === undefined ? [] : Array.from({ length: (lay.sheets ?? 1) - 1 }, (_, i) => 1000 * lay.sheet! * (i + 1));
  const cuts = ends.map((at) => (downward ? `M${BORDER} ${n(top + at)}h${n(across)}` : `M${n(BORDER + at)} ${top}v${n(down)}`)).join('');
  const taken =
    lay.sheet === undefined
      ? `${formatMm(lay.length, 0)} of a width of ${formatMm(lay.width, 0)}`
      : `${lay.sheets} of ${formatMm(lay.width, 0)} x ${formatMm(lay.sheet, 0)}`;
  const told = `${name}: ${taken}, ${(100 * lay.used).toFixed(0)} % used. ${grainWords({ lay, items })}${lay.sheet === undefined ? `; the roll runs ${downward ? 'downward' : 'to the right'} here` : ''}.`;
  const width = Math.max(across, 1.15 * textWidth(told, 22), 1.15 * textWidth(title, 26)) + 2 * BORDER;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${n(width)} ${n(down + 2 * BORDER + 60)}" role="img" aria-label="${escapeXml(`Lay of ${name}`)}" font-family="'Noto Sans',system-ui,sans-serif">
<rect width="100%" height="100%" fill="#fff"/><text x="${BORDER}" y="30" font-size="26">${escapeXml(title)}</text><text x="${BORDER}" y="62" font-size="22">${escapeXml(told)}</text>
<rect class="roll" fill="#e9ece7" stroke="#5b6967" x="${BORDER}" y="${top}" width="${n(across)}" height="${n(down)}"/><path class="tick" stroke="#5b6967" stroke-width="1.5" fill="none" d="${ticks}"/>${cuts === '' ? '' : `<path class="sheet-end" stroke="#15201f" stroke-width="2" stroke-dasharray="12 6" fill="none" d="${cuts}"/>`}
${shapes.join('\n')}
</svg>
`;
}
