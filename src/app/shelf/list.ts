import { textField } from '../bench/fields.ts';
import { saveFile } from '../page/browser-storage.ts';
import { h, refill } from '../page/dom.ts';
import { lengthText } from '../page/format.ts';
import { readFile } from '../page/read-file.ts';
import type { State } from '../page/store.ts';
import { BagError, PRICED_BY, parseShelfDocument, type ShelfItem, shelfCsv, shelfFromCsv, startShelf } from './core.ts';
import { ItemFormView } from './item-form.ts';
import { ShelfKeeper, type ShelfValue } from './keeper.ts';
import { merged } from './merge.ts';
import { words } from './words.ts';

/** Faults that are listed of a file at most. */
const MOST_FAULTS = 20;

/** What lies on the shelf: a list, a form for one material, files in and out. */
export class ShelfList {
  readonly element: HTMLElement;
  readonly keeper: ShelfKeeper;
  private readonly head = h('p', { class: 'shelf-count' });
  private readonly note = h('div', { class: 'shelf-note', role: 'status' });
  private readonly items = h('ul', { class: 'shelf-items' });
  private readonly place = h('div', { class: 'shelf-edit' });
  private readonly start: HTMLElement;
  private readonly out: HTMLElement;
  private readonly adding = h('button', { type: 'button', class: 'plain strong', onclick: () => this.edit(null) }, words.add);
  private readonly currency = textField(words.currency, words.currencyHint, { report: () => {}, done: () => void this.setCurrency() }, 'shelf-currency');
  private form: ItemFormView | null = null;
  constructor(
    private readonly state: () => State,
    private readonly changed: () => void,
  ) {
    this.keeper = new ShelfKeeper(() => this.draw());
    const file = h('input', { type: 'file', accept: '.json,.csv,application/json,text/csv', class: 'away', tabindex: -1, 'aria-hidden': 'true' });
    file.addEventListener('change', () => {
      const chosen = file.files?.[0];
      file.value = '';
      if (chosen) void this.openFile(chosen);
    });
    const button = (label: string, act: () => void, title: string | null = null): HTMLElement =>
      h('button', { type: 'button', class: 'plain', title, onclick: act }, label);
    this.start = h(
      'div',
      { class: 'shelf-start' },
      button(words.example, () => void this.begin()),
      h('span', { class: 'field-hint' }, words.exampleHow),
    );
    this.out = h(
      'div',
      { class: 'sheet-row' },
      button(words.save, () => this.tell(words.saved(saveFile(this.name, `${JSON.stringify(this.keeper.value, null, 2)}\n`, 'shelf')))),
      button(words.saveTable, () => this.tell(words.saved(saveFile(this.name, shelfCsv({ value: this.keeper.value }), 'shelf', 'csv')))),
    );
    this.element = h(
      'section',
      { class: 'bench-form shelf-list', 'aria-labelledby': 'shelf-title' },
      h('h2', { id: 'shelf-title' }, words.title),
      h('p', { class: 'bench-how' }, words.how),
      this.head,
      h(
        'div',
        { class: 'sheet-row' },
        this.adding,
        button(words.open, () => file.click(), words.openHint),
        file,
      ),
      this.start,
      this.note,
      this.place,
      this.items,
      this.currency.element,
      this.out,
    );
    void this.keeper.load();
  }

  private get name(): string {
    return this.keeper.value.name ?? words.title;
  }

  private tell(...lines: (Node | string)[]): void {
    this.note.replaceChildren(...lines.map((line) => (typeof line === 'string' ? h('p', {}, line) : line)));
  }

  private async begin(): Promise<void> {
    await this.keeper.change((now) => merged(now, startShelf.value as ShelfValue).value);
    this.tell(words.exampleDone);
    this.adding.focus();
  }

  private async setCurrency(): Promise<void> {
    const currency = this.currency.input.value.trim().slice(0, 20);
    if (currency !== (this.keeper.value.currency ?? '')) await this.keeper.change((now) => ({ ...now, currency }));
  }

  /** A shelf file or a table, added to what is there; nothing that is there is written over. */
  async openFile(file: File): Promise<void> {
    const read = await readFile(file);
    if ('text' in read) await this.openText(read.text, file.name);
    else this.refuse(file.name, [words.fault('', read.got, read.expected)]);
  }

