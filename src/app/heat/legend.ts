import { h, refill } from '../page/dom.ts';
import type { HeatShade } from '../page/store.ts';
import { type Findings, type Scale, stepColours } from './core.ts';
import { words } from './words.ts';

/** One option's line: what was found, or why there is nothing yet. */
export interface Line {
  readonly letter: string;
  readonly found: Findings | null;
  readonly words: string;
}

/** Fills the legend: name, steps with their figures, then every option's map in words. Parts stay folded open as they were. */
export function showLegend(legend: HTMLElement, shade: HeatShade, scale: Scale, lines: readonly Line[]): void {
  const open = legend.querySelector('details')?.open ?? false;
  const steps = stepColours().map((colour) => h('span', { style: `background-image:linear-gradient(${colour},${colour})` }));
  const parts = lines.filter((l) => l.found && l.found.parts.length > 0);
  refill(
    legend,
    h(
      'div',
      { class: 'heat-scale' },
      h('strong', {}, words.title[shade]),
      h('div', { class: 'heat-steps', 'aria-hidden': 'true' }, ...steps),
      h('ol', { 'aria-label': words.scale }, ...scale.marks.map((m) => h('li', {}, m))),
      h('p', {}, words.how[shade]),
    ),
    h(
      'div',
      { class: 'heat-words' },
      h('ul', {}, ...lines.map((l) => h('li', {}, h('strong', {}, l.letter), ` ${l.found?.line ?? l.words}`))),
      lines.length === 0 && h('p', {}, words.none),
      parts.length > 0 &&
        h(
          'details',
          { open },
          h('summary', {}, words.parts),
          h('ul', {}, ...parts.map((l) => h('li', {}, h('strong', {}, l.letter), ` ${l.found!.parts.join(', ')}`))),
        ),
    ),
  );
}
