import { explained, type Field, selectField, textField } from '../bench/fields.ts';
import { h, uniqueId } from '../page/dom.ts';
import { materialChoices } from '../page/materials.ts';
import { segmentedRow } from '../page/segmented.ts';
import { text } from '../page/text.ts';
import { type Bag, PRICED_BY, THREAD, TRIMS, USES, type Use } from './core.ts';
import { entryOf, faultsOf, type ItemEntry, type ItemFaults, itemForm, NEW_ITEM, type SoldBy, soldAs } from './item.ts';
import type { ShelfValue } from './keeper.ts';
import { free } from './option.ts';
import { words } from './words.ts';

type Own = Readonly<Record<string, unknown>>;
export interface ItemHost {
  readonly bag: Bag;
  /** Swatches of the bag's own, as its file writes them. */ readonly bagMaterials: Own;
  readonly shelf: ShelfValue;
  /** id: the item that is changed; null: a new one. */ readonly id: string | null;
  /** `before` is the name it had. */ readonly keep: (id: string, item: Own, materials: Own) => void;
  readonly cancel: () => void;
}

const TYPED = ['id', 'size', 'reel', 'width', 'sheetWidth', 'sheetLength', 'waste', 'price', 'stock', 'colour', 'thickness', 'bond', 'note'] as const;
type Typed = (typeof TYPED)[number];

/** The form of one material: every fault stands beside its field, and nothing is kept before there is none. */
export class ItemFormView {
  readonly element: HTMLFormElement;
  private entry: ItemEntry;
  private tried = false;
  /** A swatch of the bag's own that was chosen: it comes along with the item. */
  private brought: Own = {};
  private readonly fields: Readonly<Record<Typed, Field>>;
  private readonly material;
  private readonly fusing;
  private readonly uses: HTMLElement;
  private readonly usesFault: (words: string | null) => void;
  private readonly area;
  private readonly sold: HTMLElement;
  private readonly title = h('h3', {});
  constructor(private readonly host: ItemHost) {
    const { bag, shelf, id } = host,
      w = words.form;
    this.entry = id === null ? NEW_ITEM : entryOf(id, shelf.items[id]);
    const field = (key: Typed, label: string, hint = ''): Field =>
      textField(label, hint, { report: (value) => this.change({ [key]: value } as Partial<ItemEntry>) }, `shelf-${key}`);
    this.fields = {
      id: field('id', w.name),
      size: field('size', w.size, w.sizeHint),
      reel: field('reel', w.reel, w.reelHint),
      width: field('width', w.width, w.widthHint),
      sheetWidth: field('sheetWidth', w.sheetWidth),
      sheetLength: field('sheetLength', w.sheetLength),
      waste: field('waste', w.waste, w.wasteHint),
      price: field('price', w.price),
      stock: field('stock', w.stock),
      colour: field('colour', w.colour),
      thickness: field('thickness', w.thickness, w.thicknessHint),
      bond: field('bond', w.bond, w.bondHint),
      note: field('note', w.note),
    };
    const own = Object.keys(shelf.materials ?? {}).map((m) => ({ value: m, label: m, group: w.fromShelf }));
    const all = materialChoices(bag);
    const trims = TRIMS.map((kind) => ({ value: kind, label: all.find((c) => c.id === kind)?.label ?? kind, group: w.trims }));
    const choices = all
      .filter((c) => c.family !== 'webbing' && !own.some((o) => o.value === c.id))
      .map((c) => ({ value: c.id, label: c.label, group: c.family === 'own' ? w.fromBag : (text.controls.families[c.family] ?? c.family) }));
    this.material = selectField(w.material, [...own, ...choices, ...trims], (material) => this.choose(material), 'shelf-material');
    this.fusing = selectField(
      w.fusing,
      Object.entries(w.fusings).map(([value, label]) => ({ value, label })),
      (value) => this.change({ fusing: value as ItemEntry['fusing'] }),
      'shelf-fusing',
    );
    this.area = selectField(
      w.area,
      (['per m2', 'per ft2'] as const).map((value) => ({ value, label: words.per[value] })),
      (value) => this.change({ area: value as ItemEntry['area'] }),
      'shelf-area',
    );
    const boxes = USES.filter((use) => use !== 'trim').map((use) => this.useBox(use));
    const group = h('fieldset', { class: 'shelf-uses' }, h('legend', {}, w.use), ...boxes);
    const said = explained(group);
    this.usesFault = said.fault;
    this.uses = h('div', { class: 'field' }, group, said.hint, said.faultLine);
    this.sold = h('div', {});
    this.offerWays();
    const f = this.fields;
    const pair = (...inside: HTMLElement[]): HTMLElement => h('div', { class: 'shelf-pair' }, ...inside);
    const more = h('details', { class: 'bench-more' }, h('summary', {}, w.more), ...[f.bond, this.fusing, f.note].map((x) => x.element));
    this.element = h(
      'form',
      { class: 'shelf-form', novalidate: true },
      this.title,
      f.id.element,
      this.material.element,
      h('p', { class: 'field-hint' }, w.materialHint),
      this.uses,
      h('p', { class: 'shelf-label' }, w.sold),
      this.sold,
      pair(f.size.element, f.reel.element),
      pair(f.width.element, f.sheetWidth.element, f.sheetLength.element, f.waste.element),
      pair(f.price.element, this.area.element, f.stock.element),
      pair(f.thickness.element, f.colour.element),
      more,
      h(
        'div',
        { class: 'bench-run' },
        h('button', { type: 'submit', class: 'plain strong' }, w.keep),
        h('button', { type: 'button', class: 'plain', onclick: () => host.cancel() }, w.cancel),
      ),
    );
    this.element.addEventListener('submit', (event) => {
      event.preventDefault();
      this.keep();
    });
    this.element.addEventListener('keydown', (event) => event.key === 'Escape' && host.cancel());
    this.title.textContent = id === null ? w.added : w.changed(id);
    for (const key of TYPED) f[key].input.value = this.entry[key];
    this.material.select.value = this.entry.material;
    this.fusing.select.value = this.entry.fusing;
    this.area.select.value = this.entry.area;
    this.update();
  }

