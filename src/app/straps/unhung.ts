import { h } from '../page/dom.ts';
import { words } from './words.ts';

/** What stands in the screen before anything was hung: the bag as drafted, and what to do. */
export class Unhung {
  readonly element = h('div', { class: 'straps-unhung', hidden: true });
  private drawn = '';
  /** `draft` draws the bag there is; null where it cannot be drawn. */
  constructor(private readonly draft: () => Promise<string | null>) {}

  /** `bag`: changes when another drawing is needed; null: something was hung, nothing is shown here. */
  show(bag: string | null): void {
    this.element.hidden = bag === null;
    if (bag === null || bag === this.drawn) return;
    this.drawn = bag;
    const what = h('p', {}, words.nothingHung);
    if (!this.element.firstChild) this.element.append(what);
    void this.draft().then((svg) => {
      if (this.drawn !== bag) return;
      // As an image nothing in it can run, whoever wrote the bag's names.
      const picture = svg && h('img', { alt: words.drafted, src: `data:image/svg+xml,${encodeURIComponent(svg)}` });
      this.element.replaceChildren(...(picture ? [picture] : []), what);
    });
  }
}
