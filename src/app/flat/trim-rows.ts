import { h } from '../page/dom.ts';
import { mass, type UnitChoice, withPoint } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { BoardClosure, BoardHardware, BoardMember } from './board-trims.ts';
import type { DrawEdit } from './drafting.ts';
import { field, pick, sizeText } from './form-parts.ts';
import { withGrams } from './metal-form.ts';
import { trim as words } from './trim-words.ts';

/** Fields of what is on the bag already: what is written shows in each, and beside it what holds where nothing is. */
export interface RowWishes {
  draw(edit: DrawEdit): void;
  withUnitOf(value: string, before: string): string;
}

const BARE = /^\d+(\.\d+)?$/;
/** A bare figure takes this unit; a decimal comma is a point. */
const withUnit =
  (unit: string) =>
  (typed: string): string =>
    BARE.test(withPoint(typed).trim()) ? `${withPoint(typed).trim()} ${unit}` : typed;
/** "50 %" is 0.5. */
const share = (typed: string): string => {
  const percent = /^(\d+(?:\.\d+)?)\s*%$/.exec(withPoint(typed).trim());
  return percent ? String(Number(percent[1]) / 100) : withPoint(typed).trim();
};

type What = 'members' | 'closures' | 'hardware';
const writer =
  ({ draw }: RowWishes, what: What, name: string) =>
  (key: string, asWritten: (typed: string) => string) =>
  (typed: string): void =>
    draw({ do: 'write', path: [what, name, key], text: typed === '' ? '' : asWritten(typed) });

/** A cord's width below a quarter inch reads badly as a fraction: they are sold in millimetres everywhere. */
const thin = (metres: number, units: UnitChoice): string => (metres < 0.012 ? `${Number((1000 * metres).toFixed(1))} mm` : sizeText(metres, units));

/** What is seldom asked for stands folded; open once anything of it is written. */
const folded = (summary: string, hold: string, open: boolean, ...rows: (HTMLElement | string)[]): HTMLElement =>
  h('details', { open }, h('summary', { 'data-hold': hold }, summary), ...rows);

/** Sizes of a cord, boning, wire, binding, zip or frame. */
export function memberFields(board: Board, m: BoardMember, units: UnitChoice, wishes: RowWishes): HTMLElement[] {
  const write = writer(wishes, 'members', m.name);
  const hold = `member ${m.name}`;
  const { written: w } = m;
  const length = (key: string, before: string) => write(key, (v) => wishes.withUnitOf(v, before));
  const kind = board.trims.memberKinds[m.kind];
  const bent = Object.hasOwn(words.shapes, w.formed ?? '') ? words.shapes : { ...words.shapes, [w.formed ?? '']: w.formed ?? '' };
  const own = m.kind === 'figures';
  const usual = (said: string): string => (own ? '' : words.usual(said));
  return [
    field(words.sizes[m.kind] ?? words.width, `${hold} size`, w.size ?? '', length('size', w.size || '4 mm'), kind ? words.usual(thin(kind.size, units)) : '')
      .row,
    ...(m.ring ? [] : [field(words.stops, `${hold} stops`, w['stops short'] ?? '', length('stops short', w['stops short'] ?? ''), words.stopsNote).row]),
    pick(words.shape, `${hold} formed`, Object.entries(bent), w.formed ?? '', write('formed', String)),
    pick(words.ring, `${hold} ring`, Object.entries(words.rings), m.ring ? 'ring' : '', write('ends', String)),
    folded(
      words.measured,
      `${hold} figures`,
      own || ['rigidity', 'stretch', 'mass', 'length'].some((key) => w[key] !== undefined),
      h('p', { class: 'small' }, words.measuredHint),
      field(words.rigidity, `${hold} rigidity`, w.rigidity ?? '', write('rigidity', withUnit('N.m2')), usual(rodText(m.usual.rigidity))).row,
      field(words.stretching, `${hold} stretch`, w.stretch ?? '', write('stretch', withUnit('N')), usual(`${Number(m.usual.stretch.toPrecision(2))} N`)).row,
      field(words.lineMass, `${hold} mass`, w.mass ?? '', write('mass', withUnit('g/m')), usual(perMetre(m.usual.mass))).row,
      field(words.ownLength, `${hold} length`, w.length ?? '', length('length', w.length ?? ''), words.ownLengthNote(sizeText(m.usual.length, units))).row,
    ),
  ];
}

