import { h } from '../page/dom.ts';
import * as f from '../page/format.ts';
import { text } from '../page/text.ts';
import { bandBar, chip, type Figures } from './figures.ts';

/** What stands in one cell. */
export type Cell = readonly (Node | string)[];

/** One line of the comparison: a figure, and how it is shown. */
export interface Row {
  readonly key: string;
  readonly label: string;
  /** The stance, or the bag, that alone has such a figure; all when left out. */ readonly only?: 'hung' | 'standing' | 'closures';
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

export const bulkCell = (bulk: NonNullable<Figures['bulk']>, units: f.UnitChoice, seam: (name: string) => string): Cell => [
  f.lengthText(bulk.thickness, units),
  ...grey(`${text.table.layers(bulk.layers)}, ${seam(bulk.seam)}`),
];

/** The lines under the verdict, in their order. */
export const ROWS: readonly Row[] = [
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
    key: 'closures',
    label: text.table.closures,
    only: 'closures',
    cell: (own, _first, units) => (own.closures.length > 0 ? [pullList(own.closures.map((line) => f.told(line, units)))] : [text.table.none]),
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
    cell: (own, _first, units, seam) => (own.bulk === null ? [text.table.none] : bulkCell(own.bulk, units, seam)),
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
