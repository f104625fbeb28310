import { h, refill, svg } from '../page/dom.ts';
import type { Stage } from '../view/stage.ts';
import type { Findings } from './core.ts';
import { words } from './words.ts';

/** Labels stand under the bay's heading, over the bags: px from the mat's top, width, height of two lines. */
const HEAD = 60;
const WIDE = 200;
const TALL = 38;

/** Draws a map's marks over one bay: a ring on the place and a label beside it, dashed where other cloth hides the place from here. */
export function drawLabels(bay: HTMLElement, index: number, stage: Stage, marks: Findings['marks'], x: ArrayLike<number>): void {
  let layer = bay.querySelector<HTMLElement>('.heat-marks');
  if (!layer) bay.append((layer = h('div', { class: 'heat-marks' })));
  const shapes: SVGElement[] = [];
  const labels: HTMLElement[] = [];
  const picture = stage.pictureOf(index);
  const own = picture?.subject.mesh;
  let free = HEAD;
  for (const { vertex, label } of marks) {
    const at = stage.project(index, [x[3 * vertex], x[3 * vertex + 1], x[3 * vertex + 2]]);
    if (!at || !own) continue;
    const seen = picture.panelAt(at, (p) => stage.project(index, p), stage.camera.turn);
    const hidden = seen !== null && !own.panelVerts[own.panelNames.indexOf(seen)].verts.includes(vertex);
    const wide = Math.min(WIDE, bay.clientWidth - 8);
    const left = Math.min(Math.max(at[0] - wide / 2, 4), Math.max(4, bay.clientWidth - wide - 4));
    const top = free;
    free += TALL + 6;
    shapes.push(
      svg('circle', { class: hidden ? 'heat-ring heat-hidden' : 'heat-ring', cx: at[0].toFixed(1), cy: at[1].toFixed(1), r: 8 }),
      svg('path', { class: 'heat-leader', d: `M${(left + wide / 2).toFixed(1)} ${(top + TALL).toFixed(1)}L${at[0].toFixed(1)} ${(at[1] - 8).toFixed(1)}` }),
    );
    labels.push(
      h(
        'span',
        { class: 'heat-label', style: `left:${left.toFixed(0)}px;top:${top.toFixed(0)}px;width:${wide}px` },
        hidden ? `${label} (${words.behind})` : label,
      ),
    );
  }
  refill(layer, ...(shapes.length > 0 ? [svg('svg', { 'aria-hidden': 'true' }, ...shapes)] : []), ...labels);
}
