import type GUI from 'lil-gui';
import type { Controller } from 'lil-gui';
import { stepped } from '../page/format.ts';

/** Marks a controller's fields with a key, by which faults and the focus find them again. */
export const keyed = (controller: Controller, key: string): Controller => {
  for (const field of controller.domElement.querySelectorAll<HTMLElement>('input, select, button')) field.dataset.key = key;
  return controller;
};

/** The typed fields of the panel of controls: they report on Enter or on leaving, step with the arrow keys, and keep the letters being typed. */
export class TypedFields {
  /** What lil-gui shows, by the field's key. */
  readonly values: Record<string, string> = {};
  /** What each field held when it was last entered or shown: the same again is no news. */
  private readonly entered: Record<string, string> = {};
  /** Fields in which something has been typed and not yet entered: no news from the solver may take the letters away. */
  private readonly typing = new Set<string>();

  isTyping(key: string): boolean {
    return this.typing.has(key);
  }

  /** Adds a field. `step` is what an arrow key makes of the text, null where it is nothing that steps. */
  add(folder: GUI, key: string, label: string, hint: string, report: (value: string) => void, step = stepped): Controller {
    this.values[key] ??= '';
    const controller = keyed(folder.add(this.values, key).name(label), key);
    const input = controller.domElement.querySelector('input')!;
    const finish = (value: string): void => {
      this.typing.delete(key);
      if (value === this.entered[key]) return;
      this.entered[key] = value;
      report(value.trim());
    };
    input.title = hint;
    input.addEventListener('focus', () => input.select());
    input.addEventListener('input', () => this.typing.add(key));
    input.addEventListener('focusout', () => this.typing.delete(key));
    // Ahead of lil-gui, which would leave the field: the arrow keys are to go on from what was entered.
    const enter = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter') return;
      event.stopImmediatePropagation();
      finish(input.value);
      input.select();
    };
    input.addEventListener('keydown', enter, { capture: true });
    input.addEventListener('keydown', (event) => {
      if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
      const next = step(input.value, event.key === 'ArrowUp' ? 1 : -1, event.shiftKey);
      if (next === null) return;
      event.preventDefault();
      this.values[key] = this.entered[key] = next;
      this.typing.delete(key);
      controller.updateDisplay();
      report(next);
    });
    controller.onFinishChange(finish);
    return controller;
  }

  /** Shows a field's value, in the field that has the focus as well (lil-gui leaves that one alone), unless letters are being typed there. */
  show(controller: Controller, key: string): void {
    controller.updateDisplay();
    const input = controller.domElement.querySelector('input')!;
    if (this.typing.has(key)) return;
    this.entered[key] = this.values[key];
    if (input.value !== this.values[key]) input.value = this.values[key];
  }

  /** Shows what the file says, unless what was typed last is at fault and still stands there. */
  showWritten(controller: Controller, key: string, written: string, fault: boolean): void {
    controller.domElement.querySelector('input')!.setAttribute('aria-invalid', String(fault));
    if (!fault && !this.typing.has(key)) this.values[key] = written;
    this.show(controller, key);
  }
}