/** As the file writes it: "0.0031 N.m2". */
const rodText = (rigidity: number): string =>
  rigidity < 1e-3 ? `${Number((1e6 * rigidity).toPrecision(3))} uN.m2` : `${Number(rigidity.toPrecision(3))} N.m2`;
const perMetre = (kg: number): string => `${Number((1000 * kg).toPrecision(2))} g/m`;

/** Sizes of a closure that is on. */
export function closureFields(c: BoardClosure, units: UnitChoice, wishes: RowWishes): HTMLElement[] {
  const write = writer(wishes, 'closures', c.name);
  const hold = `closures ${c.name}`;
  const { written: w, usual } = c;
  const usually = (key: string, said: string): string => (w[key] === undefined ? words.usual(said) : '');
  const length = (key: string, before: string) => write(key, (v) => wishes.withUnitOf(v, before));
  const text = (label: string, key: string, hold: string, enter: (v: string) => void, note: string): HTMLElement =>
    field(label, hold, w[key] ?? '', enter, note).row;
  const open = (...keys: readonly string[]): boolean => keys.some((key) => w[key] !== undefined);
  const line = (): HTMLElement => text(words.perMetre, 'mass', `${hold} mass`, write('mass', withUnit('g/m')), usually('mass', perMetre(usual.mass)));
  if (c.family === 'cord')
    return [
      text(words.below, 'below', `${hold} below`, length('below', w.below ?? ''), ''),
      text(words.drawnTo, 'drawn to', `${hold} drawn`, length('drawn to', w['drawn to'] ?? ''), ''),
      folded(
        words.more,
        `${hold} more`,
        open('friction', 'mass'),
        text(words.rubs, 'friction', `${hold} friction`, write('friction', share), w.friction === undefined ? words.rubsNote(usual.friction) : ''),
        line(),
      ),
    ];
  if (c.family === 'zip')
    return [
      text(words.chain, 'size', `${hold} size`, length('size', w.size || '5 mm'), usually('size', thin(usual.size, units))),
      text(words.slider, 'slider', `${hold} slider`, write('slider', share), words.sliderNote),
      folded(
        words.more,
        `${hold} more`,
        open('closes from', 'direction', 'mass'),
        pick(words.closesFrom, `${hold} closes from`, Object.entries(words.closesEnds), w['closes from'] === 'end' ? 'end' : '', write('closes from', String)),
        pick(words.runs, `${hold} direction`, Object.entries(words.runsWays), w.direction ?? '', write('direction', String)),
        line(),
      ),
    ];
  return [
    text(words.across, 'size', `${hold} size`, length('size', w.size || '15 mm'), usually('size', thin(usual.size, units))),
    text(words.pullOff, 'pull-off', `${hold} pull-off`, write('pull-off', withUnit('N')), words.pullOffNote),
    folded(
      words.more,
      `${hold} more`,
      open('gap', 'mass'),
      text(words.gap, 'gap', `${hold} gap`, length('gap', w.gap || '4 mm'), w.gap === undefined ? words.gapNote(thin(usual.gap, units)) : ''),
      text(words.both, 'mass', `${hold} mass`, write('mass', withGrams), usually('mass', mass(usual.mass))),
    ),
  ];
}

/** Sizes of feet or pieces of metal that are on. */
export function metalFields(board: Board, p: BoardHardware, units: UnitChoice, wishes: RowWishes): HTMLElement[] {
  const write = writer(wishes, 'hardware', p.name);
  const hold = `hardware ${p.name}`;
  const { written: w } = p;
  const length = (key: string) => write(key, (v) => wishes.withUnitOf(v, w[key] ?? ''));
  const usual = board.trims.hardwareKinds[p.kind];
  return [
    field(words.across, `${hold} size`, w.size ?? '', length('size'), usual ? words.usual(sizeText(usual.size, units)) : '').row,
    ...(p.kind === 'foot'
      ? [field(words.height, `${hold} height`, w.height ?? '', length('height'), words.heightUsual(sizeText(board.trims.footHeight, units))).row]
      : []),
    field(words.mass, `${hold} mass`, w.mass ?? '', write('mass', withGrams), usual && w.size === undefined ? words.massUsual(mass(usual.mass)) : '').row,
    ...(p.places > 1
      ? [
          field(
            words.taken,
            `${hold} count`,
            w.count ?? '',
            write('count', (v) => v.trim()),
            words.takenNote(p.places),
          ).row,
        ]
      : []),
  ];
}
