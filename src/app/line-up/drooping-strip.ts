import { svg } from '../page/dom.ts';

/** Length of the strip that every sign shows, m: long enough for cloth to fold over, short enough for a board to stay straight. */
export const STRIP_LENGTH = 0.1;

/** w L^3/D of a strip that hangs at 41.5 degrees over its overhang. */
const LOAD_AT_OVERHANG = 8.0042;
const STEPS = 40;

/**
 * Shape of a horizontal clamped strip bent by its own weight: points (x out, y down) in units of its length, and the chord angle, rad.
 * D phi'' = -w (L - s) cos phi, phi(0) = 0, phi'(L) = 0, solved by shooting on the tip angle from the free end
 * (heavy elastica, Bickley 1934). Parameter: overhang at 41.5 degrees, m.
 */
export function droopingStrip(overhang: number, length = STRIP_LENGTH): { readonly points: readonly (readonly [number, number])[]; readonly angle: number } {
  const load = LOAD_AT_OVERHANG * (length / overhang) ** 3;
  let low = 0;
  let high = Math.PI / 2;
  let path = shoot(load, 0);
  for (let i = 0; i < 50; i++) {
    const tip = 0.5 * (low + high);
    path = shoot(load, tip);
    if (path[0] > 0) high = tip;
    else low = tip;
  }
  const points: [number, number][] = [[0, 0]];
  for (let i = 1; i <= STEPS; i++) {
    const mid = 0.5 * (path[i - 1] + path[i]);
    points.push([points[i - 1][0] + Math.cos(mid) / STEPS, points[i - 1][1] + Math.sin(mid) / STEPS]);
  }
  const [x, y] = points[STEPS];
  return { points, angle: Math.atan2(y, x) };
}

/** Angles below horizontal at s = 0, 1/STEPS, ... 1 when the free end hangs at `tip`. Implicit in nothing: the tip carries no moment. */
function shoot(load: number, tip: number): Float64Array {
  const path = new Float64Array(STEPS + 1);
  const ds = 1 / STEPS;
  let angle = tip;
  let rate = 0;
  path[STEPS] = tip;
  for (let i = STEPS; i > 0; i--) {
    // Midpoint rule, marching from the free end (distance r from it grows).
    const r = 1 - i * ds;
    const a1 = load * r * Math.cos(angle);
    const angleMid = angle - 0.5 * ds * rate;
    const rateMid = rate + 0.5 * ds * a1;
    const a2 = load * (r + 0.5 * ds) * Math.cos(angleMid);
    angle -= ds * rateMid;
    rate += ds * a2;
    // A stiff load folds past the clamp; the sign of the overshoot is all that the search needs.
    if (angle < -Math.PI) angle = -Math.PI;
    path[i - 1] = angle;
  }
  return path;
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
