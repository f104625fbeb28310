import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardHandle } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { edgeTasks, lineTasks } from './edge-tasks.ts';
import { button, field, pick } from './form-parts.ts';

export interface PartWishes {
  draw(edit: DrawEdit): void;
  /** Goes on to sewing with this edge picked. */ sew(ref: string): void;
  withUnit(value: string): string;
  /** A bare figure is meant in the unit that stood there. */ withUnitOf(value: string, before: string): string;
}

export interface Part {
  readonly board: Board;
  readonly panel: string;
  readonly handle: BoardHandle | undefined;
  readonly units: UnitChoice;
}

/** What can be done with the part that is chosen, and then with its whole panel. */
export function partActions({ board, panel, handle, units }: Part, wishes: PartWishes): HTMLElement[] {
  const out: HTMLElement[] = [];
  const edge = handle?.edge ? board.edges.find((e) => e.panel === panel && e.edge === handle.edge) : undefined;
  if (edge) out.push(edgeTasks(board, edge, units, wishes));
  if (handle?.kind === 'corner') out.push(cornerTasks(panel, handle, units, wishes));
  if (handle && (handle.kind === 'mark' || handle.kind === 'hole' || handle.kind === 'line')) {
    const what = handle.kind;
    const name = what === 'line' ? handle.name.replace(/ \d+$/, '') : handle.name;
    const line = what === 'line' ? board.lines.find((l) => l.panel === panel && l.name === name) : undefined;
    if (line) out.push(lineTasks(board, line, units, wishes));
    out.push(
      h(
        'div',
        { class: 'sheet-buttons' },
        button(words.deleteInside, 'part off', () => wishes.draw({ do: 'delete inside', panel, what, name })),
      ),
    );
  }
  if (handle?.kind === 'anchor') out.push(...strapTasks(board, handle, wishes));
  out.push(panelTasks(board, panel, units, wishes));
  return out;
}

function cornerTasks(panel: string, handle: BoardHandle, units: UnitChoice, wishes: PartWishes): HTMLElement {
  const radius = field(
    words.radius,
    'corner radius',
    '',
    (v) => v !== '' && wishes.draw({ do: 'round', panel, corner: handle.name, radius: wishes.withUnit(v) }),
    units !== 'metric' ? '1 in, or 0' : '25 mm, or 0',
  );
  return h(
    'section',
    { class: 'sheet-tasks' },
    h('h3', {}, words.cornerTasks),
    radius.row,
    h(
      'div',
      { class: 'sheet-buttons' },
      button(words.deleteCorner, 'corner off', () => wishes.draw({ do: 'delete corner', panel, corner: handle.name })),
    ),
  );
}

function strapTasks(board: Board, handle: BoardHandle, wishes: PartWishes): HTMLElement[] {
  const strap = board.straps.find((s) => handle.name === s.name || handle.name.startsWith(`${s.name} `));
  if (!strap) return [];
  const write = (key: string) => (v: string) => wishes.draw({ do: 'write', path: ['straps', strap.name, key], text: wishes.withUnit(v) });
  return [
    field(words.strapWidth, 'strap width', strap.width, write('width')).row,
    field(words.strapLength, 'strap length', strap.length, write('length')).row,
    h(
      'div',
      { class: 'sheet-buttons' },
      button(words.strapOff, 'strap off', () => wishes.draw({ do: 'delete strap', strap: strap.name })),
    ),
  ];
}

function panelTasks(board: Board, panel: string, units: UnitChoice, wishes: PartWishes): HTMLElement {
  const i = board.panels.indexOf(panel);
  const about = board.about[i];
  const middle = middleOf(board, panel);
  const small = units !== 'metric' ? '1/2 in' : '12 mm';
  const line = (upright: boolean) => (): void => wishes.draw({ do: 'line', panel, at: middle, upright, fold: '0 mm', name: 'fold' });
  const pocket = field(words.pocketHeight, 'task pocket height', units !== 'metric' ? '6 in' : '150 mm', null);
  const straight = ['bottom', 'left', 'right'].every((e) => board.edges.some((k) => k.ref === `${panel}.${e}` && k.bend === 'line'));
  const putPocket = (): void => wishes.draw({ do: 'pocket', panel, height: wishes.withUnit(pocket.input.value.trim()) });
  pocket.input.addEventListener('keydown', (e) => {
    if (e.key === 'Enter') putPocket();
  });
  return h(
    'section',
    { class: 'sheet-tasks' },
    h('h3', {}, words.panelTasks),
    about.follows === null ? '' : h('p', { class: 'small' }, words.follows(about.follows)),
    field(words.panelName, 'task name', panel, (name) => name !== panel && wishes.draw({ do: 'rename', panel, name })).row,
    pick(words.kind, 'task role', Object.entries(words.roles), about.role, (role) =>
      wishes.draw({ do: 'role', panel, role: role as Extract<DrawEdit, { do: 'role' }>['role'] }),
    ),
    h(
      'div',
      { class: 'sheet-buttons' },
      button(words.copy, 'task copy', () => wishes.draw({ do: 'copy', panel, name: copyName(board, panel) })),
      button(words.mirror, 'task mirror', () => wishes.draw({ do: 'mirror', panel, name: copyName(board, panel) })),
      about.follows === null ? null : button(words.own, 'task own', () => wishes.draw({ do: 'own shape', panel })),
      button(words.mark, 'task mark', () => wishes.draw({ do: 'mark', panel, at: middle, name: 'mark' })),
      button(words.hole, 'task hole', () => wishes.draw({ do: 'hole', panel, at: middle, size: small, round: true })),
      button(words.foldAcross, 'task fold', line(false)),
      button(words.foldUp, 'task fold up', line(true)),
      button(words.remove, 'task off', () => wishes.draw({ do: 'delete panel', panel })),
    ),
    straight ? h('div', { class: 'sheet-do' }, pocket.row, button(words.pocket, 'task pocket', putPocket)) : '',
  );
}

/** A copy of the front is the back, of one side the other; of anything else, another of the same name. */
function copyName(board: Board, panel: string): string {
  const other = { front: 'back', back: 'front', left: 'right', right: 'left' }[panel];
  return other && !board.panels.includes(other) ? other : panel;
}

/** The middle of a panel on its own frame, m. */
function middleOf(board: Board, panel: string): readonly [number, number] {
  const { x, y } = board.layout.at[board.panels.indexOf(panel)];
  const places = board.edges.filter((e) => e.panel === panel && !e.edge.startsWith('hole')).map((e) => e.at);
  const middle = (k: 0 | 1): number => (Math.min(...places.map((p) => p[k])) + Math.max(...places.map((p) => p[k]))) / 2;
  return [(middle(0) - x) / 1000, (y - middle(1)) / 1000];
}
