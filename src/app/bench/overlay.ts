import { svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Mark } from './dimensions.ts';
import { type Ghost, NARROW } from './picture.ts';
import { tape } from './rule.ts';
import type { Screen } from './scene.ts';

interface Over {
  readonly width: number;
  readonly height: number;
  /** Where the tape's zero lies, px from the top. */ readonly zero: number;
  readonly screen: Screen;
  readonly units: UnitChoice;
  readonly start: readonly (readonly [number, number])[];
  readonly marks: readonly Mark[];
  readonly ghost: Ghost | null;
}

const path = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** Everything drawn over the cloth: the tape, the start and theory as dashed lines, the dimensions that are read. */
export function overlay(o: Over): SVGElement[] {
  const px = ([x, z]: readonly [number, number]): readonly [number, number] => [o.screen.x0 + x * o.screen.scale, o.screen.y0 - z * o.screen.scale];
  const parts: SVGElement[] = [...tape({ height: o.height, zero: o.zero, scale: o.screen.scale, units: o.units })];
  if (o.start.length > 0) parts.push(svg('path', { class: 'bench-start', d: path(o.start.map(px)) }));
  if (o.ghost) {
    const line = o.ghost.points.map(px);
    parts.push(svg('path', { class: 'bench-ghost', d: path(line) }));
    const [x, y] = line[line.length - 1];
    parts.push(inside(x - 8, y + 18, o.ghost.label, 'end', o));
  }
  for (const mark of o.marks) parts.push(...draw(mark, px, o));
  return parts;
}

/** A label kept inside the picture. */
function inside(x: number, y: number, label: string, anchor: 'start' | 'middle' | 'end', o: Pick<Over, 'width' | 'height'>): SVGElement {
  const shown = o.width < NARROW ? label.replace(/ \([^)]*\)/, '') : label;
  // 7 px a letter is a little more than the font takes.
  const wide = 7 * shown.length;
  const [least, most] = anchor === 'start' ? [52, o.width - wide - 6] : anchor === 'end' ? [52 + wide, o.width - 6] : [52 + wide / 2, o.width - wide / 2 - 6];
  const at = Math.max(least, Math.min(most, x));
  return svg('text', { class: 'bench-word', x: at.toFixed(1), y: Math.max(16, Math.min(o.height - 8, y)).toFixed(1), 'text-anchor': anchor }, shown);
}

function draw(mark: Mark, px: (p: readonly [number, number]) => readonly [number, number], o: Over): SVGElement[] {
  switch (mark.kind) {
    case 'line':
      return dimension(px(mark.from), px(mark.to), mark.off, mark.label, o);
    case 'dash':
      return [svg('path', { class: 'bench-chord', d: path([px(mark.from), px(mark.to)]) })];
    case 'angle': {
      const [x, y] = px([0, 0]);
      const r = mark.radius * o.screen.scale;
      const [c, s] = [Math.cos(mark.to), Math.sin(mark.to)];
      // Below the chord, where neither the strip nor the level line runs.
      const [mx, my] = [x + 0.62 * (r / 0.45) * c, y + 0.62 * (r / 0.45) * s];
      const label = inside(mx - 14, my + 18, mark.label, 'end', o);
      label.classList.add('bench-big');
      return [svg('path', { class: 'bench-dim', d: `M${x + r} ${y}A${r} ${r} 0 0 1 ${(x + r * c).toFixed(1)} ${(y + r * s).toFixed(1)}` }), label];
    }
    case 'circle': {
      const [x, y] = px([0, 0]);
      const r = mark.radius * o.screen.scale;
      return [svg('circle', { class: 'bench-start', cx: x, cy: y, r, fill: 'none' }), inside(x, y - r - 8, mark.label, 'middle', o)];
    }
    case 'note': {
      const [x, y] = px(mark.at);
      return [inside(x, y + 5, mark.label, 'middle', o)];
    }
    case 'push': {
      const [x, y] = px(mark.at);
      return [
        svg('path', { class: 'bench-dim', d: `M${x - 40} ${y}H${x - 4}M${x - 12} ${y - 5}L${x - 4} ${y}L${x - 12} ${y + 5}` }),
        inside(x - 40, y + 20, mark.label, 'start', o),
      ];
    }
  }
}

/** A dimension line with its ends marked, `off` px to the left of from-to, and its label beside it. */
function dimension(from: readonly [number, number], to: readonly [number, number], off: number, label: string, o: Over): SVGElement[] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
  // Left of the way, in a picture whose y runs down.
  const [nx, ny] = [uy, -ux];
  const at = (p: readonly [number, number], by: number): readonly [number, number] => [p[0] + nx * by, p[1] + ny * by];
  const sign = Math.sign(off);
  const [a, b] = [at(from, off), at(to, off)];
  const tick = (p: readonly [number, number]): string => path([at(p, sign * 4), at(p, off + sign * 5)]);
  const arrow = (p: readonly [number, number], way: 1 | -1): string => {
    const back = (side: number): readonly [number, number] => [p[0] + way * ux * 7 + nx * side, p[1] + way * uy * 7 + ny * side];
    return path([back(3), p, back(-3)]);
  };
  const d = `${tick(from)}${tick(to)}${path([a, b])}${long > 18 ? arrow(a, 1) + arrow(b, -1) : ''}`;
  const level = Math.abs(ux) > Math.abs(uy);
  const [mx, my] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const text = level
    ? inside(mx, my + (ny * sign < 0 ? -7 : 17), label, 'middle', o)
    : inside(mx + (nx * sign > 0 ? 8 : -8), my + 4, label, nx * sign > 0 ? 'start' : 'end', o);
  return [svg('path', { class: 'bench-dim', d }), text];
}
