import { h, svg, uniqueId } from '../page/dom.ts';
import { lengthFine, lengthText, type UnitChoice } from '../page/format.ts';
import { segmentedRow } from '../page/segmented.ts';

/** A length of the pattern: to the sixteenth of an inch, or to the millimetre. */
export const sizeText = (metres: number, units: UnitChoice): string => (units !== 'metric' ? lengthFine(metres) : lengthText(metres, units));

type Choice = readonly [string, string];

/** A list to choose from, with its label in the column before it. */
export function pick(label: string, hold: string, entries: readonly Choice[], now: string, choose: (v: string) => void): HTMLElement {
  const select = h(
    'select',
    { class: 'plain', 'data-hold': hold, onchange: () => choose(select.value) },
    ...entries.map(([value, name]) => h('option', { value, selected: value === now }, name)),
  );
  return h('label', { class: 'sheet-row' }, h('span', {}, label), select);
}

/** A field for a size or a few words. Enter enters it, and so does leaving it; `note` stands under it. */
export function field(
  label: string,
  hold: string,
  value: string,
  entered: ((v: string) => void) | null,
  note = '',
): { readonly row: HTMLElement; readonly input: HTMLInputElement; readonly note: HTMLElement } {
  const id = uniqueId('draw');
  const input = h('input', { type: 'text', id, value, 'data-hold': hold, autocomplete: 'off', 'aria-describedby': `${id}-note` });
  if (entered) input.addEventListener('change', () => entered(input.value.trim()));
  const small = h('small', { id: `${id}-note` }, note);
  return { row: h('div', { class: 'sheet-row' }, h('label', { for: id }, label), input, small), input, note: small };
}

export const button = (label: string, hold: string, act: () => void, o: { readonly title?: string; readonly strong?: boolean } = {}): HTMLButtonElement =>
  h('button', { type: 'button', class: o.strong ? 'plain strong' : 'plain', 'data-hold': hold, title: o.title, onclick: act }, label);

export function tick(label: string, hold: string, on: boolean, changed: (on: boolean) => void): HTMLElement {
  const box = h('input', { type: 'checkbox', 'data-hold': hold, checked: on, onchange: () => changed(box.checked) });
  return h('label', { class: 'sheet-tick' }, box, h('span', {}, label));
}

/** A few choices side by side under their own heading. */
export function choices<T extends string>(
  legend: string,
  list: readonly { readonly value: T; readonly label: string }[],
  now: T,
  choose: (v: T) => void,
): HTMLElement {
  const row = segmentedRow(legend, list, now, choose);
  return h('div', { class: 'sheet-choice' }, h('span', { 'aria-hidden': 'true' }, legend), row.element);
}

/** A ring round a place on the sheet. */
export const spot = (x: number, y: number): SVGElement => svg('circle', { class: 'strap-spot', cx: x, cy: y, r: 9 });
