import { aroundWords, type Bag, HANGING_CAUTIONS } from '../core.ts';
import { h, refill } from '../page/dom.ts';
import * as f from '../page/format.ts';
import type { Column } from '../page/store.ts';
import { text } from '../page/text.ts';
import { droopingStrip, STRIP_LENGTH, stripSign } from './drooping-strip.ts';
import { bandBar, chip, type Figures, figuresOf } from './figures.ts';
import type { Measured } from './measure-marks.ts';

type Cell = readonly (Node | string)[];

interface Row {
  readonly key: string;
  readonly label: string;
  /** The stance that alone has such a figure; both when left out. */ readonly only?: 'hung' | 'standing';
  /** Folded away until the engineer asks. */ readonly folded?: true;
  readonly cell: (own: Figures, first: Figures | null, units: f.UnitChoice, seam: (name: string) => string) => Cell;
}

const grey = (words: string | null): Cell => (words ? [' ', h('span', { class: 'beside' }, words)] : []);

const withBeside = (figure: f.Figure): Cell => [figure.main, ...grey(figure.beside)];

/** The lines on a hung bag as a list in a list: each strap with its anchors under it. */
function pullList(lines: readonly string[]): HTMLElement {
  const list = h('ul', { class: 'pulls' });
  let anchors: HTMLElement | null = null;
  for (const line of lines) {
    if (!line.startsWith('  ')) {
      anchors = null;
      list.append(h('li', {}, line));
    } else {
      anchors ??= list.lastElementChild?.appendChild(h('ul')) ?? null;
      anchors?.append(h('li', {}, line.trim()));
    }
  }
  return list;
}

/** Each strap in a maker's words: what its ends bear as what weighs as much. */
function strapLines(hung: NonNullable<Figures['hung']>, units: f.UnitChoice): string[] {
  const lines = hung.straps.map(({ name, slack, drop, pulls }) => {
    const shown = pulls.map((newtons) => f.pull(newtons, units));
    if (slack) return text.table.slack(name);
    return text.table.strapPull(name, f.lengthText(drop, units), shown.every((p) => p === shown[0]) ? text.table.each(shown[0]) : shown.join(', '));
  });
  return [...(hung.moving ? [text.table.moving] : []), ...lines];
}

/** A figure of the shape shown; where the word is not that of a typical bolt, the figure of every bolt with its name. */
function byBolt(own: Figures, key: 'kept' | 'droop' | 'lean' | 'bulge', show: (value: number) => string): Cell | null {
  if (own.bolts === null) return null;
  return [own.bolts.map((b) => `${b.name} ${b[key] === null ? text.table.none : show(b[key])}`).join(' · ')];
}

