import { aroundWords, type Bag, HANGING_CAUTIONS } from '../core.ts';
import { h, refill } from '../page/dom.ts';
import * as f from '../page/format.ts';
import type { Column, State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { bulkCell, type Cell, ROWS, type Row } from './comparison-rows.ts';
import { droopingStrip, STRIP_LENGTH, stripSign } from './drooping-strip.ts';
import { type Figures, figuresOf } from './figures.ts';
import type { Measured } from './measure-marks.ts';

/** `open`: the rest of the reason is unfolded. */
function verdictCell(own: Figures, chosen: string | null, units: f.UnitChoice, open: boolean): Cell {
  const { points, angle } = own.wall ? droopingStrip(own.wall.overhang) : { points: [], angle: 0 };
  const side = f.lengthText(STRIP_LENGTH, units);
  const degrees = `${Math.round((angle * 180) / Math.PI)}${text.units.degrees}`;
  return [
    h('div', { class: 'verdict' }, own.wall && points.length > 0 && stripSign(own.wall.overhang), h('strong', { class: 'verdict-word' }, own.word)),
    own.pips === '' ? '' : h('p', { class: 'pips' }, own.pips),
    h('p', { class: 'reason' }, f.told([own.reason, own.miss, chosen ?? ''].filter((w) => w !== '').join(' '), units)),
    own.details === ''
      ? ''
      : h('details', { class: 'reason-more', open }, h('summary', {}, text.table.more), h('p', { class: 'reason' }, f.told(own.details, units))),
    own.wall ? h('p', { class: 'away' }, text.table.strip(degrees, side)) : '',
  ];
}

/** A word that is certain, of a bag whose figures are still to come. */
const earlyCell = (word: string): Cell => [
  h('div', { class: 'verdict' }, h('strong', { class: 'verdict-word' }, word)),
  h('p', { class: 'reason' }, text.stage.early),
];

/** Rows whose heading shows on the bags where their figure was read. */
const SHOWN: readonly string[] = ['heightKept', 'droop', 'lean', 'pulls'] satisfies readonly Measured[];

/** What a verdict rests on, where that is not simply the whole band of the inputs as they are. */
export const restsOn = (column: Column): string => {
  const goesOn = column.problem === null;
  const unfinished = text.stage[column.coarse ? (goesOn ? 'coarse' : 'coarseOnly') : goesOn ? 'partial' : 'middleOnly'];
  const words = column.partial && !column.stale ? (column.checking && goesOn ? text.stage.checking[column.checking] : unfinished) : '';
  const ground = column.result && !column.stale ? aroundWords(column.result) : '';
  return [words, ground].filter((w) => w !== '').join('; ');
};

const noteOf = (column: Column): HTMLElement | string => {
  const words = restsOn(column);
  return words === '' ? '' : h('p', { class: 'stale-note' }, words);
};

/** A seam by the panels it joins: a letter would read as an option's. A seam that has a word for a name keeps it. */
function seamWords(bag: Bag, name: string): string {
  if (!/^[A-Z]\d?$/.test(name)) return name;
  const seam = bag.seams.find((s) => s.name === name);
  const panels = [...new Set(seam?.sides.flat().map((run) => run.panel))];
  return panels.length === 0 ? name : text.table.seam(panels);
}

/** The comparison under the mat: a real table whose columns stand under the bays. Updated cell by cell. */
export class ComparisonTable {
  readonly element = h('table', { class: 'compare' });
  private heads: HTMLElement[] = [];
  private cells: HTMLElement[][] = [];
  private cautions = h('tr');
  private rowsOf: Record<'hung' | 'standing' | 'closures', HTMLElement[]> = { hung: [], standing: [], closures: [] };

  private readonly engineer = h('button', { type: 'button', class: 'engineer', 'aria-expanded': 'false' }, text.table.engineer);

  /** need: an option that misses what is wanted is asked about. */
  constructor(
    private readonly show: (figure: Measured) => void,
    private readonly need: (option: string) => void,
  ) {}

  private heading(key: string, label: string): Node | string {
    if (!SHOWN.includes(key)) return label;
    const hint = text.measured.show(label);
    return h(
      'button',
      { type: 'button', class: 'shows', title: hint, 'aria-pressed': 'false', 'data-figure': key, onclick: () => this.show(key as Measured) },
      label,
    );
  }

  /** Marks the row whose figure is shown on the bags. */
  mark(figure: Measured | null): void {
    for (const b of this.element.querySelectorAll<HTMLElement>('.shows')) b.setAttribute('aria-pressed', String(b.dataset.figure === figure));
  }

  /** Named by its option, so that a cell whose option has changed is another one. */
  private needButton({ option, letter }: Column): HTMLElement {
    const label = `${text.table.need} ${letter}`;
    return h('button', { type: 'button', class: 'plain need', 'aria-label': label, 'data-need': option, onclick: () => this.need(option) }, text.table.need);
  }

  private fold(rows: readonly HTMLElement[]): void {
    const show = (open: boolean): void => {
      this.engineer.setAttribute('aria-expanded', String(open));
      for (const row of rows) row.hidden = !open;
    };
    show(this.engineer.getAttribute('aria-expanded') === 'true');
    this.engineer.onclick = () => show(this.engineer.getAttribute('aria-expanded') !== 'true');
  }

  private build(count: number): void {
    this.heads = Array.from({ length: count }, () => h('th', { scope: 'col' }));
    const rows: readonly Pick<Row, 'key' | 'label' | 'only' | 'folded'>[] = [{ key: 'verdict', label: text.table.verdict }, ...ROWS];
    this.cells = rows.map(() => Array.from({ length: count }, () => h('td', {})));
    this.cautions = h(
      'tr',
      { class: 'row-cautions' },
      h('td', { colspan: count + 1 }, h('ul', { class: 'cautions' }, ...HANGING_CAUTIONS.map((c) => h('li', {}, c)))),
    );
    const lines = rows.map((row, r) => h('tr', { class: `row-${row.key}` }, h('th', { scope: 'row' }, this.heading(row.key, row.label)), ...this.cells[r]));
    const of = (stance: 'hung' | 'standing' | 'closures'): HTMLElement[] => rows.flatMap((row, r) => (row.only === stance ? [lines[r]] : []));
    this.rowsOf = { hung: of('hung'), standing: of('standing'), closures: of('closures') };
    const engineer = rows.flatMap((row, r) => (row.folded ? [lines[r]] : []));
    this.fold(engineer);
    lines.splice(lines.indexOf(engineer[0]), 0, h('tr', { class: 'row-engineer' }, h('th', { scope: 'row', colspan: count + 1 }, this.engineer)));
    lines.splice(2, 0, this.cautions);
    refill(
      this.element,
      h('caption', { class: 'away' }, text.table.caption),
      h('colgroup', {}, h('col', { class: 'first' })),
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, h('span', { class: 'away' }, text.table.figure)), ...this.heads)),
      h('tbody', {}, ...lines),
    );
  }

  /** `hanging`: the stance shown is a hung one, whether or not a result of it is in. */
  update(
    columns: readonly Column[],
    chosen: number | null,
    chosenReason: string,
    units: f.UnitChoice,
    hanging: boolean,
    bag: Bag,
    weights: State['weights'],
  ): void {
    if (this.heads.length !== columns.length) this.build(columns.length);
    const figures = columns.map((c) => (c.result ? figuresOf(c.result) : null));
    const hung = figures.some((own) => own?.hung);
    for (const row of this.rowsOf.hung) row.hidden = !hung;
    this.cautions.hidden = !hung && !hanging;
    for (const row of this.rowsOf.closures) row.hidden = figures.every((own) => own === null || own.closures.length === 0);
    for (const row of this.rowsOf.standing) row.hidden = hung && figures.every((own) => own === null || own.hung !== null);
    columns.forEach((column, i) => {
      refill(this.heads[i], h('span', { class: 'away' }, text.table.option(column.letter, column.title)));
      const own = figures[i];
      // Sizes of before and after a change are not to be compared.
      const first = i > 0 && !column.stale && !columns[0].stale ? figures[0] : null;
      this.cells.forEach((row, r) => {
        const cell = row[i];
        cell.classList.toggle('chosen', chosen === i);
        const key = r === 0 ? 'verdict' : ROWS[r - 1].key;
        const weight = own === null || column.stale ? weights[column.option] : undefined;
        const weighed = weight && (key === 'weight' || (key === 'bulk' && weight.bulk));
        // The word is there before the figures, and takes the place of the one from before the change.
        const early = r === 0 && (own === null || column.stale || column.coarse) ? column.early : null;
        cell.classList.toggle('stale', column.stale && !weighed && early === null);
        if (early !== null) refill(cell, ...earlyCell(early));
        else if (weighed && key === 'weight') refill(cell, f.mass(weight.massKg));
        else if (weighed && weight.bulk) refill(cell, ...bulkCell(weight.bulk, units, (name) => seamWords(bag, name)));
        // The bag beside it is drafted anew: a word from before would be read as its own.
        else if (column.stale && r === 0) refill(cell, h('p', { class: 'reason' }, column.problem ?? text.stage.settling));
        else if (own === null) refill(cell, r === 0 ? h('p', { class: 'reason' }, column.problem ?? text.table.none) : text.table.none);
        else if (r === 0)
          refill(
            cell,
            noteOf(column),
            ...verdictCell(own, chosen === i ? chosenReason : null, units, cell.querySelector('details')?.open ?? false),
            own.miss && this.needButton(column),
          );
        else refill(cell, ...ROWS[r - 1].cell(own, first, units, (name) => seamWords(bag, name)));
      });
    });
  }
}
