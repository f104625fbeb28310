import { readQuantity } from '../core.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardEdge } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { edgeChoice, isFree, stateOf } from './edges.ts';
import { button, field, pick, sizeText, tick } from './form-parts.ts';

export interface SewingWishes {
  draw(edit: DrawEdit): void;
  /** Other edges are picked: the sheet is painted anew. */ picked(): void;
  tell(line: string): void;
}

/** An edge of a side, and the stretch of it that is meant: ends as typed, '' for its own. */
interface Picked {
  readonly ref: string;
  readonly from: string;
  readonly to: string;
}

/** A typed end of a stretch as a share of the edge; the fallback where it is none. */
function shareOf(typed: string, edge: BoardEdge, fallback: number): number {
  const percent = /^\s*(\d+(?:\.\d+)?)\s*%?\s*$/.exec(typed);
  if (percent) return Math.min(1, Number(percent[1]) / 100);
  const reading = readQuantity(typed, 'length');
  return reading.ok ? Math.min(1, Math.max(0, reading.value / edge.length)) : fallback;
}

/** Two sides being picked, the form that shows them, and the seams there are. */
export class SewingForm {
  readonly element = h('div', { class: 'sheet-form' });
  private sides: readonly [readonly Picked[], readonly Picked[]] = [[], []];
  private several = false;
  private second = false;
  private width = '';
  private board: Board | null = null;
  private units: UnitChoice = 'inch';
  constructor(private readonly wishes: SewingWishes) {}

  get refs(): ReadonlySet<string> {
    return new Set(this.sides.flat().map((p) => p.ref));
  }

  /** Length of the first side, m; null: nothing is picked. */
  get length(): number | null {
    return this.sides[0].length === 0 ? null : this.lengthOf(this.sides[0]);
  }

  private lengthOf(side: readonly Picked[]): number {
    return side.reduce((sum, p) => {
      const edge = this.edge(p.ref);
      return edge ? sum + edge.length * (shareOf(p.to, edge, 1) - shareOf(p.from, edge, 0)) : sum;
    }, 0);
  }

  private edge(ref: string): BoardEdge | undefined {
    return this.board?.edges.find((e) => e.ref === ref);
  }

  clear(): void {
    this.sides = [[], []];
    this.second = false;
  }

  /** An edge was picked, on the sheet or from a list. One that is picked already is left out again. */
  pick(ref: string): void {
    const edge = this.edge(ref);
    if (!edge) return;
    const [a, b] = this.sides;
    if (this.refs.has(ref)) {
      this.sides = [a.filter((p) => p.ref !== ref), b.filter((p) => p.ref !== ref)];
      if (this.sides[0].length === 0) this.clear();
      this.wishes.picked();
      return;
    }
    const made = { ref, from: '', to: '' };
    if (a.length === 0 || (this.several && !this.second)) {
      this.sides = [[...a, made], b];
      this.wishes.tell(words.picked([...a, made].map((p) => p.ref).join(' + '), sizeText(this.lengthOf([...a, made]), this.units)));
    } else this.sides = [a, [...b, made]];
    if (!this.several && this.sides[1].length > 0) this.sew();
    else this.wishes.picked();
  }

  private written(side: readonly Picked[]): string[] {
    return side.map((p) => {
      const edge = this.edge(p.ref);
      if (!edge || (p.from === '' && p.to === '')) return p.ref;
      const end = (typed: string, fallback: string): string =>
        typed === '' ? fallback : /^\s*\d+(\.\d+)?\s*%?\s*$/.test(typed) ? `${Number.parseFloat(typed)}%` : typed;
      return `${p.ref}[${end(p.from, '0')}..${end(p.to, '100%')}]`;
    });
  }

  private sew(): void {
    const [a, b] = this.sides.map((side) => this.written(side));
    if (a.length === 0 || b.length === 0) return;
    this.clear();
    this.wishes.draw({ do: 'sew', sides: [a, b] });
  }

