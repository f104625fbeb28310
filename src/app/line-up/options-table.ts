import { SEVERITY } from '../core.ts';
import { h, refill } from '../page/dom.ts';
import * as f from '../page/format.ts';
import { optionTitles } from '../page/materials.ts';
import type { Column, State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { restsOn } from './comparison-table.ts';
import { endWord, type Figures, figuresOf } from './figures.ts';
import { words } from './options-words.ts';

/** One option with its figures; null figures: nothing settled yet. */
interface Entry {
  readonly column: Column;
  readonly figures: Figures | null;
}

interface Field {
  readonly key: string;
  /** The stance that alone has such a figure; both when left out. */ readonly only?: 'hung' | 'standing';
  readonly label: string;
  /** What rows are sorted by; null sorts last whichever way. */ readonly rank: (e: Figures) => number | string | null;
  /** The value in words, and the difference to another option's; '' where it makes no sense. */
  readonly show: (e: Figures, units: f.UnitChoice) => string;
  readonly apart?: (e: Figures, to: Figures, units: f.UnitChoice) => string;
}

const both = (metres: number, units: f.UnitChoice): string => {
  const { main, beside } = f.length(metres, units);
  return beside ? `${main} (${beside})` : main;
};
const signed = (value: number, show: (size: number) => string, least: number): string =>
  Math.abs(value) < least ? words.same : `${value > 0 ? '+' : '−'}${show(Math.abs(value))}`;

/** Mass to the gram that is shown, kg, so that differences are those of the figures beside them. */
const grams = (e: Figures): number => Math.round(1000 * e.massKg) / 1000;

/** A figure of hung bags. least: differences under it are none. */
function hungField(
  key: string,
  label: string,
  of: (hung: NonNullable<Figures['hung']>) => number | null,
  show: (value: number, units: f.UnitChoice) => string,
  least: number,
): Field {
  const value = (e: Figures): number | null => (e.hung ? of(e.hung) : null);
  return {
    key,
    label,
    only: 'hung',
    rank: value,
    show: (e, units) => {
      const v = value(e);
      return v === null ? text.table.none : show(v, units);
    },
    apart: (e, to, units) => {
      const [v, w] = [value(e), value(to)];
      return v === null || w === null ? '' : signed(v - w, (size) => show(size, units), least);
    },
  };
}

const FIELDS: readonly Field[] = [
  {
    key: 'verdict',
    label: text.table.verdict,
    rank: (e) => SEVERITY.indexOf(e.word),
    show: (e) => e.word,
  },
  {
    key: 'kept',
    only: 'standing',
    label: text.table.heightKept,
    rank: (e) => e.heightKept?.mid ?? null,
    show: (e) => (e.heightKept ? f.percent(e.heightKept.mid) : text.table.none),
    apart: (e, to) => (e.heightKept && to.heightKept ? signed(e.heightKept.mid - to.heightKept.mid, (v) => words.points(Math.round(100 * v)), 0.005) : ''),
  },
  {
    key: 'drop',
    only: 'standing',
    label: text.table.droop,
    rank: (e) => e.droop,
    show: (e, units) => (e.droop === null ? text.table.none : e.heap ? f.aboutLength(e.droop, units) : both(e.droop, units)),
    apart: (e, to, units) => (e.droop === null || to.droop === null ? '' : signed(e.droop - to.droop, (v) => both(v, units), 5e-4)),
  },
  {
    key: 'weight',
    label: text.table.weight,
    rank: (e) => e.massKg,
    show: (e) => f.mass(e.massKg),
    apart: (e, to) => signed(grams(e) - grams(to), f.mass, 5e-4),
  },
  {
    key: 'bulk',
    label: text.table.bulk,
    rank: (e) => e.bulk?.thickness ?? null,
    show: (e, units) => (e.bulk ? both(e.bulk.thickness, units) : text.table.none),
    apart: (e, to, units) => (e.bulk && to.bulk ? signed(e.bulk.thickness - to.bulk.thickness, (v) => both(v, units), 5e-5) : ''),
  },
  { key: 'first', label: text.table.first, rank: (e) => e.givesWayFirst, show: (e) => e.givesWayFirst ?? (e.fell ? text.table.none : text.table.nothing) },
  {
    key: 'band',
    only: 'standing',
    label: words.band,
    rank: (e) => e.heightKept?.least ?? null,
    show: (e) => (e.heightKept ? words.of(endWord(e.heightKept.low), f.percent(e.heightKept.mid), endWord(e.heightKept.high)) : text.table.none),
  },
  hungField(
    'tilt',
    text.table.tilt,
    (hung) => hung.tilt,
    (v) => f.angle(v),
    9e-4,
  ),
  hungField('mouthSag', text.table.mouthSag, (hung) => hung.mouthSag, f.percent, 0.005),
  hungField('baseSag', text.table.baseSag, (hung) => hung.baseSag, both, 5e-4),
  hungField('pull', words.pull, (hung) => hung.pull, f.pull, 0.2),
];

/** The options as rows: sorted by any column, with values or with differences to one of them. */
export class CompareTable {
  private readonly select = h('select', { class: 'plain', id: 'compare-with' });
  private readonly note = h('p', { class: 'compare-note' });
  private readonly caption = h('caption', { class: 'away' });
  private readonly body = h('tbody');
  private readonly heads: ReadonlyMap<string, HTMLElement>;
  private sort: { readonly key: string; readonly down: boolean } = { key: 'option', down: false };
  private latest: { readonly state: State; readonly chosen: number | null } | null = null;
  readonly element: HTMLElement;

  constructor(
    private readonly point: (panel: string | null) => void,
    compared: (letter: string) => void,
    private readonly putOnMat: (option: string, on: boolean) => void,
  ) {
    const all = [{ key: 'option', label: words.option }, ...FIELDS];
    this.heads = new Map(
      all.map(({ key, label }) => [
        key,
        h(
          'th',
          { scope: 'col', 'aria-sort': 'none' },
          h('button', { type: 'button', class: 'sorter', onclick: () => this.sortBy(key) }, label, h('span', { class: 'sort-sign', 'aria-hidden': 'true' })),
        ),
      ]),
    );
    this.select.addEventListener('change', () => {
      this.draw();
      compared(this.select.value);
    });
    this.element = h(
      'div',
      {},
      h('div', { class: 'compare-top' }, h('h2', {}, words.title), h('label', { for: 'compare-with' }, words.against), this.select, this.note),
      h(
        'div',
        { class: 'compare-scroll', tabindex: 0, role: 'region', 'aria-label': words.title },
        h(
          'table',
          { class: 'differences' },
          this.caption,
          h('thead', {}, h('tr', {}, ...this.heads.values(), h('th', { scope: 'col' }, words.onMat))),
          this.body,
        ),
      ),
    );
  }

  private sortBy(key: string): void {
    this.sort = { key, down: this.sort.key === key && !this.sort.down };
    this.draw();
  }

  update(state: State, chosen: number | null): void {
    const { columns } = state;
    this.latest = { state, chosen };
    const now = this.select.value;
    refill(this.select, h('option', { value: '' }, words.values), ...columns.map((c) => h('option', { value: c.letter }, words.optionOf(c.letter))));
    this.select.value = columns.some((c) => c.letter === now) ? now : '';
    this.draw();
  }

  /** Shows the differences to the option of this letter, '' for none. */
  compareWith(letter: string): void {
    this.select.value = letter;
    this.draw();
  }

  private draw(): void {
    if (!this.latest) return;
    const { chosen, state } = this.latest;
    const { columns, preferences, bag } = state;
    const [wanted, { units }] = [bag.wanted, preferences];
    const entries: Entry[] = columns.map((column) => ({ column, figures: column.result ? figuresOf(column.result) : null }));
    const to = entries.find((e) => e.column.letter === this.select.value) ?? null;
    this.caption.textContent = words.caption(to?.column.letter ?? null);
    const field = FIELDS.find((k) => k.key === this.sort.key);
    const rank = (e: Entry): number | string | null => (field ? e.figures && field.rank(e.figures) : e.column.letter);
    const sign = this.sort.down ? -1 : 1;
    const order = [...entries].sort((a, b) => {
      const [x, y] = [rank(a), rank(b)];
      if (x === null || y === null) return x === y ? 0 : x === null ? 1 : -1;
      return x === y ? a.column.letter.localeCompare(b.column.letter) : sign * (x < y ? -1 : 1);
    });
    for (const [key, head] of this.heads) head.setAttribute('aria-sort', key !== this.sort.key ? 'none' : this.sort.down ? 'descending' : 'ascending');
    const focused = document.activeElement as HTMLElement | null;
    const held = focused?.dataset?.points;
    const ticked = focused?.dataset?.option;
    const hung = entries.some((e) => e.figures?.hung);
    for (const { key, only } of FIELDS) this.heads.get(key)!.hidden = only !== undefined && (only === 'hung') !== hung;
    const away = bag.options.map((o) => o.name).filter((name) => !columns.some((c) => c.option === name));
    const titles = optionTitles(
      bag,
      bag.options.map((o) => o.name),
    );
    refill(
      this.body,
      ...order.map((e) => this.row(e, to, e.column === columns[chosen ?? -1], wanted, units)),
      ...away.map((name) => this.awayRow(name, titles[bag.options.findIndex((o) => o.name === name)], units)),
    );
    for (const box of this.body.querySelectorAll<HTMLInputElement>('[data-option]')) {
      box.checked = columns.some((c) => c.option === box.dataset.option);
      box.onchange = () => this.putOnMat(box.dataset.option!, box.checked);
    }
    if (ticked !== undefined) this.body.querySelector<HTMLElement>(`[data-option="${CSS.escape(ticked)}"]`)?.focus();
    if (held) this.body.querySelector<HTMLElement>(`[data-points="${CSS.escape(held)}"]`)?.focus();
    for (const button of this.body.querySelectorAll<HTMLElement>('[data-panel]')) this.listen(button);
    refill(this.note, this.reason(entries, chosen, wanted));
  }

  private listen(button: HTMLElement): void {
    const on = (): void => this.point(button.dataset.panel ?? null);
    const off = (): void => this.point(null);
    button.onpointerenter = on;
    button.onfocus = on;
    button.onpointerleave = off;
    button.onblur = off;
  }

  private row({ column, figures }: Entry, to: Entry | null, chosen: boolean, wanted: keyof typeof text.controls.wants, units: f.UnitChoice): HTMLElement {
    const mark = chosen ? h('span', { class: 'lightest' }, words.lightest(text.controls.wants[wanted])) : null;
    const cells = FIELDS.map((field) => {
      const { hidden } = this.heads.get(field.key)!;
      const weight = figures && !column.stale ? undefined : this.latest?.state.weights[column.option];
      if (!figures || (weight && (field.key === 'weight' || field.key === 'bulk'))) {
        const early =
          field.key === 'weight' && weight ? f.mass(weight.massKg) : field.key === 'bulk' && weight?.bulk ? both(weight.bulk.thickness, units) : null;
        return h('td', { hidden: hidden || null }, early ?? text.table.none);
      }
      const apart = to?.figures && to.column !== column ? (field.apart?.(figures, to.figures, units) ?? '') : '';
      // The bag is drafted anew: a word from before would be read as its own.
      const shown = column.stale && field.key === 'verdict' ? (column.early ?? text.stage.settling) : field.show(figures, units);
      const panel = field.key === 'first' ? figures.givesWayFirst : null;
      const value = panel
        ? h('button', { type: 'button', class: 'panel-name', 'data-panel': panel, 'data-points': `${column.letter} ${panel}` }, panel)
        : shown;
      return h('td', { hidden: hidden || null }, value, apart ? h('span', { class: 'apart-by' }, apart) : null);
    });
    const basis = column.stale ? text.stage.stale : restsOn(column),
      stale = basis ? h('span', { class: 'stale-note' }, basis) : null;
    return h(
      'tr',
      { class: `${chosen ? 'chosen' : ''} ${column.stale ? 'stale' : ''}`.trim() || null },
      h('th', { scope: 'row' }, `${column.letter}: ${column.title}`, mark, stale),
      ...cells,
      this.tick(column.option, `${column.letter}: ${column.title}`),
    );
  }

  private tick(option: string, title: string): HTMLElement {
    return h('td', { class: 'on-mat' }, h('input', { type: 'checkbox', 'data-option': option, 'aria-label': words.onMatOf(title) }));
  }

  /** An option that is kept and not on the mat: what is known of it without settling. */
  private awayRow(option: string, title: string, units: f.UnitChoice): HTMLElement {
    const weight = this.latest?.state.weights[option];
    const known: Readonly<Record<string, string>> = {
      verdict: words.notOnMat,
      weight: weight ? f.mass(weight.massKg) : text.table.none,
      bulk: weight?.bulk ? both(weight.bulk.thickness, units) : text.table.none,
    };
    const cells = FIELDS.map((field) => h('td', { hidden: this.heads.get(field.key)!.hidden || null }, known[field.key] ?? text.table.none));
    return h('tr', { class: 'away-option' }, h('th', { scope: 'row' }, title), ...cells, this.tick(option, title));
  }

  private reason(entries: readonly Entry[], chosen: number | null, wanted: keyof typeof text.controls.wants): string {
    const look = text.controls.wants[wanted];
    if (chosen === null) return entries.every((e) => e.figures && !e.column.stale && !e.column.partial) ? words.noneMeets(look) : '';
    const best = entries[chosen];
    const others = entries.filter((e, i) => i !== chosen && !e.column.stale && e.column.result?.verdict.meetsWanted);
    const next = others.sort((a, b) => a.figures!.massKg - b.figures!.massKg)[0];
    const why = next
      ? words.lighter(f.mass(grams(next.figures!) - grams(best.figures!)), next.column.letter)
      : entries.every((e) => e.figures && !e.column.stale && !e.column.partial)
        ? words.only
        : words.onlyYet;
    return `${best.column.letter}: ${words.lightest(look)}, ${f.mass(best.figures!.massKg)}. ${why}`;
  }
}
