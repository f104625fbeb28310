import { h } from '../page/dom.ts';
import { mass, type UnitChoice } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { BoardMember } from './board-trims.ts';
import type { DrawEdit } from './drafting.ts';
import { draw } from './draw-words.ts';
import { button, field, pick, sizeText, tick } from './form-parts.ts';
import type { PartWishes } from './part-actions.ts';
import { memberFields } from './trim-rows.ts';
import { trim as words } from './trim-words.ts';

type Kind = Extract<DrawEdit, { do: 'member kind' }>['kind'];

/** A stretch and "all round", as last chosen; they outlive the form, which is made anew with every drawing. */
const typed = { round: false, from: '', to: '', unfolded: false };

/** What stiffens an edge or a drawn line: a choice takes hold at once at its usual size; then its sizes, and taking it away. `on`: "front.top". */
export function memberTasks(board: Board, on: string, units: UnitChoice, wishes: PartWishes): HTMLElement[] {
  const { members, memberKinds, around } = board.trims;
  const own = members.filter((m) => m.refs.includes(on));
  const kinds = Object.keys(memberKinds).map((kind) => [kind, words.members[kind]] as const);
  const round = around[on];
  const put = (kind: string): void =>
    wishes.draw({
      do: 'member',
      member: {
        kind: kind as Kind,
        along: stretchOf(on, wishes),
        around: round !== undefined && typed.round,
        ...(kind === 'metal frame' || kind === 'spring wire' ? { formed: 'as sewn' } : {}),
      },
    });
  if (own.length > 0) return own.flatMap((m) => memberRows(board, m, kinds, units, wishes));
  return [
    pick(words.stiffen, 'edge member', [['', words.nothing], ...kinds], '', (kind) => kind !== '' && put(kind)),
    ...(round
      ? [
          tick(words.allRound(sizeText(round.length, units)), 'edge member round', typed.round, (v) => {
            typed.round = v;
          }),
        ]
      : []),
    stretch(),
  ];
}

const hasStretch = (): boolean => typed.from.trim() !== '' || typed.to.trim() !== '';

/** The edge, or the stretch of it that was asked for. */
function stretchOf(on: string, wishes: PartWishes): string {
  if (!hasStretch()) return on;
  const end = (text: string, otherwise: string): string => {
    const t = text.trim();
    return t === '' ? otherwise : /%$/.test(t) ? t : wishes.withUnit(t);
  };
  return `${on}[${end(typed.from, '0%')}..${end(typed.to, '100%')}]`;
}

function stretch(): HTMLElement {
  const end = (name: 'from' | 'to'): HTMLElement => {
    const made = field(draw[name], `edge member ${name}`, typed[name], null);
    made.input.addEventListener('input', () => {
      typed[name] = made.input.value;
    });
    return made.row;
  };
  const made = h(
    'details',
    { open: typed.unfolded || hasStretch() },
    h('summary', { 'data-hold': 'edge member stretch' }, words.stretch),
    h('p', { class: 'small' }, draw.partHint),
    end('from'),
    end('to'),
  );
  made.addEventListener('toggle', () => {
    if (made.isConnected) typed.unfolded = made.open;
  });
  return made;
}

function memberRows(board: Board, m: BoardMember, kinds: readonly (readonly [string, string])[], units: UnitChoice, wishes: PartWishes): HTMLElement[] {
  const hold = `member ${m.name}`;
  return [
    pick(words.stiffen, 'edge member', [['', words.nothing], ...kinds, ['figures', words.members.figures]], m.kind, (kind) =>
      wishes.draw(kind === '' ? { do: 'take off', what: 'members', name: m.name } : { do: 'member kind', name: m.name, kind: kind as Kind }),
    ),
    h(
      'p',
      { class: 'small' },
      [words.does[m.kind], m.kind === 'figures' ? '' : words.weighs(mass(m.usual.mass)), m.refs.length > 1 ? words.alsoAlong(m.refs.join(', ')) : '']
        .filter((s) => s !== '')
        .join(' '),
    ),
    ...memberFields(board, m, units, wishes),
    h(
      'div',
      { class: 'sheet-buttons' },
      button(words.takeOff, `${hold} off`, () => wishes.draw({ do: 'take off', what: 'members', name: m.name })),
    ),
  ];
}