const ROWS: readonly Row[] = [
  {
    key: 'pulls',
    label: text.table.pulls,
    only: 'hung',
    cell: (own, _first, units) => (own.hung ? [pullList(strapLines(own.hung, units))] : [text.table.none]),
  },
  {
    key: 'tilt',
    label: text.table.tilt,
    only: 'hung',
    cell: (own) => [own.hung ? f.angle(own.hung.tilt) : text.table.none],
  },
  {
    key: 'mouthSag',
    label: text.table.mouthSag,
    only: 'hung',
    cell: (own) => [
      own.hung?.mouthSag == null ? text.table.none : f.percent(own.hung.mouthSag),
      ...grey(own.hung?.mouthSag == null ? '' : text.table.ofHeight),
    ],
  },
  {
    key: 'baseSag',
    label: text.table.baseSag,
    only: 'hung',
    cell: (own, _first, units) => (own.hung?.baseSag == null ? [text.table.none] : withBeside(f.length(own.hung.baseSag, units))),
  },
  {
    key: 'heightKept',
    label: text.table.heightKept,
    only: 'standing',
    cell: (own, first) => {
      const { heightKept } = own;
      if (heightKept === null) return [text.table.none];
      const other = first?.heightKept ?? null;
      const bolts = byBolt(own, 'kept', f.percent);
      if (bolts) return [...bolts, ' ', bandBar(heightKept)];
      return [
        h('span', { class: 'figure' }, f.percent(heightKept.mid)),
        ...grey(other === null ? '' : f.difference(heightKept.mid * 100, other.mid * 100)),
        ' ',
        bandBar(heightKept),
      ];
    },
  },
  {
    key: 'lean',
    label: text.table.lean,
    only: 'standing',
    cell: (own) => (own.lean === null ? [text.table.none] : (byBolt(own, 'lean', (v) => f.angle(v)) ?? [f.angle(own.lean, own.heap)])),
  },
  {
    key: 'droop',
    label: text.table.droop,
    only: 'standing',
    cell: (own, _first, units) => {
      if (own.droop === null) return [text.table.none];
      return byBolt(own, 'droop', (v) => f.lengthText(v, units)) ?? (own.heap ? [f.aboutLength(own.droop, units)] : withBeside(f.length(own.droop, units)));
    },
  },
  {
    key: 'bulge',
    label: text.table.bulge,
    only: 'standing',
    cell: (own) => (own.bulge === null ? [text.table.none] : (byBolt(own, 'bulge', f.percent) ?? [f.percent(own.bulge), ...grey(text.table.ofWidth)])),
  },
  {
    key: 'weight',
    label: text.table.weight,
    cell: (own, first) => [f.mass(own.massKg), ...grey(first ? f.difference(own.massKg * 1000, first.massKg * 1000) : '')],
  },
  {
    key: 'overhang',
    label: text.table.overhang,
    cell: (own, _first, units) =>
      own.wall === null
        ? [text.table.none]
        : [f.lengthText(own.wall.overhang, units), ...grey(text.table.times(own.wall.standNumber.toFixed(1))), ' ', chip(own.wall.evidence)],
  },
  {
    key: 'bulk',
    label: text.table.bulk,
    cell: (own, _first, units, seam) =>
      own.bulk === null
        ? [text.table.none]
        : [f.lengthText(own.bulk.thickness, units), ...grey(`${text.table.layers(own.bulk.layers)}, ${seam(own.bulk.seam)}`)],
  },
  { key: 'first', label: text.table.first, cell: (own) => [own.givesWayFirst ?? (own.fell ? text.table.none : text.table.nothing)] },
  {
    key: 'forces',
    label: text.table.forces,
    only: 'hung',
    folded: true,
    cell: (own, _first, units) => (own.hung ? [pullList(own.hung.lines.map((line) => f.told(line, units)))] : [text.table.none]),
  },
  {
    key: 'rigidity',
    label: text.table.rigidity,
    folded: true,
    cell: (own) => (own.rigidity === null ? [text.table.none] : [f.rigidity(own.rigidity.value), ' ', chip(own.rigidity.evidence)]),
  },
  {
    key: 'run',
    label: text.table.run,
    folded: true,
    cell: (own, _first, units) => [
      h(
        'span',
        { class: 'small' },
        [text.table.status[own.status], text.table.points(own.vertices, f.seconds(own.seconds)), text.table.residual(own.residual.toExponential(0))].join(
          ' · ',
        ),
      ),
      ...(own.remarks === '' ? [] : [h('p', { class: 'reason' }, f.told(own.remarks, units))]),
    ],
  },
];

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
  const words = column.stale ? text.stage.stale : column.partial ? unfinished : '';
  const ground = column.result ? aroundWords(column.result) : '';
  return [words, ground].filter((w) => w !== '').join('; ');
};

const noteOf = (column: Column): HTMLElement | string => {
  const words = restsOn(column);
  return words === '' ? '' : h('p', { class: 'stale-note' }, words);
};

/** A seam by the panels it joins: a letter would read as an option's. A seam that has a word for a name keeps it. */
export function seamWords(bag: Bag, name: string): string {
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
  private rowsOf: Record<'hung' | 'standing', HTMLElement[]> = { hung: [], standing: [] };

  private readonly engineer = h('button', { type: 'button', class: 'engineer', 'aria-expanded': 'false' }, text.table.engineer);

  constructor(private readonly show: (figure: Measured) => void) {}

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
    const of = (stance: 'hung' | 'standing'): HTMLElement[] => rows.flatMap((row, r) => (row.only === stance ? [lines[r]] : []));
    this.rowsOf = { hung: of('hung'), standing: of('standing') };
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
  update(columns: readonly Column[], chosen: number | null, chosenReason: string, units: f.UnitChoice, hanging: boolean, bag: Bag): void {
    if (this.heads.length !== columns.length) this.build(columns.length);
    const figures = columns.map((c) => (c.result ? figuresOf(c.result) : null));
    const hung = figures.some((own) => own?.hung);
    for (const row of this.rowsOf.hung) row.hidden = !hung;
    this.cautions.hidden = !hung && !hanging;
    for (const row of this.rowsOf.standing) row.hidden = hung && figures.every((own) => own === null || own.hung !== null);
    columns.forEach((column, i) => {
      refill(this.heads[i], h('span', { class: 'away' }, text.table.option(column.letter, column.title)));
      const own = figures[i];
      // Sizes of before and after a change are not to be compared.
      const first = i > 0 && !column.stale && !columns[0].stale ? figures[0] : null;
      this.cells.forEach((row, r) => {
        const cell = row[i];
        cell.classList.toggle('chosen', chosen === i);
        // The word is there before the figures, and takes the place of the one from before the change.
        const early = r === 0 && (own === null || column.stale || column.coarse) ? column.early : null;
        cell.classList.toggle('stale', column.stale && early === null);
        if (early !== null) refill(cell, ...earlyCell(early));
        else if (own === null) refill(cell, r === 0 ? h('p', { class: 'reason' }, column.problem ?? text.table.none) : text.table.none);
        else if (r === 0)
          refill(cell, noteOf(column), ...verdictCell(own, chosen === i ? chosenReason : null, units, cell.querySelector('details')?.open ?? false));
        else refill(cell, ...ROWS[r - 1].cell(own, first, units, (name) => seamWords(bag, name)));
      });
    });
  }
}
