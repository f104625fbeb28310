import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardEdge } from './board-data.ts';
import type { DrawEdit } from './drafting.ts';
import { button, field, pick, sizeText } from './form-parts.ts';
import { type Spot, spotOf, spotRows, type TypedSpot, usualSpot } from './spot-fields.ts';
import { trim as words } from './trim-words.ts';

type Closure = Extract<DrawEdit, { do: 'closure' }>['closure'];
type Kind = Closure['kind'];
export interface TrimWishes {
  draw(edit: DrawEdit): void;
  tell(line: string): void;
  /** What is picked or pressed has changed. */ picked(): void;
  withUnit(value: string): string;
  withUnitOf(value: string, before: string): string;
}

const isZip = (kind: Kind): kind is 'coil zip' | 'metal zip' => kind === 'coil zip' || kind === 'metal zip';
const isCord = (kind: Kind): kind is 'drawstring' | 'cinch strap' => kind === 'drawstring' || kind === 'cinch strap';

/** A closure that is to be put on: two places, two edges or a channel. */
export class ClosureForm {
  private kind: Kind = 'magnet';
  /** Edges that are picked: the two sides of a zip, or those of a channel. */ private sides: [string[], string[]] = [[], []];
  private spots: [TypedSpot, TypedSpot] | null = null;
  private typed: { below?: string; drawnTo?: string } = {};
  /** The place pressed first. */ first: { readonly panel: string; readonly at: readonly [number, number] } | null = null;
  constructor(private readonly wishes: TrimWishes) {}

  get wants(): 'edges' | 'places' {
    return isZip(this.kind) || isCord(this.kind) ? 'edges' : 'places';
  }

  get refs(): ReadonlySet<string> {
    return new Set(this.wants === 'edges' ? this.sides.flat() : []);
  }

  /** An edge was picked on the drawing: it goes on the side that is still empty, or off again. */
  pick(ref: string): void {
    const [a, b] = this.sides;
    if (a.includes(ref) || b.includes(ref)) this.sides = [a.filter((r) => r !== ref), b.filter((r) => r !== ref)];
    else if (isCord(this.kind)) this.sides = [[...a, ref], []];
    else this.sides = a.length === 0 ? [[ref], b] : [a, [ref]];
    this.wishes.picked();
  }

  /** A place was pressed: the first part, then the second, which puts it on. */
  press(place: { readonly panel: string; readonly at: readonly [number, number] }): void {
    if (this.wants === 'edges') return;
    if (this.first === null) {
      this.first = place;
      this.wishes.tell(words.firstPart);
      this.wishes.picked();
      return;
    }
    const from = this.first;
    this.first = null;
    this.putPoint(from, place);
  }

  private putPoint(from: Spot, to: Spot): void {
    if (isZip(this.kind) || isCord(this.kind)) return;
    this.wishes.draw({ do: 'closure', closure: { kind: this.kind, from, to } });
  }

  /** Flap to front where there is a flap, else front to back. */
  private usualSpots(board: Board, units: UnitChoice): [TypedSpot, TypedSpot] {
    const role = (name: string): string | undefined => board.panels.find((_, i) => board.about[i].role === name);
    const inset = units !== 'metric' ? '1 in' : '25 mm';
    const flap = role('flap');
    const [front, back] = [role('front') ?? board.panels[0], role('back') ?? board.panels[1] ?? board.panels[0]];
    if (flap === undefined) return [usualSpot(board, front, inset), usualSpot(board, back, inset)];
    // How far down the front the flap's end falls: its own length less the depth that it goes over.
    const long = (ref: string): number => board.edges.find((e) => e.ref === ref)?.length ?? 0;
    const base = role('base');
    const depth = base === undefined ? 0 : long(`${base}.left`);
    const fall = Math.max(0.03, long(`${flap}.left`) - depth) - 0.025;
    const step = units !== 'metric' ? 0.0254 / 8 : 0.001;
    const down = sizeText(Math.max(step, Math.round(fall / step) * step), units);
    return [usualSpot(board, flap, inset), usualSpot(board, front, down)];
  }

  fill(board: Board, units: UnitChoice): HTMLElement[] {
    const known = new Set(board.edges.filter((e) => e.free).map((e) => e.ref));
    this.sides = [this.sides[0].filter((r) => known.has(r)), this.sides[1].filter((r) => known.has(r))];
    if (this.spots === null || this.spots.some((s) => !board.edges.some((e) => e.panel === s.panel && e.edge === s.edge)))
      this.spots = this.usualSpots(board, units);
    const kinds = Object.entries(words.kinds) as (readonly [Kind, string])[];
    const rows = isZip(this.kind) ? this.zipRows(board, units) : isCord(this.kind) ? this.cordRows(board, units) : this.pointRows(board);
    return [
      pick(words.kind, 'close kind', kinds, this.kind, (kind) => {
        this.kind = kind as Kind;
        [this.sides, this.first, this.typed] = [[[], []], null, {}];
        this.wishes.picked();
      }),
      ...rows,
    ];
  }

