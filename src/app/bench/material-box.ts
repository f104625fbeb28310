import { h, refill, uniqueId } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { text } from '../page/text.ts';
import type { Cloth } from './cloths.ts';
import { formatGsm } from './core.ts';
import { size } from './dimensions.ts';
import { explained } from './fields.ts';
import { words } from './words.ts';

const gsm = (v: number): string => formatGsm(v).replace('m2', 'm²');

/** A material's figures in one line: mass, rigidity, bending length. */
const figuresOfCloth = (c: Cloth, units: UnitChoice): string => words.listed(gsm(c.sheet.arealMass), size(c.bendingLength, units));

/**
 * A list of materials to search by typing: an editable combobox with a list below it (arrow keys, Enter, Escape; Home and End stay with the text).
 * Every entry shows mass, bending length and what they rest on.
 */
export class MaterialBox {
  readonly element: HTMLElement;
  readonly fault: (words: string | null) => void;
  private readonly input: HTMLInputElement;
  private readonly list = h('div', { class: 'box-list', role: 'listbox', id: uniqueId('materials'), 'aria-label': words.material, hidden: true });
  private readonly chosen = h('div', { class: 'box-chosen' });
  private readonly count = h('span', { class: 'away', 'aria-live': 'polite' });
  private cloths: readonly Cloth[] = [];
  private shown: readonly Cloth[] = [];
  private value = '';
  private units: UnitChoice = 'metric';
  private at = -1;
  constructor(private readonly onChoose: (id: string) => void) {
    const id = uniqueId('field');
    this.input = h('input', {
      type: 'text',
      id,
      role: 'combobox',
      autocomplete: 'off',
      spellcheck: 'false',
      'aria-expanded': 'false',
      'aria-controls': this.list.id,
      'aria-autocomplete': 'list',
      placeholder: words.search,
    });
    this.input.dataset.key = 'material';
    const { hint, faultLine, fault } = explained(this.input);
    this.fault = fault;
    this.element = h('div', { class: 'field box' }, h('label', { for: id }, words.material), this.input, this.list, this.chosen, hint, faultLine, this.count);
    this.input.addEventListener('focus', () => this.input.select());
    this.input.addEventListener('click', () => this.open(''));
    this.input.addEventListener('input', () => this.open(this.input.value));
    this.input.addEventListener('keydown', (event) => this.press(event));
    this.input.addEventListener('blur', () => this.close(true));
    // The list must not take the focus from the field: leaving the field closes it.
    this.list.addEventListener('pointerdown', (event) => event.preventDefault());
    this.list.addEventListener('click', (event) => {
      const option = (event.target as Element).closest<HTMLElement>('[role=option]');
      if (option) this.take(option.dataset.id!);
    });
  }

  update(cloths: readonly Cloth[], value: string, units: UnitChoice): void {
    this.units = units;
    this.cloths = cloths;
    this.value = value;
    const cloth = cloths.find((c) => c.id === value);
    if (this.list.hidden) this.input.value = cloth?.name ?? '';
    refill(
      this.chosen,
      ...(cloth
        ? [
            h('span', {}, figuresOfCloth(cloth, this.units)),
            h('span', { class: 'chip', title: text.table.evidenceHint[cloth.evidence] }, text.table.evidence[cloth.evidence]),
          ]
        : []),
    );
  }

  private open(search: string): void {
    const parts = search.toLowerCase().split(/\s+/).filter(Boolean);
    this.shown = this.cloths.filter((c) => parts.every((p) => `${c.name} ${c.family} ${c.id}`.toLowerCase().includes(p)));
    this.at = this.shown.findIndex((c) => c.id === this.value);
    if (parts.length > 0 && this.at < 0 && this.shown.length > 0) this.at = 0;
    const out: HTMLElement[] = [];
    let group: HTMLElement | null = null;
    let family = '';
    this.shown.forEach((c, i) => {
      if (!group || c.family !== family) {
        family = c.family;
        const name = h('div', { class: 'box-family', id: `${this.list.id}-${out.length}-family` }, text.controls.families[family] ?? family);
        group = h('div', { role: 'group', 'aria-labelledby': name.id }, name);
        out.push(group);
      }
      group.append(
        h(
          'div',
          { role: 'option', id: `${this.list.id}-${i}`, 'aria-selected': String(i === this.at), 'data-id': c.id, class: 'box-option' },
          h('span', { class: 'box-name' }, c.name),
          h('span', { class: 'box-figures' }, `${figuresOfCloth(c, this.units)} · ${text.table.evidence[c.evidence]}`),
        ),
      );
    });
    if (out.length === 0) out.push(h('div', { class: 'box-none' }, words.noneFound));
    this.list.replaceChildren(...out);
    this.list.hidden = false;
    this.input.setAttribute('aria-expanded', 'true');
    refill(this.count, parts.length > 0 ? (this.shown.length > 0 ? words.found(this.shown.length) : words.noneFound) : '');
    this.mark();
  }

  private mark(): void {
    this.list.querySelectorAll('[role=option]').forEach((option, i) => {
      option.setAttribute('aria-selected', String(i === this.at));
      if (i === this.at) option.scrollIntoView({ block: 'nearest' });
    });
    if (this.at >= 0) this.input.setAttribute('aria-activedescendant', `${this.list.id}-${this.at}`);
    else this.input.removeAttribute('aria-activedescendant');
  }

  private press(event: KeyboardEvent): void {
    const { key } = event;
    if (key === 'ArrowDown' || key === 'ArrowUp') {
      event.preventDefault();
      if (this.list.hidden) this.open('');
      else if (this.shown.length > 0) {
        this.at = (this.at + (key === 'ArrowDown' ? 1 : -1) + this.shown.length) % this.shown.length;
        this.mark();
      }
    } else if (key === 'Enter' && !this.list.hidden) {
      event.preventDefault();
      if (this.at >= 0) this.take(this.shown[this.at].id);
    } else if (key === 'Escape' && !this.list.hidden) {
      event.preventDefault();
      this.close(true);
    }
  }

  private take(id: string): void {
    this.value = id;
    this.close(true);
    this.onChoose(id);
  }

  private close(restore: boolean): void {
    this.list.hidden = true;
    this.input.setAttribute('aria-expanded', 'false');
    this.input.removeAttribute('aria-activedescendant');
    if (restore) this.input.value = this.cloths.find((c) => c.id === this.value)?.name ?? '';
  }
}
