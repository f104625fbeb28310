import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { size } from './dimensions.ts';
import type { PhotoKept } from './own-entries.ts';
import { words } from './words.ts';

const own = words.swatch;

/** The pictures read so far, in place of the table of strips; the sheet in which one is marked opens from here. */
export class OwnPhotos {
  readonly element: HTMLElement;
  private readonly list = h('ul', { class: 'own-photos' });
  private readonly fault = h('p', { class: 'field-fault', hidden: true });
  constructor(
    open: () => void,
    private readonly change: (photos: readonly PhotoKept[]) => void,
  ) {
    this.element = h('div', { hidden: true }, h('button', { type: 'button', class: 'plain', onclick: open }, own.addPhoto), this.list, this.fault);
  }

  /** null: another way of testing is chosen. */
  show(photos: readonly PhotoKept[] | null, units: UnitChoice): void {
    this.element.hidden = photos === null;
    if (!photos) return;
    if (photos.length === 0) {
      this.list.replaceChildren(h('li', { class: 'small' }, own.noPhotos));
      return;
    }
    this.list.replaceChildren(
      ...photos.map((photo, i) => {
        const which = own.photoOf(own.directions[photo.direction], photo.side, photo.end);
        const [low, c, high] = photo.bendingLength;
        return h(
          'li',
          {},
          h('span', {}, which),
          h('span', {}, own.photoLength(size(c, units), size(low, units), size(high, units))),
          h(
            'button',
            { type: 'button', class: 'link', 'aria-label': own.removePhotoOf(which), onclick: () => this.change(photos.filter((_, k) => k !== i)) },
            own.removePhoto,
          ),
        );
      }),
    );
  }

  faults(lines: readonly string[]): void {
    this.fault.hidden = lines.length === 0;
    this.fault.textContent = lines.join(' ');
  }
}
