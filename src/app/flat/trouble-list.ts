import { h } from '../page/dom.ts';
import type { Board, BoardTrouble } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { button } from './form-parts.ts';

/** Most that are listed at once. */
const MOST = 8;

/** What is not right yet, beside the drawing: faults first, each with a way to see it and, where there is one, to mend it. */
export class TroubleList {
  readonly element = h('section', { class: 'trouble-list', 'aria-label': words.troubles });
  constructor(private readonly wishes: { draw(edit: DrawEdit): void; show(trouble: BoardTrouble): void }) {}

  fill(board: Board): void {
    const { troubles } = board;
    this.element.replaceChildren(
      h('h2', {}, troubles.length > 0 ? `${words.troubles} (${troubles.length})` : words.troubles),
      ...(troubles.length === 0 ? [h('p', { class: 'small' }, words.noTroubles)] : []),
      h('ul', {}, ...troubles.slice(0, MOST).map((t, i) => this.row(t, i))),
      ...(troubles.length > MOST ? [h('p', { class: 'small' }, words.more(troubles.length - MOST))] : []),
    );
  }

  private row(trouble: BoardTrouble, i: number): HTMLElement {
    const show = button(words.show, `trouble show ${i}`, () => this.wishes.show(trouble));
    show.setAttribute('aria-label', words.showOf(trouble.text));
    return h(
      'li',
      { class: trouble.fault ? 'trouble' : 'trouble look' },
      h('small', {}, trouble.fault ? words.fault : words.look),
      h('p', {}, trouble.text),
      h('div', { class: 'sheet-buttons' }, show, ...trouble.mends.map((m, k) => button(m.say, `trouble mend ${i} ${k}`, () => this.wishes.draw(m.edit)))),
    );
  }
}
