import type { Bag } from '../core.ts';
import { h, uniqueId } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { materialChoices } from '../page/materials.ts';
import { segmentedRow } from '../page/segmented.ts';
import { text } from '../page/text.ts';
import { explained, type Field, selectField, textField } from './fields.ts';
import { COLUMNS, type Column, columnsOf, DIRECTIONS, type Direction, type Key, METHODS, type OwnEntry } from './own-entries.ts';
import { OwnPhotos } from './own-photos.ts';
import { words } from './words.ts';

export interface OwnWishes {
  change(entry: OwnEntry): void;
  work(): void;
  /** Opens the sheet in which a picture is marked. */ photo(): void;
  clear(): void;
}

interface Cell {
  readonly input: HTMLInputElement;
  readonly element: HTMLElement;
  readonly fault: (words: string | null) => void;
}

const own = words.swatch;

/** The form of "My swatch": the cut piece, the tools, the strips. Faults stand beside their fields, all at once. */
export class OwnForm {
  readonly element: HTMLElement;
  private readonly fields = new Map<Key, Field>();
  private readonly cells = new Map<Key, Cell>();
  private readonly heads = new Map<Column, HTMLElement>();
  private readonly like;
  private readonly method;
  private readonly hint = h('p', { class: 'bench-how' });
  private readonly several = h('p', { class: 'field-hint' });
  private readonly fused: HTMLInputElement;
  private readonly strips: HTMLElement;
  private readonly photos: OwnPhotos;
  private units: UnitChoice = 'metric';
  private readonly summary = h('div', { class: 'own-summary', role: 'alert' });
  constructor(
    bag: Bag,
    private entry: OwnEntry,
    private readonly wishes: OwnWishes,
  ) {
    const field = (key: Key, label: string, hint = '', attributes: Readonly<Record<string, string>> = {}): HTMLElement => {
      const made = textField(label, hint, { report: (value) => this.type(key, value) }, `own ${key}`, attributes);
      this.fields.set(key, made);
      return made.element;
    };
    const built = materialChoices({ ...bag, materials: [] });
    this.like = selectField(
      own.like,
      built.map((m) => ({ value: m.id, label: m.label, group: text.controls.families[m.family] ?? m.family })),
      (v) => this.type('like', v),
      'own like',
    );
    this.like.element.querySelector('.field-hint')!.textContent = own.likeHint;
    this.method = segmentedRow(
      own.method,
      METHODS.map((value) => ({ value, label: own.methods[value] })),
      'overhang',
      (method) => {
        this.set({ ...this.entry, method });
        this.wishes.change(this.entry);
      },
    );
    this.fused = h('input', { type: 'checkbox', onchange: () => this.change({ ...this.entry, fused: this.fused.checked }) });
    this.fused.dataset.key = 'own fused';
    this.strips = this.table();
    this.photos = new OwnPhotos(
      () => this.wishes.photo(),
      (photos) => {
        this.set({ ...this.entry, photos });
        this.wishes.change(this.entry);
      },
    );
    const form = h(
      'form',
      { class: 'own-form', 'aria-label': words.screen.own, novalidate: true },
      h('p', { class: 'bench-how' }, own.intro),
      this.summary,
      h('div', { class: 'own-row' }, field('name', own.name), this.like.element),
      h(
        'fieldset',
        { class: 'own-set' },
        h('legend', {}, own.piece),
        h(
          'div',
          { class: 'own-row' },
          field('weight', own.weight, own.such.weight),
          field('pieceLength', own.pieceLength),
          field('pieceWidth', own.pieceWidth),
          field('thickness', own.thickness, own.optional),
        ),
      ),
      h(
        'fieldset',
        { class: 'own-set' },
        h('legend', {}, own.tools),
        h(
          'div',
          { class: 'own-row' },
          field('scale', own.scale, own.such.scale),
          field('ruler', own.ruler, own.such.ruler),
          field('stripLength', own.stripLength, own.optional),
        ),
      ),
      h('h2', {}, own.method),
      this.method.element,
      this.hint,
      this.strips,
      this.photos.element,
      this.several,
      h('label', { class: 'own-check' }, this.fused, h('span', {}, own.fused)),
      h(
        'div',
        { class: 'bench-run' },
        h('button', { type: 'submit', class: 'plain strong' }, own.work),
        h('button', { type: 'button', class: 'plain', onclick: () => this.wishes.clear() }, own.clear),
      ),
    );
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.wishes.work();
    });
    this.element = form;
    this.set(entry);
  }

  private table(): HTMLElement {
    const ids = new Map<Column, string>();
    for (const column of COLUMNS) {
      const id = uniqueId('column');
      ids.set(column, id);
      this.heads.set(column, h('th', { scope: 'col', id }));
    }
    const row = (direction: Direction): HTMLElement => {
      const rowId = uniqueId('row');
      const cell = (column: Column): HTMLElement => {
        const key: Key = `${direction} ${column}`;
        const input = h('input', { type: 'text', autocomplete: 'off', spellcheck: 'false', 'aria-labelledby': `${rowId} ${ids.get(column)}` });
        input.dataset.key = `own ${key}`;
        input.addEventListener('input', () => this.type(key, input.value));
        const { faultLine, fault, hint } = explained(input);
        const element = h('td', { class: `own-${column}` }, input, hint, faultLine);
        this.cells.set(key, { input, element, fault });
        return element;
      };
      const optional = direction === 'bias' ? h('small', {}, own.optional) : '';
      return h('tr', {}, h('th', { scope: 'row', id: rowId }, own.directions[direction], optional), ...COLUMNS.map(cell));
    };
    return h(
      'table',
      { class: 'own-strips' },
      h('thead', {}, h('tr', {}, h('td', {}), ...COLUMNS.map((c) => this.heads.get(c)!))),
      h('tbody', {}, ...DIRECTIONS.map(row)),
    );
  }

  private type(key: Key, value: string): void {
    this.change({ ...this.entry, typed: { ...this.entry.typed, [key]: value } });
  }

  private change(entry: OwnEntry): void {
    this.entry = entry;
    this.wishes.change(entry);
  }

  /** Shows an entry. */
  set(entry: OwnEntry, units: UnitChoice = this.units): void {
    [this.entry, this.units] = [entry, units];
    for (const key of ['pieceLength', 'pieceWidth'] as const) this.fields.get(key)!.hint.textContent = own.such.length[entry.unit];
    const { method } = entry;
    for (const [key, { input }] of [...this.fields, ...this.cells]) {
      const typed = entry.typed[key] ?? '';
      if (input.value !== typed) input.value = typed;
    }
    this.like.select.value = entry.typed.like ?? '';
    this.fused.checked = entry.fused;
    this.method.set(method);
    this.hint.textContent = own.methodHints[method];
    this.strips.hidden = method === 'photo';
    this.several.hidden = method === 'photo';
    this.photos.show(method === 'photo' ? entry.photos : null, units);
    this.several.textContent = method === 'pure bending' ? own.severalLab : own.several[entry.unit];
    const columns = columnsOf(method);
    const title: Readonly<Record<Column, string>> = {
      fixed: method === 'heart loop' || method === 'pear loop' ? own.fixed['heart loop'] : own.fixed['tip drop'],
      face: own.columnsOf[method].face,
      back: own.columnsOf[method].back,
      width: own.width,
    };
    for (const column of COLUMNS) {
      const shown = columns.includes(column);
      const head = this.heads.get(column)!;
      head.textContent = title[column];
      head.hidden = !shown;
      for (const d of DIRECTIONS) {
        this.cells.get(`${d} ${column}`)!.element.hidden = !shown;
        this.cells.get(`${d} ${column}`)!.element.dataset.title = title[column];
      }
    }
  }

  /** Every fault beside its field, and how many there are above them. `focus`: go to the first. */
  faults(faults: ReadonlyMap<Key, string>, focus: boolean): void {
    for (const [key, field] of [...this.fields, ...this.cells]) field.fault(faults.get(key) ?? null);
    this.like.fault(faults.get('like') ?? null);
    this.photos.faults(DIRECTIONS.flatMap((d) => (faults.has(`${d} face`) ? [`${own.directions[d]}: ${faults.get(`${d} face`)}`] : [])));
    this.summary.replaceChildren(...(faults.size > 0 ? [h('strong', {}, words.faultsTitle(faults.size))] : []));
    if (focus && faults.size > 0) this.element.querySelector<HTMLElement>('[aria-invalid]')?.focus();
  }
}
