import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardEdge, BoardLine } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { memberTasks } from './edge-members.ts';
import { button, choices, field, pick, tick } from './form-parts.ts';
import type { PartWishes } from './part-actions.ts';
import { seamChoices } from './seam-list.ts';

type Choice = Extract<DrawEdit, { do: 'finish' }>['choice'];
type Finish = NonNullable<Choice['finish']>;

/** Sizes that parts are put on with, as last typed; the tick "on the other one as well". */
const typed = { flapDepth: '', flapRadius: '', tabWidth: '', tabLength: '', dartWidth: '', dartDepth: '', dartAt: '', both: true };

/** What can be done with the edge that is chosen: its shape, what it is sewn to, how it is finished, what is put on it. */
export function edgeTasks(board: Board, edge: BoardEdge, units: UnitChoice, wishes: PartWishes): HTMLElement {
  const { panel } = edge;
  const bends = [
    { value: 'line', label: words.straight },
    { value: 'arc', label: words.arc },
    { value: 'curve', label: words.curve },
  ] as const;
  const cut = field(words.cut, 'edge cut', words.middle, null);
  const split = (): void => wishes.draw({ do: 'split', panel, edge: edge.edge, share: shareOf(cut.input.value, edge, wishes) });
  onEnter(cut.input, split);
  return h(
    'section',
    { class: 'sheet-tasks' },
    h('h3', {}, words.edgeTasks),
    choices(words.bend, bends, edge.bend, (into) => wishes.draw({ do: 'bend', panel, edge: edge.edge, into })),
    h('div', { class: 'sheet-do' }, cut.row, button(words.cutDo, 'edge split', split)),
    edge.seams.length > 0 ? null : tick(words.openEdge, 'edge open', edge.open, (open) => wishes.draw({ do: 'open', panel, edge: edge.edge, open })),
    ...(edge.free ? finishTasks(board, edge, units, wishes) : []),
    ...memberTasks(board, edge.ref, units, wishes),
    h(
      'div',
      { class: 'sheet-buttons' },
      edge.free ? button(words.sewThis, 'edge sew', () => wishes.sew(edge.ref)) : null,
      button(words.notch, 'edge notch', () => wishes.draw({ do: 'notch', panel, edge: edge.edge, share: 0.5, name: `${edge.edge} notch` })),
    ),
    ...edge.seams.flatMap((name) => {
      const seam = board.seams.find((s) => s.name === name);
      return seam ? [h('h4', {}, `${words.sewnIn(seam.name)}: ${words.seamLine(...seam.sides)}`), ...seamChoices(seam, wishes.draw, wishes.withUnitOf)] : [];
    }),
    putOn(edge, units, wishes),
  );
}

const onEnter = (input: HTMLInputElement, act: () => void): void =>
  input.addEventListener('keydown', (e) => {
    if (e.key === 'Enter') act();
  });

/** "40 %" or a length from the edge's start, as a share of it. */
function shareOf(text: string, edge: BoardEdge, wishes: PartWishes): number {
  const percent = /^(\d+(?:[.,]\d+)?)\s*%$/.exec(text.trim());
  if (percent) return Number(percent[1].replace(',', '.')) / 100;
  const found = /^([\d.]+)\s*(mm|cm|in)$/.exec(wishes.withUnit(text.trim()));
  return found ? (Number(found[1]) * { mm: 0.001, cm: 0.01, in: 0.0254 }[found[2] as 'mm']) / edge.length : 0;
}

/** Raw, hemmed, faced or bound: a choice takes hold at once, with its usual width. */
function finishTasks(board: Board, edge: BoardEdge, units: UnitChoice, wishes: PartWishes): HTMLElement[] {
  const { panel } = edge;
  const now = edge.finish;
  const other = board.about[board.panels.indexOf(panel)].other;
  const same = other === null ? undefined : board.edges.find((e) => e.panel === other && e.edge === edge.edge);
  const both = same?.free === true;
  const put = (choice: Choice): void => wishes.draw({ do: 'finish', panel, edge: edge.edge, choice: { ...choice, both: both && typed.both } });
  const usual = (finish: string): string => words.finishWidths[finish as keyof typeof words.finishWidths]?.[units !== 'metric' ? 1 : 0] ?? '';
  const finish = now?.finish as Finish | undefined;
  const covers = finish === 'faced' || finish === 'bound' ? finish : null;
  return [
    pick(words.finish, 'edge finish', Object.entries(words.finishes), now?.finish ?? '', (v) =>
      put(v === '' ? { finish: null } : { finish: v as Finish, ...(v === 'raw' ? {} : { width: usual(v) }) }),
    ),
    ...(finish === undefined || finish === 'raw'
      ? []
      : [
          field(words.finishWidth, 'edge finish width', now?.width ?? '', (v) =>
            put({ finish, width: wishes.withUnitOf(v, now?.width ?? ''), stack: now?.stack || null }),
          ).row,
        ]),
    ...(covers
      ? [
          pick(words.cover[covers], 'edge cover', [['', words.ownCover], ...board.stacks.map((s) => [s, s] as const)], now?.stack ?? '', (v) =>
            put({ finish: covers, width: now?.width ?? '', stack: v || null }),
          ),
        ]
      : []),
    ...(both && other !== null
      ? [
          tick(words.alsoOn(other), 'edge both', typed.both, (on) => {
            typed.both = on;
          }),
        ]
      : []),
  ];
}