  focus(): void {
    this.fields.id.input.focus();
  }

  private useBox(use: Use): HTMLElement {
    const id = uniqueId('use');
    const input = h('input', { type: 'checkbox', id, 'data-use': use, checked: this.entry.uses.includes(use) });
    input.addEventListener('change', () =>
      this.change({ uses: USES.filter((u) => this.uses.querySelector<HTMLInputElement>(`[data-use="${u}"]`)?.checked === true) }),
    );
    return h('span', { class: 'shelf-use' }, input, h('label', { for: id }, words.uses[use]));
  }

  /** A swatch of the bag's own comes along; where the shelf has another of that name, under a name of its own. */
  private choose(material: string): void {
    const { shelf, bagMaterials } = this.host,
      own = shelf.materials ?? {};
    this.brought = {};
    let name = material;
    if (!Object.hasOwn(own, material) && Object.hasOwn(bagMaterials, material)) {
      name = free(material, (n) => Object.hasOwn(own, n));
      this.brought = { [name]: bagMaterials[material] };
    }
    const ways = soldAs(name),
      was = this.entry.uses.includes('trim');
    this.change({
      material: name,
      ...(ways ? { uses: ['trim'] as const, sold: ways[0]! } : was ? { uses: NEW_ITEM.uses, sold: NEW_ITEM.sold } : {}),
    });
    if (ways || was) this.offerWays();
  }

  /** Ways in which this kind of thing is sold. */
  private offerWays(): void {
    const ways =
      soldAs(this.entry.material) ?? (this.entry.uses.includes('trim') ? (['length', 'piece'] as const) : (['metre', 'area', 'sheet', 'none'] as const));
    const row = segmentedRow<SoldBy>(
      words.form.sold,
      ways.map((value) => ({ value, label: words.sold[value] })),
      this.entry.sold,
      (value) => this.change({ sold: value }),
    );
    this.sold.replaceChildren(row.element);
  }

  private change(part: Partial<ItemEntry>): void {
    this.entry = { ...this.entry, ...part };
    this.update();
  }

  private judged(): { readonly item: Own; readonly faults: ItemFaults | null } {
    const { shelf, id } = this.host;
    const item = itemForm(this.entry, id === null ? {} : shelf.items[id]);
    const taken = (name: string): boolean => name !== id && Object.hasOwn(shelf.items, name);
    return { item, faults: faultsOf(this.entry, item, taken, { ...shelf.materials, ...this.brought }) };
  }

  private update(): void {
    const { entry, fields: f } = this,
      { sold } = entry;
    const trim = entry.uses.includes('trim');
    this.uses.hidden = trim;
    f.size.element.hidden = !trim || entry.material === THREAD;
    f.reel.element.hidden = sold !== 'reel';
    f.thickness.element.hidden = trim;
    this.fusing.element.hidden = trim;
    f.width.element.hidden = sold !== 'metre';
    f.sheetWidth.element.hidden = sold !== 'sheet';
    f.sheetLength.element.hidden = sold !== 'sheet';
    f.waste.element.hidden = sold !== 'area';
    f.price.element.hidden = sold === 'none';
    this.area.element.hidden = sold !== 'area';
    f.stock.element.hidden = sold === 'none';
    f.price.label.textContent = sold === 'area' || sold === 'none' ? words.form.price : `${words.form.price} ${words.per[PRICED_BY[sold]]}`;
    f.stock.hint.textContent = words.form.stockHints[sold];
    f.bond.element.hidden = !entry.uses.includes('fused');
    if (this.tried) this.tell(this.judged().faults ?? {});
  }

  private tell(faults: ItemFaults): void {
    for (const key of TYPED) this.fields[key].fault(faults[key] ?? null);
    this.material.fault(faults.material ?? null);
    this.fusing.fault(faults.fusing ?? null);
    this.usesFault(faults.uses ?? null);
  }

  private keep(): void {
    this.tried = true;
    const { item, faults } = this.judged();
    this.tell(faults ?? {});
    if (faults) {
      if (faults.bond || faults.note || faults.fusing) this.element.querySelector('details')!.open = true;
      this.element.querySelector<HTMLElement>('[aria-invalid="true"]:is(input, select), [aria-invalid="true"] input')?.focus();
      return;
    }
    this.host.keep(this.entry.id.trim(), item, this.brought);
  }
}
