import { readQuantity } from '../core.ts';
import { h } from '../page/dom.ts';
import { type UnitChoice, withUnitOf } from '../page/format.ts';
import type { Board } from './board-data.ts';
import type { NewPanel } from './drafting.ts';
import { draw as words } from './draw-words.ts';
import { button, choices, field, pick, sizeText, tick } from './form-parts.ts';

type Kind = NewPanel['shape']['kind'];
type SizeName = keyof typeof words.sizes;
type Role = keyof typeof words.roles;

const SIZES: Readonly<Record<Kind, readonly SizeName[]>> = {
  rectangle: ['width', 'height'],
  half: ['width', 'height'],
  circle: ['diameter'],
  trapezoid: ['bottom', 'top', 'height'],
};

/** What is drawn next, most often: a name, its part of the bag, and sizes that fit what lies on the table. */
interface Next {
  readonly name: string;
  readonly role: Role;
  readonly width: string;
  readonly height: string;
  readonly open: boolean;
}

/** A box of front, back, two sides and a base, by the names that are missing; then pockets. */
function nextOf(board: Board | null, units: UnitChoice): Next {
  const usual = units !== 'metric' ? { w: '12 in', h: '10 in', d: '4 in' } : { w: '300 mm', h: '240 mm', d: '100 mm' };
  const has = (name: string): boolean => board?.panels.includes(name) ?? false;
  const edge = (ref: string, otherwise: string): string => (board?.edges.some((e) => e.ref === ref) ? `edge(${ref})` : otherwise);
  if (!has('front')) return { name: 'front', role: 'front', width: usual.w, height: usual.h, open: true };
  if (!has('back')) return { name: 'back', role: 'back', width: edge('front.bottom', usual.w), height: edge('front.left', usual.h), open: true };
  if (!has('left')) return { name: 'left', role: 'side', width: edge('right.bottom', usual.d), height: edge('front.left', usual.h), open: true };
  if (!has('right')) return { name: 'right', role: 'side', width: edge('left.bottom', usual.d), height: edge('front.right', usual.h), open: true };
  if (!has('base')) return { name: 'base', role: 'base', width: edge('front.bottom', usual.w), height: edge('left.bottom', usual.d), open: false };
  return { name: 'flap', role: 'flap', width: edge('back.top', usual.w), height: usual.d, open: false };
}

export interface PanelFormWishes {
  add(panel: NewPanel, bagName: string | null): void;
  leave(): void;
}

/** The form for a panel that is to be drawn: the first one of a new bag, or another. */
export class PanelForm {
  readonly element = h('form', { class: 'sheet-form panel-form' });
  private shape: Kind = 'rectangle';
  private board: Board | null = null;
  private units: UnitChoice = 'inch';
  private typed: Partial<Record<SizeName | 'name' | 'bag', string>> = {};
  private role: Role | null = null;
  private open: boolean | null = null;
  constructor(private readonly wishes: PanelFormWishes) {
    this.element.addEventListener('submit', (e) => {
      e.preventDefault();
      this.submit();
    });
  }

  /** Empties the form for the next panel. `board` null: the table is empty. */
  begin(board: Board | null, units: UnitChoice): void {
    this.typed = {};
    this.role = null;
    this.open = null;
    this.shape = 'rectangle';
    this.fill(board, units);
    this.element.querySelector<HTMLInputElement>('input[type=text]')?.focus();
  }

  private get next(): Next {
    const next = nextOf(this.board, this.units);
    if (this.role === null || this.role === next.role) return next;
    // Another part than the suggested one goes by its own name, and is as wide as the front.
    return { ...next, name: this.role, role: this.role, open: this.role !== 'base' && this.role !== 'gusset' };
  }

  private sizeOf(name: SizeName): string {
    const next = this.next;
    const usual = { width: next.width, height: next.height, diameter: this.units !== 'metric' ? '7 in' : '180 mm', bottom: next.width, top: next.width }[name];
    return this.typed[name] ?? usual;
  }

  fill(board: Board | null, units: UnitChoice): void {
    this.board = board;
    this.units = units;
    const next = this.next;
    const text = (label: string, key: SizeName | 'name' | 'bag', value: string, note = ''): HTMLElement => {
      const made = field(label, `new ${key}`, value, null, note);
      made.input.addEventListener('input', () => {
        this.typed[key] = made.input.value;
      });
      made.input.addEventListener('focus', () => made.input.select());
      return made.row;
    };
    const refill = (): void => {
      const hold = (document.activeElement as HTMLElement | null)?.dataset.key ?? (document.activeElement as HTMLElement | null)?.dataset.hold;
      this.fill(this.board, this.units);
      this.element.querySelector<HTMLElement>(`[data-key="${CSS.escape(hold ?? '')}"]:checked, [data-hold="${CSS.escape(hold ?? '')}"]`)?.focus();
    };
    const roles = Object.entries(words.roles) as [Role, string][];
    const shapes = (Object.keys(words.shapes) as Kind[]).map((value) => ({ value, label: words.shapes[value] }));
    this.element.replaceChildren(
      h('h2', {}, board === null ? words.firstPanel : words.aPanel),
      ...(board === null ? [text(words.bagName, 'bag', this.typed.bag ?? words.ownBag)] : []),
      pick(words.kind, 'new role', roles, next.role, (role) => {
        this.role = role as Role;
        refill();
      }),
      text(words.panelName, 'name', this.typed.name ?? next.name),
      choices(words.shape, shapes, this.shape, (shape) => {
        this.shape = shape;
        refill();
      }),
      words.shapeNotes[this.shape] === '' ? '' : h('p', { class: 'small' }, words.shapeNotes[this.shape]),
      ...SIZES[this.shape].map((size) => text(words.sizes[size], size, this.sizeOf(size), this.noteOf(this.sizeOf(size)))),
      ...(this.shape === 'circle'
        ? []
        : [
            tick(words.mouth, 'new open', this.open ?? next.open, (on) => {
              this.open = on;
            }),
          ]),
      h(
        'div',
        { class: 'sheet-buttons' },
        h('button', { type: 'submit', class: 'plain strong', 'data-hold': 'new do' }, words.putOn),
        button(words.leave, 'new leave', () => this.wishes.leave()),
      ),
    );
  }

  /** What a size that follows an edge comes to. */
  private noteOf(written: string): string {
    const ref = /^edge\((.*)\)$/.exec(written)?.[1];
    const edge = this.board?.edges.find((e) => e.ref === ref);
    return edge ? words.asLong(edge.ref, sizeText(edge.length, this.units)) : '';
  }

  private submit(): void {
    const next = this.next;
    const size = (name: SizeName): string => {
      const value = this.sizeOf(name).trim();
      return readQuantity(value, 'length').ok ? value : withUnitOf(value, '', this.units !== 'metric' ? 'in' : 'mm');
    };
    const shape: NewPanel['shape'] =
      this.shape === 'circle'
        ? { kind: 'circle', diameter: size('diameter') }
        : this.shape === 'trapezoid'
          ? { kind: 'trapezoid', bottom: size('bottom'), top: size('top'), height: size('height') }
          : { kind: this.shape, width: size('width'), height: size('height') };
    const open = this.shape !== 'circle' && (this.open ?? next.open) ? ['top'] : [];
    const name = (this.typed.name ?? next.name).trim() || next.name;
    this.wishes.add({ name, role: next.role, shape, open }, this.board === null ? (this.typed.bag ?? words.ownBag).trim() || words.ownBag : null);
  }
}
