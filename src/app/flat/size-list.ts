import { h } from '../page/dom.ts';
import type { Board } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { field } from './form-parts.ts';

/** The sizes of the bag by what they are called; each can be called otherwise. Closed until it is wanted. */
export class SizeList {
  readonly element = h('details', { class: 'size-list' });
  constructor(private readonly wishes: { draw(edit: DrawEdit): void }) {}

  fill(board: Board): void {
    this.element.hidden = board.sizes.length === 0;
    this.element.replaceChildren(
      h('summary', {}, words.sizesTitle),
      h('p', { class: 'small' }, words.sizesHint),
      ...board.sizes.map(
        (size) => field(size.name, `label ${size.name}`, size.label, (label) => this.wishes.draw({ do: 'label', parameter: size.name, label }), size.text).row,
      ),
    );
  }
}
