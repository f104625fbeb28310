import '../style/sheet.css';
import { h } from '../page/dom.ts';
import { words } from './words.ts';

/** Tells that another tab changes the same bag, over everything else; the choice may also be left. */
export function tellConflict(place: HTMLElement, show: () => void): void {
  place.querySelector('.conflict')?.remove();
  const act = (label: string, what: () => void): HTMLElement =>
    h(
      'button',
      {
        type: 'button',
        class: 'plain',
        onclick: () => {
          notice.remove();
          what();
        },
      },
      label,
    );
  const notice: HTMLElement = h(
    'div',
    { class: 'notice conflict sheet-row', role: 'alert' },
    words.conflict,
    act(words.show, show),
    act(words.stay, () => {}),
  );
  place.prepend(notice);
}
