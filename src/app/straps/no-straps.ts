import { withHandles } from '../controls/stance-form.ts';
import { words as stances } from '../controls/words.ts';
import { h } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import type { StrapsHost } from './screen.ts';
import { words } from './words.ts';

/** What stands in the screen of a bag that has no straps: the bag as drafted, and handles to sew on where it has a front and a back to take them. */
export class NoStraps {
  readonly element = h('section', { class: 'straps-none', hidden: true });
  private drawn: State['bag'] | null = null;
  constructor(private readonly host: StrapsHost) {}

  /** `state` null: the bag has straps. */
  show(state: State | null): void {
    this.element.hidden = state === null;
    if (!state || state.bag === this.drawn) return;
    const { bag } = state;
    this.drawn = bag;
    const sewn = withHandles(state.form, bag);
    const sew = (): void => {
      const { form, bag: now } = this.host.state();
      const made = withHandles(form, now);
      if (made) this.host.change(made.form, stances.stance.changed.handles);
    };
    const button = sewn ? h('button', { type: 'button', class: 'plain strong', onclick: sew }, stances.stance.handles) : null;
    const picture = h('div', { class: 'straps-none-picture' });
    this.element.replaceChildren(h('h2', {}, words.noStraps), h('p', {}, sewn ? words.sewHandles : words.drawStraps), ...(button ? [button] : []), picture);
    void this.host.draft('').then((made) => {
      // As an image nothing in it can run, whoever wrote the bag's names.
      if (made && this.drawn === bag) picture.append(h('img', { alt: words.drafted, src: `data:image/svg+xml,${encodeURIComponent(made.svg)}` }));
    });
  }
}
