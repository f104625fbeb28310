import { readQuantity } from '../core.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { button, field, pick, tick } from './form-parts.ts';
import { words as flat } from './words.ts';

type Place = { readonly panel: string; readonly at: readonly [number, number] };

export interface StrapWishes {
  draw(edit: DrawEdit): void;
  tell(line: string): void;
  /** The first end is there, or gone again. */ placed(): void;
  withUnit(value: string): string;
}

/** Straps drawn on: two places pressed, or distances given; and the straps there are. */
export class StrapForm {
  readonly element = h('div', { class: 'sheet-form' });
  first: Place | null = null;
  private board: Board | null = null;
  private typed: Record<string, string> = {};
  private panel = '';
  private both = true;
  constructor(private readonly wishes: StrapWishes) {}

  /** A place on a panel was pressed, panel frame, m. */
  press(place: Place): void {
    const { first } = this;
    if (first === null) {
      this.first = place;
      this.wishes.tell(words.strapFirst);
      this.wishes.placed();
      return;
    }
    this.first = null;
    this.add(first, place);
  }

  private add(a: Place, b: Place): void {
    const strap = {
      panel: a.panel,
      ends: [a.at, b.at] as const,
      ...(b.panel === a.panel ? {} : { to: b.panel }),
      width: this.size('width'),
      length: this.size('length'),
      both: this.both,
    };
    this.wishes.draw({ do: 'strap', strap });
  }

  private usual: Readonly<Record<string, string>> = {};
  private size(name: string): string {
    return this.wishes.withUnit((this.typed[name] ?? this.usual[name]).trim());
  }

  fill(board: Board, units: UnitChoice, chosen: string): void {
    this.board = board;
    this.usual =
      units !== 'metric' ? { width: '1 in', length: '22 in', side: '3 in', top: '1 in' } : { width: '25 mm', length: '560 mm', side: '75 mm', top: '25 mm' };
    if (!board.panels.includes(this.panel)) this.panel = board.panels.includes('front') ? 'front' : chosen;
    const text = (label: string, name: string): HTMLElement => {
      const made = field(label, `strap new ${name}`, this.typed[name] ?? this.usual[name], null);
      made.input.addEventListener('input', () => {
        this.typed[name] = made.input.value;
      });
      return made.row;
    };
    const pair = this.pairOf(this.panel);
    this.element.replaceChildren(
      h('h2', {}, words.straps),
      h('p', { class: 'small' }, words.strapHint),
      h('p', { class: 'small' }, flat.caution),
      pick(
        words.strapPanel,
        'strap panel',
        board.panels.map((p) => [p, p] as const),
        this.panel,
        (panel) => {
          this.panel = panel;
          this.fill(board, units, chosen);
        },
      ),
      text(words.strapFrom, 'side'),
      text(words.strapTop, 'top'),
      text(words.strapWidth, 'width'),
      text(words.strapLength, 'length'),
      pair === null
        ? ''
        : tick(words.strapBoth(pair), 'strap both', this.both, (on) => {
            this.both = on;
          }),
      h(
        'div',
        { class: 'sheet-buttons' },
        button(words.strapDo, 'strap do', () => this.byFigures(), { strong: true }),
      ),
      ...board.straps.map((strap) => {
        const write = (key: string) => (v: string) => this.wishes.draw({ do: 'write', path: ['straps', strap.name, key], text: this.wishes.withUnit(v) });
        return h(
          'section',
          { class: 'sheet-tasks' },
          h('h3', {}, `${strap.name} ${words.strapOn(strap.panels.join(', '))}`),
          field(words.strapWidth, `strap ${strap.name} width`, strap.width, write('width')).row,
          field(words.strapLength, `strap ${strap.name} length`, strap.length, write('length')).row,
          h(
            'div',
            { class: 'sheet-buttons' },
            button(words.strapOff, `strap ${strap.name} off`, () => this.wishes.draw({ do: 'delete strap', strap: strap.name })),
          ),
        );
      }),
    );
  }

  /** The panel that follows the same outline as one. */
  private pairOf(panel: string): string | null {
    const board = this.board!;
    const owner = (name: string): string => {
      const { follows } = board.about[board.panels.indexOf(name)];
      return follows === null ? name : owner(follows);
    };
    return board.panels.find((p) => p !== panel && owner(p) === owner(panel)) ?? null;
  }

  /** As far from either side, as far from the top. */
  private byFigures(): void {
    const board = this.board!;
    const { x, y } = board.layout.at[board.panels.indexOf(this.panel)];
    const places = board.edges
      .filter((e) => e.panel === this.panel && !e.edge.startsWith('hole'))
      .flatMap((e) => [...e.d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]));
    const metres = (name: string): number => {
      const reading = readQuantity(this.size(name), 'length');
      return reading.ok ? reading.value : 0.025;
    };
    const [low, high, top] = [Math.min(...places.map((p) => p[0])), Math.max(...places.map((p) => p[0])), Math.min(...places.map((p) => p[1]))];
    const up = (y - top) / 1000 - metres('top') - metres('width') / 2;
    const end = (at: number): Place => ({ panel: this.panel, at: [at, up] });
    this.add(end((low - x) / 1000 + metres('side')), end((high - x) / 1000 - metres('side')));
  }
}
