import { download, textBlob } from '../bench/download.ts';
import { h, refill } from '../page/dom.ts';
import {
  type Axis,
  alongPlot,
  axisTitle,
  casesOf,
  columnsOf,
  firstOrderShares,
  MOST_CELLS,
  type RunsTable,
  runsText,
  verdictCells,
  verdictMap,
} from './core.ts';
import { words } from './words.ts';

type Case = ReturnType<typeof casesOf>[number];

/** A list to choose from by name; `chosen` is told the index. */
function listOf(label: string, names: readonly string[], now: number, chosen: (i: number) => void): HTMLElement {
  const list = h('select', { class: 'plain' }, ...names.map((name, i) => h('option', { value: i }, name)));
  list.value = String(now);
  list.addEventListener('change', () => chosen(Number(list.value)));
  return h('label', {}, `${label} `, list);
}

/** A picture of the core's as an image: what another's file holds is no markup of this page. */
class Drawing {
  readonly image = h('img', { class: 'many-picture', alt: '' });
  private url = '';
  svg = '';

  show(svg: string, alt: string): void {
    this.end();
    this.svg = svg;
    this.url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    this.image.src = this.url;
    this.image.alt = alt;
  }
  end(): void {
    if (this.url !== '') URL.revokeObjectURL(this.url);
  }
}

/** Plots of a sweep's runs: a map over any two of its parameters, heights and the share that holds against any one, for one option in one stance at a time. */
export class Plots {
  readonly element = h('div', { class: 'many-plots' });
  /** The same of every option and stance in words. */ readonly text: string;
  private readonly cases: readonly Case[];
  private readonly map = new Drawing();
  private readonly plot = new Drawing();
  private shown = 0;
  private across = '';
  private up = '';
  private along = '';
  constructor(
    private readonly table: RunsTable,
    private readonly tell: (line: string) => void,
  ) {
    this.cases = casesOf(table.runs);
    this.text = runsText(table.plan, table.runs);
    this.draw();
  }

  end(): void {
    this.map.end();
    this.plot.end();
  }

  /** Parameters with several values among these runs, those first that the height hangs on most. */
  private axes(c: Case): readonly Axis[] {
    const { plan } = this.table,
      axes = plan.axes.filter((a) => a.kind === 'figures' && columnsOf(a, c.runs).length > 1),
      shares = firstOrderShares(axes, c.runs, (r) => r.heightKept ?? r.margin, plan.samples !== null),
      share = (a: Axis): number => shares.find((s) => s.axis === a.name)?.share ?? 0;
    return [...axes].sort((a, b) => share(b) - share(a));
  }

  private draw(): void {
    const c = this.cases[this.shown]!,
      axes = this.axes(c),
      fit = axes.filter((a) => columnsOf(a, c.runs).length <= MOST_CELLS),
      title = `${this.table.plan.bag}, ${c.option}, ${c.stance}`;
    const named = (list: readonly Axis[], name: string, instead: number): Axis | undefined => list.find((a) => a.name === name) ?? list[instead];
    const across = named(fit, this.across, 0),
      up = named(
        fit.filter((a) => a !== across),
        this.up,
        0,
      ),
      along = named(axes, this.along, 0);
    const choose = (label: string, list: readonly Axis[], now: Axis, take: (name: string) => void): HTMLElement =>
      listOf(
        label,
        list.map((a) => a.name),
        list.indexOf(now),
        (i) => {
          take(list[i]!.name);
          this.draw();
          // The list was drawn anew: the hand stays where it was.
          this.element.querySelector<HTMLElement>(`[data-key="${label}"] select`)?.focus();
        },
      );
    const keyed = (label: string, element: HTMLElement): HTMLElement => {
      element.dataset.key = label;
      return element;
    };
    const cases = this.cases.map((k) => `${k.option}, ${k.stance}`);
    const box = (heading: string, ...inside: Node[]): HTMLElement => h('section', { class: 'many-box' }, h('h3', {}, heading), ...inside);
    const save = (drawing: Drawing, what: string): HTMLElement =>
      h(
        'button',
        {
          type: 'button',
          class: 'plain',
          onclick: () => this.tell(words.saved(download(`${this.table.plan.bag} ${what}`, 'svg', textBlob(drawing.svg, 'image/svg+xml')))),
        },
        words.save,
      );
    const parts: Node[] = [];
    if (cases.length > 1)
      parts.push(
        keyed(
          words.which,
          listOf(words.which, cases, this.shown, (i) => {
            this.shown = i;
            this.draw();
            this.element.querySelector<HTMLElement>(`[data-key="${words.which}"] select`)?.focus();
          }),
        ),
      );
    if (across && up) {
      this.map.show(verdictMap(title, across, up, c.runs), words.mapAlt(across.name, up.name));
      parts.push(
        box(
          words.map,
          h(
            'div',
            { class: 'sheet-row' },
            keyed(
              words.across,
              choose(words.across, fit, across, (name) => this.turn(name, across, up, 'across')),
            ),
            keyed(
              words.up,
              choose(words.up, fit, up, (name) => this.turn(name, across, up, 'up')),
            ),
            save(this.map, `map ${across.name} ${up.name}`),
          ),
          h('div', { class: 'many-scroll', tabindex: 0, role: 'region', 'aria-label': words.map }, this.map.image),
          h('details', {}, h('summary', {}, words.asTable), mapTable(across, up, c)),
        ),
      );
    } else parts.push(box(words.map, h('p', {}, words.mapNone)));
    if (along) {
      this.plot.show(alongPlot(title, along, c.runs, this.table.plan.samples !== null), words.plotAlt(along.name));
      parts.push(
        box(
          words.plot,
          h(
            'div',
            { class: 'sheet-row' },
            keyed(
              words.along,
              choose(words.along, axes, along, (name) => {
                this.along = name;
              }),
            ),
            save(this.plot, `along ${along.name}`),
          ),
          h('div', { class: 'many-scroll', tabindex: 0, role: 'region', 'aria-label': words.plot }, this.plot.image),
        ),
      );
    } else parts.push(box(words.plot, h('p', {}, words.plotNone)));
    refill(this.element, ...parts);
  }

  /** The same parameter cannot lie both ways: the other one takes its place. */
  private turn(name: string, across: Axis, up: Axis, way: 'across' | 'up'): void {
    const other = way === 'across' ? up.name : across.name;
    const freed = way === 'across' ? across.name : up.name;
    const kept = name === other ? freed : other;
    [this.across, this.up] = way === 'across' ? [name, kept] : [kept, name];
  }
}

function mapTable(across: Axis, up: Axis, c: Case): HTMLElement {
  const { columns, rows } = verdictCells(across, up, c.runs);
  return h(
    'div',
    { class: 'many-scroll', tabindex: 0, role: 'region', 'aria-label': words.asTable },
    h(
      'table',
      {},
      h('caption', {}, `${axisTitle(up)} by ${axisTitle(across)}`),
      h('thead', {}, h('tr', {}, h('td', {}), ...columns.map((label) => h('th', { scope: 'col' }, label)))),
      h(
        'tbody',
        {},
        ...[...rows]
          .reverse()
          .map((row) =>
            h(
              'tr',
              {},
              h('th', { scope: 'row' }, row.label),
              ...row.cells.map((cell) => h('td', {}, cell === null ? words.noRun : words.cell(cell.word, cell.count, cell.of))),
            ),
          ),
      ),
    ),
  );
}
