import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { type Answer, type Bar, type Part, span } from './answer.ts';
import { words } from './words.ts';

/** Bars of one answer, all to one scale: what the stack has over what it needs. The figures stand beside them, so the bars themselves are not read out. */
function barsOf(bars: readonly Bar[], longest: number, units: UnitChoice): HTMLElement {
  const row = (label: string, metres: number, kind: string): HTMLElement =>
    h(
      'div',
      { class: `need-bar need-${kind}` },
      h('span', { class: 'need-bar-label' }, label),
      h(
        'span',
        { class: 'need-bar-track', 'aria-hidden': 'true' },
        h('span', { class: 'need-bar-fill', style: `width:${((100 * metres) / longest).toFixed(1)}%` }),
      ),
      h('span', { class: 'need-bar-value' }, span(metres, units)),
    );
  return h(
    'div',
    { class: 'need-bars' },
    ...bars.map((b) =>
      h(
        'div',
        { class: 'need-stack' },
        b.label === '' ? null : h('p', { class: 'need-stack-name' }, b.label),
        row(words.has, b.has, 'has'),
        b.needs === null ? null : row(b.needs <= b.has ? words.enough : words.needs, b.needs, 'needs'),
        b.most === null ? null : row(words.most, b.most, 'most'),
      ),
    ),
  );
}

const list = (lines: readonly string[]): HTMLElement => h('ul', {}, ...lines.map((line) => h('li', {}, line)));

function partView(p: Part, longest: number, units: UnitChoice): HTMLElement {
  return h(
    'section',
    { class: 'need-part' },
    h('h3', {}, p.title),
    h('p', { class: 'need-lead' }, p.lead),
    barsOf(p.bars, longest, units),
    ...p.lines.map((line) => h('p', { class: 'need-line' }, line)),
  );
}

/** The whole answer. `cautions`: what stands under it; next: where to go with it. */
export function answerView(a: Answer, units: UnitChoice, cautions: readonly string[], next: HTMLElement): HTMLElement {
  const longest = Math.max(...a.parts.flatMap((p) => p.bars.flatMap((b) => [b.has, b.needs ?? 0, b.most ?? 0])), 1e-3);
  return h(
    'div',
    { class: 'need-answer' },
    ...a.lines.map((line) => h('p', { class: 'need-lead' }, line)),
    h('div', { class: 'need-parts' }, ...a.parts.map((p) => partView(p, longest, units))),
    a.alone.length === 0
      ? null
      : h(
          'section',
          { class: 'need-alone' },
          h('h3', {}, words.partsTitle),
          h('ol', {}, ...a.alone.map(({ panels, says }) => h('li', {}, h('strong', {}, panels), `: ${says}`))),
        ),
    h('p', { class: 'need-line' }, words.note, ' ', next, '.'),
    h(
      'details',
      { class: 'need-engineer' },
      h('summary', {}, words.engineer),
      ...a.parts.flatMap((p) => [h('h4', {}, p.title), list(p.engineer)]),
      list(a.engineer),
    ),
    h('ul', { class: 'need-cautions' }, ...cautions.map((c) => h('li', {}, c))),
  );
}