  async openText(source: string, name: string): Promise<void> {
    try {
      // What looks like a table is one; anything else is judged as a shelf file.
      const table = !/^\s*[{[]/.test(source.replace(/^\uFEFF/, ''));
      const { document } = parseShelfDocument(table ? shelfFromCsv(source, { value: { ...this.keeper.value, items: {} } }).value : source);
      let found = { added: 0, same: 0, renamed: 0 };
      await this.keeper.change((now) => {
        const made = merged(now, document.value as ShelfValue);
        found = made;
        return made.value;
      });
      this.tell(words.imported(found.added, found.same, found.renamed));
    } catch (error) {
      if (!(error instanceof BagError)) throw error;
      this.refuse(
        name,
        error.faults.map((f) => words.fault(f.path, f.got, f.expected)),
      );
    }
  }

  private refuse(name: string, faults: readonly string[]): void {
    const listed = faults.slice(0, MOST_FAULTS);
    if (faults.length > MOST_FAULTS) listed.push(words.tooMany(faults.length - MOST_FAULTS));
    this.tell(words.notRead(name), h('ul', { class: 'sheet-faults' }, ...listed.map((f) => h('li', {}, f))));
  }

  /** Opens the form of a material; null: of a new one. */
  private edit(id: string | null): void {
    const { bag, form } = this.state();
    this.tell();
    this.form = new ItemFormView({
      bag,
      bagMaterials: (form.materials ?? {}) as Readonly<Record<string, unknown>>,
      shelf: this.keeper.value,
      id,
      keep: (name, item, materials) => void this.keep(id, name, item, materials),
      cancel: () => this.close(id),
    });
    this.draw();
    this.form.focus();
  }

  private close(id: string | null): void {
    this.form = null;
    this.draw();
    const back = id === null ? this.adding : this.items.querySelector<HTMLElement>(`[data-item="${CSS.escape(id)}"] button`);
    (back ?? this.adding).focus();
  }

  private async keep(before: string | null, name: string, item: unknown, materials: Readonly<Record<string, unknown>>): Promise<void> {
    await this.keeper.change((now) => {
      const entries = Object.entries(now.items);
      const at = entries.findIndex(([id]) => id === before);
      const next = at < 0 ? [...entries, [name, item] as const] : entries.map((e, i) => (i === at ? ([name, item] as const) : e));
      const own = { ...now.materials, ...materials };
      return { ...now, items: Object.fromEntries(next), ...(Object.keys(own).length > 0 ? { materials: own } : {}) };
    });
    this.close(name);
    this.tell(words.form.kept(name));
  }

  private async remove(id: string): Promise<void> {
    const { items } = this.keeper.value,
      at = Object.keys(items).indexOf(id),
      item = items[id];
    await this.keeper.change((now) => ({ ...now, items: Object.fromEntries(Object.entries(now.items).filter(([other]) => other !== id)) }));
    const back = h('button', { type: 'button', class: 'plain', onclick: () => void putBack() }, words.back);
    const putBack = async (): Promise<void> => {
      await this.keeper.change((now) => {
        const rest = Object.entries(now.items).filter(([other]) => other !== id);
        return { ...now, items: Object.fromEntries([...rest.slice(0, at), [id, item], ...rest.slice(at)]) };
      });
      this.tell();
      this.items.querySelector<HTMLElement>(`[data-item="${CSS.escape(id)}"] button`)?.focus();
    };
    this.tell(h('p', {}, words.removed(id), ' ', back));
    back.focus();
  }

  /** The shelf as it is read; items that cannot be read are told by their names alone. */
  private read(): ReadonlyMap<string, ShelfItem> {
    const { value } = this.keeper;
    if (Object.keys(value.items).length === 0) return new Map();
    try {
      return new Map(parseShelfDocument(value).shelf.items.map((i) => [i.id, i]));
    } catch (error) {
      if (error instanceof BagError) return new Map();
      throw error;
    }
  }

  /** What stands under a material's name. */
  private about(item: ShelfItem): string {
    const { units } = this.state().preferences,
      { sold, stock } = item,
      w = words;
    const length = (m: number): string => lengthText(m, units);
    const money = (price: number): string => `${Number(price.toFixed(2))}${this.keeper.value.currency ? ` ${this.keeper.value.currency}` : ''}`;
    const per = sold === null ? '' : w.per[PRICED_BY[sold.by]];
    const amount = sold === null ? '' : w.amounts[sold.by];
    return [
      item.size === null ? '' : w.sized(length(item.size)),
      item.thickness === null ? '' : w.gauge(`${Number((1000 * item.thickness).toFixed(2))} mm`),
      sold === null || sold.price === null ? w.noPrice : `${money(sold.price)} ${per}`,
      sold?.by === 'metre'
        ? w.wide(length(sold.width))
        : sold?.by === 'sheet'
          ? w.sheetOf(`${length(sold.width)} × ${length(sold.length)}`)
          : sold?.by === 'reel'
            ? w.reelOf(`${Number(sold.length.toFixed(1))} m`)
            : '',
      stock === null ? '' : w.stockOf(`${Number(stock.toFixed(2))} ${amount}`),
    ]
      .filter((part) => part !== '')
      .join(', ');
  }

  draw(): void {
    const { value, kept } = this.keeper,
      ids = Object.keys(value.items),
      read = this.read();
    refill(this.head, [ids.length === 0 ? words.empty : words.count(ids.length), kept ? '' : words.notKept].filter((w) => w !== '').join(' '));
    this.start.hidden = ids.length > 0;
    this.out.hidden = ids.length === 0;
    this.currency.element.hidden = ids.length === 0;
    if (document.activeElement !== this.currency.input) this.currency.input.value = value.currency ?? '';
    if (this.place.firstElementChild !== (this.form?.element ?? null)) this.place.replaceChildren(...(this.form ? [this.form.element] : []));
    const act = (label: string, id: string, what: () => void): HTMLElement =>
      h('button', { type: 'button', class: 'plain', 'aria-label': words.of(label, id), onclick: what }, label);
    this.items.hidden = this.form !== null;
    this.items.replaceChildren(
      ...ids.map((id) => {
        const item = read.get(id);
        return h(
          'li',
          { 'data-item': id },
          h('strong', {}, id),
          h(
            'span',
            { class: 'shelf-about' },
            ...(item ? [item.name === id ? '' : item.name, item.uses.map((u) => words.uses[u]).join(', '), this.about(item)] : [])
              .filter((line) => line !== '')
              .map((line) => h('span', {}, line)),
          ),
          h(
            'span',
            { class: 'shelf-acts' },
            act(words.edit, id, () => this.edit(id)),
            act(words.remove, id, () => void this.remove(id)),
          ),
        );
      }),
    );
    this.changed();
  }
}
