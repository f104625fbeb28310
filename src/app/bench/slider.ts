import { h, refill, uniqueId } from '../page/dom.ts';
import { words } from './words.ts';

/** Doublings to either side of the material's own figure, and those of one step of the slider. */
const MOST = 3;
const STEP = 0.125;

/** A slider of one property in doublings of the material's own figure. `set` shows a position and the figure it stands for, '' for none. */
export function slider(
  label: string,
  onMove: (doublings: number) => void,
  key: string,
): { readonly element: HTMLElement; readonly set: (doublings: number, figure: string) => void } {
  const id = uniqueId('slider');
  const input = h('input', { type: 'range', id, min: -MOST, max: MOST, step: STEP });
  input.dataset.key = key;
  const shown = h('output', { for: id });
  input.addEventListener('input', () => onMove(Number(input.value)));
  const back = h('button', { type: 'button', class: 'link', onclick: () => onMove(0) }, words.back, h('span', { class: 'away' }, ` (${label})`));
  const set = (doublings: number, figure: string): void => {
    if (Number(input.value) !== doublings) input.value = String(doublings);
    const times = 2 ** doublings;
    const says = doublings === 0 ? words.asItIs : words.times(times >= 1 ? Number(times.toFixed(2)).toString() : Number(times.toPrecision(2)).toString());
    refill(shown, figure && h('strong', {}, figure), ` ${says}`);
    input.setAttribute('aria-valuetext', figure ? `${figure}, ${says}` : says);
    // Stays in its place so that the focus does not fall off the page when it is pressed.
    back.disabled = false;
    back.style.visibility = doublings === 0 ? 'hidden' : 'visible';
  };
  return { set, element: h('div', { class: 'slider' }, h('div', { class: 'slider-head' }, h('label', { for: id }, label), shown), input, back) };
}
