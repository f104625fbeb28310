import { bentStrip } from '../core.ts';
import { svg } from '../page/dom.ts';

/** Length of the strip that every sign shows, m: long enough for cloth to fold over, short enough for a board to stay straight. */
export const STRIP_LENGTH = 0.1;

/** Points (x out, y down) of a strip that hangs from its clamp under its own weight, in units of its length, and its chord angle, rad. overhang: at 41.5 degrees, m. */
export function droopingStrip(overhang: number, length = STRIP_LENGTH): { readonly points: readonly (readonly [number, number])[]; readonly angle: number } {
  const points = bentStrip(length / overhang, 40);
  const [x, y] = points[points.length - 1]!;
  return { points, angle: Math.atan2(y, x) };
}

/** Signs are asked for again with every change of the tables; the bending behind them takes some 3 ms. */
const drawn = new Map<number, string>();

function clothLine(overhang: number): string {
  const known = drawn.get(overhang);
  if (known !== undefined) return known;
  const px = (v: number): string => (v * 28).toFixed(1);
  const line = droopingStrip(overhang)
    .points.map(([x, y], i) => `${i === 0 ? 'M0 5H6L' : 'L'}${(6 + Number(px(x))).toFixed(1)} ${(5 + Number(px(y))).toFixed(1)}`)
    .join('');
  if (drawn.size > 500) drawn.clear();
  drawn.set(overhang, line);
  return line;
}

/** The small sign beside a verdict: a table edge and the strip hanging over it at this stack's own angle. Decorative; words stand beside it. */
export function stripSign(overhang: number): SVGSVGElement {
  return svg(
    'svg',
    { class: 'strip', viewBox: '0 0 40 38', width: 40, height: 38, 'aria-hidden': 'true', focusable: 'false' },
    svg('path', { class: 'strip-bench', d: 'M0 8.5H6V36' }),
    svg('path', { class: 'strip-cloth', d: clothLine(overhang) }),
  );
}
