import { h, svg } from '../page/dom.ts';
import { lengthText, type UnitChoice } from '../page/format.ts';
import type { BoardHandle } from './board-data.ts';
import { words } from './words.ts';

export const partName = (handle: BoardHandle): string => `${words.kinds[handle.kind]} ${handle.name}`;

/** The marks of a pattern table, by what they stand at. */
type Mark = 'cross' | 'notch' | 'tick' | 'awl';
const MARK_OF: Readonly<Record<BoardHandle['kind'], Mark>> = {
  corner: 'cross',
  region: 'cross',
  edge: 'notch',
  radius: 'tick',
  curve: 'tick',
  anchor: 'awl',
  mark: 'awl',
  line: 'awl',
  hole: 'awl',
};

/**
 * A mark round (0, 0), mm on the sheet; `turn`, degrees, points its y axis into the panel. Crosses and ticks are strokes, the notch is a small triangle
 * that stands out from the edge, the awl hole a ring round a point.
 */
function drawnMark(mark: Mark, turn: number): SVGElement {
  const parts: Readonly<Record<Mark, () => SVGElement[]>> = {
    cross: () => [svg('path', { class: 'mark-stroke', d: 'M-8-8L8 8M8-8L-8 8' })],
    notch: () => [svg('path', { class: 'mark-body', d: 'M-9 0H9L0-14Z' })],
    tick: () => [svg('path', { class: 'mark-stroke', d: 'M0-11V11' })],
    awl: () => [svg('circle', { class: 'mark-body', r: 8 }), svg('circle', { class: 'mark-point', r: 2.5 })],
  };
  return svg('g', { class: 'handle-mark', transform: `rotate(${turn.toFixed(1)})` }, ...parts[mark]());
}

/** A panel's parts as marks that are pressed, dragged and moved by keys. Parameters: where a part stands on the sheet, mm; the one held. */
export function paintMarks(
  own: readonly BoardHandle[],
  place: (handle: BoardHandle) => readonly [number, number],
  held: string,
  units: UnitChoice,
  size: number,
): SVGElement {
  const places = own.map(place);
  const middle = [0, 1].map((c) => (Math.min(...places.map((p) => p[c])) + Math.max(...places.map((p) => p[c]))) / 2);
  const group = svg('g', { class: 'handles' });
  own.forEach((handle, i) => {
    const [x, y] = places[i];
    const sizes = handle.controls.map((c) => `${words.size[c.label]} ${lengthText(c.value, units)}`).join(', ');
    const label = words.handle(handle.panel, partName(handle), sizes);
    const mark = MARK_OF[handle.kind];
    const turn = mark === 'notch' || mark === 'tick' ? inward(middle[0] - x, middle[1] - y) : 0;
    const g = svg(
      'g',
      {
        class: `handle handle-${mark}`,
        tabindex: 0,
        role: 'button',
        'aria-label': label,
        'data-hold': handle.id,
        transform: `translate(${x} ${y}) scale(${size.toFixed(3)})`,
      },
      svg('title', {}, label),
      svg('path', { class: 'handle-reach', d: 'M-13-13h26v26h-26Z' }),
      drawnMark(mark, turn),
    );
    g.classList.toggle('held', handle.id === held);
    group.append(g);
  });
  return group;
}

/** Degrees that turn "down" toward a direction, to the nearer quarter where the direction is near it: edges lie level or upright far more often than not. */
function inward(dx: number, dy: number): number {
  const angle = (Math.atan2(-dx, dy) * 180) / Math.PI;
  const quarter = 90 * Math.round(angle / 90);
  return Math.abs(angle - quarter) < 25 ? quarter : angle;
}

/** What each mark on the chosen panel stands for. */
export function markLegend(own: readonly BoardHandle[]): HTMLElement | string {
  const marks = [...new Set(own.map((k) => MARK_OF[k.kind]))];
  if (marks.length === 0) return '';
  const sign = (mark: Mark): SVGElement => svg('svg', { viewBox: '-14 -14 28 28', width: 18, height: 18, 'aria-hidden': 'true' }, drawnMark(mark, 0));
  return h('ul', { class: 'mark-key', 'aria-label': words.marks }, ...marks.map((mark) => h('li', {}, sign(mark), words.mark[mark])));
}
