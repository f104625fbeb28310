import '../style/bench-fields.css';
import '../style/bench.css';
import '../style/sheet.css';
import '../style/straps.css';
import '../style/need.css';
import '../style/shelf.css';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import { ChoosePanel } from './choose-panel.ts';
import { ShelfList } from './list.ts';
import { withChosen } from './option.ts';
import { words } from './words.ts';

export interface ShelfHost {
  readonly state: () => State;
  readonly listen: (listener: (state: State, before: State) => void) => void;
  readonly say: (line: string) => void;
  /** Takes an edited form into the bag, under these words in the history; false: it did not parse. */ readonly change: (
    form: BagForm,
    what: string,
  ) => boolean;
}

/** The screen "What do I have?": the shelf at the left, what of it does for the bag on the mat at the right. */
export class ShelfScreen {
  private readonly list: ShelfList;
  private readonly choose: ChoosePanel;
  constructor(place: HTMLElement, host: ShelfHost) {
    this.choose = new ChoosePanel({
      state: host.state,
      shelf: () => this.list.keeper.value,
      make: (chosen, name) => {
        const { form, option } = withChosen(host.state().form, chosen, name);
        if (!host.change(form, words.found.history(name))) return null;
        return host.state().columns.find((c) => c.option === option)?.letter ?? null;
      },
      say: host.say,
    });
    this.list = new ShelfList(host.state, () => this.list && this.choose.update());
    place.replaceChildren(h('div', { class: 'straps-body shelf-body' }, this.list.element, this.choose.element));
    host.listen((now, before) => {
      if (now.preferences !== before.preferences) this.list.draw();
      else if (now.bag !== before.bag || now.columns.length !== before.columns.length) this.choose.update();
    });
    this.choose.update();
  }

  /** A shelf file that was opened from anywhere on the page. */
  add(text: string, name: string): Promise<void> {
    return this.list.openText(text, name);
  }
}
