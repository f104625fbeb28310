import { h, uniqueId } from '../page/dom.ts';

/** A labelled field with a hint and a place for its fault. */
export interface Field {
  readonly element: HTMLElement;
  readonly input: HTMLInputElement;
  /** Words of what is wrong with it, or null. */ readonly fault: (words: string | null) => void;
  readonly label: HTMLElement;
  readonly hint: HTMLElement;
}

/** Ties a control to its hint and its fault; the fault is read with the field and makes it invalid. */
export function explained(control: HTMLElement): {
  readonly hint: HTMLElement;
  readonly faultLine: HTMLElement;
  readonly fault: (words: string | null) => void;
} {
  const hint = h('span', { class: 'field-hint', id: uniqueId('hint') });
  const faultLine = h('span', { class: 'field-fault', id: uniqueId('fault'), hidden: true });
  control.setAttribute('aria-describedby', `${hint.id} ${faultLine.id}`);
  const fault = (words: string | null): void => {
    faultLine.hidden = words === null;
    if (faultLine.textContent !== (words ?? '')) faultLine.textContent = words ?? '';
    if (words === null) control.removeAttribute('aria-invalid');
    else control.setAttribute('aria-invalid', 'true');
  };
  return { hint, faultLine, fault };
}

/** A typed field. `report` hears every change of its text; `done` when it is left or Enter is pressed. */
export function textField(
  label: string,
  hintWords: string,
  on: { readonly report: (value: string) => void; readonly done?: () => void },
  key: string,
  attributes: Readonly<Record<string, string>> = {},
): Field {
  const id = uniqueId('field');
  const input = h('input', { type: 'text', id, autocomplete: 'off', spellcheck: 'false', ...attributes });
  input.dataset.key = key;
  input.addEventListener('input', () => on.report(input.value));
  if (on.done) input.addEventListener('change', on.done);
  const { hint, faultLine, fault } = explained(input);
  hint.textContent = hintWords;
  const name = h('label', { for: id }, label);
  return { input, fault, label: name, hint, element: h('div', { class: 'field' }, name, input, hint, faultLine) };
}

/** A list of choices. */
export function selectField(
  label: string,
  choices: readonly { readonly value: string; readonly label: string; readonly group?: string }[],
  onChoose: (value: string) => void,
  key: string,
): { readonly element: HTMLElement; readonly select: HTMLSelectElement; readonly fault: Field['fault']; readonly offer: (next: typeof choices) => void } {
  const id = uniqueId('field');
  const select = h('select', { id });
  select.dataset.key = key;
  const offer = (next: typeof choices): void => {
    const before = select.value;
    const groups = new Map<string, HTMLElement>();
    select.replaceChildren();
    for (const choice of next) {
      const option = h('option', { value: choice.value }, choice.label);
      if (!choice.group) {
        select.append(option);
        continue;
      }
      if (!groups.has(choice.group)) groups.set(choice.group, select.appendChild(h('optgroup', { label: choice.group })));
      groups.get(choice.group)!.append(option);
    }
    if (next.some((c) => c.value === before)) select.value = before;
  };
  offer(choices);
  select.addEventListener('change', () => onChoose(select.value));
  const { hint, faultLine, fault } = explained(select);
  return { select, fault, offer, element: h('div', { class: 'field' }, h('label', { for: id }, label), select, hint, faultLine) };
}