  private put(act: () => void): HTMLElement {
    return h('div', { class: 'sheet-buttons' }, button(words.putOn, 'close do', act, { strong: true }));
  }

  private pointRows(board: Board): HTMLElement[] {
    const [from, to] = this.spots!;
    const { withUnit, picked } = this.wishes;
    return [
      h('p', { class: 'small' }, words.closureHint),
      ...spotRows(board, 'close from', words.from, from, picked),
      ...spotRows(board, 'close to', words.to, to, picked),
      this.put(() => this.putPoint(spotOf(board, from, withUnit), spotOf(board, to, withUnit))),
    ];
  }

  private edgeSelect(label: string, i: 0 | 1, free: readonly BoardEdge[], units: UnitChoice): HTMLElement {
    return pick(
      label,
      `close side ${i}`,
      [['', words.noEdge], ...free.map((e) => [e.ref, `${e.ref}, ${sizeText(e.length, units)}`] as const)],
      this.sides[i][0] ?? '',
      (ref) => {
        this.sides[i] = ref === '' ? [] : [ref];
        this.wishes.picked();
      },
    );
  }

  private zipRows(board: Board, units: UnitChoice): HTMLElement[] {
    const free = board.edges.filter((e) => e.free);
    if (free.length < 2) return [h('p', { class: 'small' }, words.noEdges)];
    // The two that a maker means most often: the mouth's front and back.
    if (this.sides[0].length === 0 && this.sides[1].length === 0) {
      const open = free.filter((e) => e.open);
      const a = open.find((e) => e.edge.startsWith('top')) ?? open[0];
      const b = open.find((e) => e !== a && e.edge === a?.edge && Math.abs(e.length - (a?.length ?? 0)) < 0.03 * e.length);
      if (a && b) this.sides = [[a.ref], [b.ref]];
    }
    return [
      h('p', { class: 'small' }, words.zipHint),
      this.edgeSelect(words.sideOne, 0, free, units),
      this.edgeSelect(words.sideTwo, 1, free, units),
      this.put(() => {
        const { kind, sides } = this;
        if (isZip(kind)) this.wishes.draw({ do: 'closure', closure: { kind, join: sides } });
      }),
    ];
  }

  private cordRows(board: Board, units: UnitChoice): HTMLElement[] {
    const free = board.edges.filter((e) => e.free);
    if (free.length === 0) return [h('p', { class: 'small' }, words.noEdges)];
    const [first] = this.sides[0];
    const rings = Object.values(board.trims.around).filter((a) => a.ring);
    if (first === undefined) this.sides = [[...(rings[0]?.refs ?? [free[0].ref])], []];
    const long = this.sides[0].reduce((sum, ref) => sum + (board.edges.find((e) => e.ref === ref)?.length ?? 0), 0);
    const inch = units !== 'metric';
    const step = inch ? 0.0254 / 2 : 0.005;
    const usual = { below: inch ? '3/4 in' : '20 mm', drawnTo: sizeText(Math.max(step, Math.round((0.4 * long) / step) * step), units) };
    const text = (label: string, key: 'below' | 'drawnTo', note: string): HTMLElement => {
      const made = field(label, `close ${key}`, this.typed[key] ?? usual[key], null, note);
      made.input.addEventListener('input', () => {
        this.typed[key] = made.input.value;
      });
      return made.row;
    };
    const entries = [...new Map([...rings].reverse().map((a) => [[...a.refs].sort().join('|'), a] as const)).values()].map(
      (a) => [a.refs.join('|'), words.allMouth(a.refs.join(', '))] as const,
    );
    const now = this.sides[0].join('|');
    const listed = entries.some(([v]) => v === now) ? entries : [[now, this.sides[0].join(', ')] as const, ...entries];
    return [
      h('p', { class: 'small' }, words.cordHint),
      pick(words.channel, 'close side 0', [...listed, ...free.map((e) => [e.ref, e.ref] as const).filter(([v]) => v !== now)], now, (refs) => {
        this.sides = [refs.split('|'), []];
        this.wishes.picked();
      }),
      text(words.below, 'below', ''),
      text(words.drawnTo, 'drawnTo', words.cutLength(sizeText(long, units))),
      this.put(() => {
        const { kind, wishes } = this;
        const size = (key: 'below' | 'drawnTo'): string => wishes.withUnit((this.typed[key] ?? usual[key]).trim());
        if (isCord(kind)) wishes.draw({ do: 'closure', closure: { kind, along: this.sides[0], below: size('below'), drawnTo: size('drawnTo') } });
      }),
    ];
  }
}