  fill(board: Board, units: UnitChoice): void {
    this.board = board;
    this.units = units;
    this.sides = [this.sides[0].filter((p) => this.edge(p.ref)), this.sides[1].filter((p) => this.edge(p.ref))];
    const free = board.edges.filter((e) => !this.refs.has(e.ref));
    const far = (e: BoardEdge): number => Math.abs(e.length - (this.length ?? 0)) + (isFree(e) ? 0 : 1000);
    const rank = this.length === null ? [...free].sort((p, q) => Number(isFree(q)) - Number(isFree(p))) : [...free].sort((p, q) => far(p) - far(q));
    const side = (i: 0 | 1): (Node | null)[] => this.side(i, rank);
    const active = this.several;
    this.element.replaceChildren(
      h('h2', {}, words.sewTitle),
      h('p', { class: 'small' }, words.sewHint),
      tick(words.several, 'sew several', this.several, (on) => {
        this.several = on;
        this.wishes.picked();
      }),
      ...(side(0) as Node[]),
      ...(active && this.sides[0].length > 0 && !this.second
        ? [
            button(words.nextSide, 'sew next', () => {
              this.second = true;
              this.wishes.picked();
            }),
          ]
        : []),
      ...(this.sides[0].length > 0 && (!active || this.second) ? (side(1) as Node[]) : []),
      h(
        'div',
        { class: 'sheet-buttons' },
        active && this.sides[1].length > 0 ? button(words.sew, 'sew do', () => this.sew(), { strong: true }) : null,
        this.sides[0].length > 0
          ? button(words.clear, 'sew clear', () => {
              this.clear();
              this.wishes.picked();
            })
          : null,
      ),
      ...this.gusset(),
    );
  }

  private side(i: 0 | 1, rank: readonly BoardEdge[]): Node[] {
    const list = this.sides[i];
    const title = i === 0 ? words.first : words.second;
    const length = i === 0 ? null : this.length;
    const more = list.length === 0 || this.several;
    return [
      ...list.map((p) => this.picked(title, i, p)),
      ...(more
        ? [
            pick(
              title,
              `sew side ${i}`,
              [['', words.pick], ...rank.map((e) => edgeChoice(e, i === 0 && list.length > 0 ? null : length, this.units))],
              '',
              (ref) => {
                if (ref !== '') this.pick(ref);
              },
            ),
          ]
        : []),
    ];
  }

  /** One picked edge, and the stretch of it. */
  private picked(title: string, i: 0 | 1, p: Picked): HTMLElement {
    const set = (change: Partial<Picked>): void => {
      const side = this.sides[i].map((q) => (q.ref === p.ref ? { ...q, ...change } : q));
      this.sides = i === 0 ? [side, this.sides[1]] : [this.sides[0], side];
      this.wishes.picked();
    };
    const end = (name: 'from' | 'to'): HTMLElement => field(words[name], `sew ${name} ${p.ref}`, p[name], (v) => set({ [name]: v })).row;
    const edge = this.edge(p.ref);
    return h(
      'div',
      { class: 'sew-picked' },
      h(
        'p',
        {},
        h('span', { class: 'away' }, `${title}: `),
        h('b', {}, p.ref),
        ` ${sizeText(this.lengthOf([p]), this.units)}`,
        edge && i === 1 && this.length !== null && this.sides[1].length === 1 ? `, ${stateOf(edge, this.length, this.units)}` : '',
        ' ',
        h('button', { type: 'button', class: 'plain small-button', 'aria-label': words.drop(p.ref), onclick: () => this.pick(p.ref) }, '×'),
      ),
      h('details', { open: p.from !== '' || p.to !== '' }, h('summary', {}, words.part), h('p', { class: 'small' }, words.partHint), end('from'), end('to')),
    );
  }

  private gusset(): Node[] {
    const [side] = this.sides;
    if (side.length === 0 || this.sides[1].length > 0 || side.some((p) => p.ref.split('.')[0] !== side[0].ref.split('.')[0])) return [];
    const usual = this.units !== 'metric' ? '4 in' : '100 mm';
    const made = field(words.gussetWidth, 'sew gusset width', this.width || usual, null);
    made.input.addEventListener('input', () => {
      this.width = made.input.value;
    });
    const go = (): void => {
      const edges = side.map((p) => p.ref);
      this.clear();
      this.wishes.draw({ do: 'gusset', edges, width: made.input.value.trim() || usual });
    };
    made.input.addEventListener('keydown', (e) => {
      if (e.key === 'Enter') go();
    });
    return [h('h3', {}, words.gusset), made.row, button(words.gussetDo(sizeText(this.lengthOf(side), this.units)), 'sew gusset', go)];
  }
}