/** A field whose text is kept while other edges are looked at. */
function keptField(label: string, key: Exclude<keyof typeof typed, 'both'>, usual: string, note = ''): ReturnType<typeof field> {
  const made = field(label, `put ${key}`, typed[key] || usual, null, note);
  made.input.addEventListener('input', () => {
    typed[key] = made.input.value;
  });
  return made;
}

/** Whether what can be put on an edge is unfolded. */
let unfolded = false;

/** Flap and tab on a free edge, a dart in a straight one. */
function putOn(edge: BoardEdge, units: UnitChoice, wishes: PartWishes): HTMLElement | null {
  const inch = units !== 'metric';
  const { panel } = edge;
  const of = { panel, edge: edge.edge } as const;
  const size = (made: ReturnType<typeof field>): string => {
    const text = made.input.value.trim();
    return text === '' ? '' : wishes.withUnit(text);
  };
  const parts: HTMLElement[] = [];
  const add = (rows: readonly ReturnType<typeof field>[], label: string, hold: string, act: () => void): void => {
    for (const row of rows) onEnter(row.input, act);
    parts.push(h('div', { class: 'sheet-part' }, ...rows.map((r) => r.row), button(label, hold, act)));
  };
  if (edge.seams.length === 0) {
    const [depth, radius] = [
      keptField(words.flapDepth, 'flapDepth', inch ? '7 in' : '180 mm'),
      keptField(words.flapRadius, 'flapRadius', '', words.flapRadiusNote),
    ];
    add([depth, radius], words.flapDo, 'put flap', () => wishes.draw({ do: 'flap', ...of, flap: { depth: size(depth), radius: size(radius) } }));
    const [wide, long] = [
      keptField(words.tabWidth, 'tabWidth', inch ? '1 1/2 in' : '40 mm'),
      keptField(words.tabLength, 'tabLength', inch ? '4 in' : '100 mm'),
    ];
    add([wide, long], words.tabDo, 'put tab', () => wishes.draw({ do: 'tab', ...of, tab: { width: size(wide), length: size(long) } }));
  }
  if (edge.bend === 'line') {
    const [wide, deep, at] = [
      keptField(words.dartWidth, 'dartWidth', inch ? '3/4 in' : '20 mm'),
      keptField(words.dartDepth, 'dartDepth', inch ? '2 1/2 in' : '60 mm'),
      keptField(words.dartAt, 'dartAt', words.middle),
    ];
    const dart = (): void => wishes.draw({ do: 'dart', ...of, share: shareOf(at.input.value, edge, wishes), width: size(wide), depth: size(deep) });
    add([wide, deep, at], words.dartDo, 'put dart', dart);
  }
  if (parts.length === 0) return null;
  const made = h('details', { class: 'put-on', open: unfolded }, h('summary', { 'data-hold': 'put on' }, words.putOnEdge), ...parts);
  // A form that is made anew while a bag is drawn would not fold itself up under the hand that unfolded it.
  made.addEventListener('toggle', () => {
    if (made.isConnected) unfolded = made.open;
  });
  return made;
}

/** A line inside: whether it is creased, and how far it is turned. */
export function lineTasks(board: Board, line: BoardLine, units: UnitChoice, wishes: PartWishes): HTMLElement {
  const write = (key: string) => (v: string) => wishes.draw({ do: 'write', path: ['panels', line.panel, 'lines', line.name, key], text: v });
  return h(
    'section',
    { class: 'sheet-tasks' },
    h('h3', {}, words.lineTasks),
    field(words.foldWidth, 'line fold', line.fold, (v) => write('fold')(v === '' ? '' : wishes.withUnit(v)), words.foldWidthNote).row,
    line.fold === ''
      ? null
      : field(words.foldAngle, 'line angle', line.angle, (v) => write('angle')(/^-?[\d.]+$/.test(v) ? `${v} deg` : v), words.foldAngleNote).row,
    ...memberTasks(board, `${line.panel}.${line.name}`, units, wishes),
  );
}
