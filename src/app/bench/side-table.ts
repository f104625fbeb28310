import { h } from '../page/dom.ts';
import type { Comparison } from './core.ts';
import { sideWords as words } from './side-words.ts';

const squared = (words: string): string => words.replace('g/m2', 'g/m²');

type Rows = Comparison['table'];

const body = (rows: Rows): HTMLElement =>
  h(
    'tbody',
    {},
    ...rows.map((r) =>
      h(
        'tr',
        {},
        h('th', { scope: 'row' }, r.label),
        ...r.values.map((v, i) =>
          h('td', {}, squared(v), ...(r.bands[i] === '' ? [] : [h('span', { class: 'side-band', title: words.band }, squared(r.bands[i]!))])),
        ),
      ),
    ),
  );

/** Rows of words under the cloths' names. */
export const rowsTable = (names: readonly string[], rows: Rows, caption: string): HTMLElement =>
  h(
    'table',
    {},
    h('caption', { class: 'away' }, caption),
    h('thead', {}, h('tr', {}, h('td', {}), ...names.map((n) => h('th', { scope: 'col' }, n)))),
    body(rows),
  );

/** The comparison's table, what differs first; rigidities fold away. It scrolls by itself where the screen is narrow. */
export const sideTable = (made: Comparison): HTMLElement =>
  h(
    'div',
    { class: 'side-figures' },
    h('div', { class: 'side-scroll', tabindex: '0', role: 'region', 'aria-label': words.figures }, rowsTable(made.names, made.table, words.figures)),
    h(
      'details',
      {},
      h('summary', {}, words.engineer),
      h('div', { class: 'side-scroll', tabindex: '0', role: 'region', 'aria-label': words.engineer }, rowsTable(made.names, made.engineer, words.engineer)),
    ),
  );
