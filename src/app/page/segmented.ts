import { h, uniqueId } from './dom.ts';

export interface Choice<T extends string> {
  readonly value: T;
  readonly label: string;
}

/**
 * A row of three or four choices as one strip: real radio buttons, so that arrow keys move and a reader hears the group.
 * Returned `set` changes what is marked without calling back.
 */
export function segmentedRow<T extends string>(
  legend: string,
  choices: readonly Choice<T>[],
  value: T,
  onChoose: (value: T) => void,
): { readonly element: HTMLElement; readonly set: (value: T) => void } {
  const name = uniqueId('row');
  const inputs = choices.map((choice) => {
    const input = h('input', { type: 'radio', name, value: choice.value, onchange: () => onChoose(choice.value) });
    input.dataset.key = `${legend}/${choice.value}`;
    return input;
  });
  const set = (next: T): void => {
    inputs.forEach((input, i) => {
      input.checked = choices[i].value === next;
    });
  };
  set(value);
  const element = h(
    'fieldset',
    { class: 'segmented' },
    h('legend', { class: 'away' }, legend),
    ...choices.map((choice, i) => h('label', {}, inputs[i], h('span', {}, choice.label))),
  );
  return { element, set };
}
