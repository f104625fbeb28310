import { keepTour } from './browser-storage.ts';
import { h } from './dom.ts';
import { text } from './text.ts';

/** The offer of the tour in the header of a first visit: it stands in the page's flow, so that it hides nothing. Once answered it is gone for good. */
export function tourOffer(begin: () => void): HTMLElement {
  const gone = (): void => {
    keepTour();
    offer.remove();
  };
  const button = (label: string, act: () => void): HTMLElement => h('button', { type: 'button', class: 'plain', onclick: act }, label);
  const no = (): void => {
    gone();
    document.querySelector<HTMLElement>('[data-tour]')?.focus();
  };
  const offer: HTMLElement = h('div', { class: 'tour-offer' }, text.tour.first, button(text.tour.yes, begin), button(text.tour.no, no));
  return offer;
}
