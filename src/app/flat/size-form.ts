import { h, refill } from '../page/dom.ts';
import * as f from '../page/format.ts';
import type { Board, BoardHandle } from './board-data.ts';
import { draw as draws } from './draw-words.ts';
import { field, pick } from './form-parts.ts';
import { markLegend, partName } from './marks.ts';
import { words } from './words.ts';

export interface SizeFormWishes {
  /** Another panel is chosen, or another part of it. */ choose(panel: string, part: string): void;
  /** A size was typed. */ typed(handle: BoardHandle, control: number, value: string): void;
  /** A size is to be one of the bag's, called so. */ name(path: BoardHandle['controls'][number]['path'], label: string): void;
}

/** What the form shows. */
export interface Shown {
  readonly board: Board;
  readonly panel: string;
  readonly handle: BoardHandle | undefined;
  readonly units: f.UnitChoice;
}

/** A length of the pattern in the reader's units. */
const told = (v: number, units: f.UnitChoice): string =>
  units === 'metric' ? exact(v, units) : words.both(f.lengthFine(v), units === 'both' ? f.length(v, 'metric').main : null);

/** The form beside the sheet: which part, its sizes as written, what the marks are, and the seams at its edges. */
export class SizeForm {
  readonly element = h('div', { class: 'sheet-form' });
  readonly lengths = h('div', { class: 'sheet-lengths' });
  readonly legend = h('div', {});
  constructor(private readonly wishes: SizeFormWishes) {}

  fill({ board, panel, handle, units }: Shown): void {
    const own = board.handles.filter((k) => k.panel === panel);
    const panels = board.panels.map((p) => [p, p] as const);
    const parts = own.map((k) => [k.id, partName(k)] as const);
    this.element.replaceChildren(
      pick(words.panel, 'form panel', panels, panel, (v) => this.wishes.choose(v, '')),
      own.length > 0 ? pick(words.part, 'form part', parts, handle?.id ?? '', (v) => this.wishes.choose(panel, v)) : h('p', {}, words.noParts),
      ...(handle?.controls.map((_, i) => this.field(handle, i, units)) ?? []),
      ...(handle?.kind === 'anchor' ? [h('p', { class: 'small' }, words.caution)] : []),
      ...this.naming(handle),
    );
    this.legend.replaceChildren(markLegend(own));
    this.tellLengths(handle ? (board.lengths[handle.id] ?? []) : [], units);
  }

  private field(handle: BoardHandle, i: number, units: f.UnitChoice): HTMLElement {
    const c = handle.controls[i];
    const { beside } = f.length(c.value, units);
    const note = c.follows ? words.follows(c.written, c.follows) : /^[\s\d./]+(mm|cm|in|"|m)?\s*$/.test(c.written) ? words.own : words.formula(c.written);
    const id = `size-${i}`;
    const input = h('input', {
      type: 'text',
      id,
      value: exact(c.value, units),
      'data-hold': `form ${i}`,
      'aria-describedby': `${id}-note`,
      autocomplete: 'off',
    });
    input.addEventListener('change', () => this.wishes.typed(handle, i, input.value.trim()));
    return h(
      'div',
      { class: 'sheet-row' },
      h('label', { for: id }, words.size[c.label]),
      input,
      h('small', { id: `${id}-note` }, beside ? `${beside} · ${note}` : note),
    );
  }

  /** Figures of the part that are no size of the bag yet can be made one. */
  private naming(handle: BoardHandle | undefined): HTMLElement[] {
    const own = handle?.controls.filter((c) => c.follows === null) ?? [];
    if (own.length === 0) return [];
    const rows = own.map(
      (c) => field(`${words.size[c.label]}: ${draws.label}`, `name ${c.path.join('.')}`, '', (label) => label !== '' && this.wishes.name(c.path, label)).row,
    );
    return [h('details', { class: 'size-naming' }, h('summary', {}, draws.nameIt), ...rows)];
  }

  private tellLengths(list: Board['lengths'][string], units: f.UnitChoice): void {
    const both = (v: number): string => told(v, units);
    const line = (s: (typeof list)[number]): HTMLElement => {
      const apart = s.own - s.partner;
      const difference = Math.abs(apart) < 5e-5 ? words.even : both(Math.abs(apart));
      const told = words.seam(s.seam, both(s.own), s.partnerNames.join(' + '), both(s.partner), difference);
      return h('p', { class: Math.abs(apart) > Math.max(0.003, 0.01 * s.partner) ? 'apart' : null }, told);
    };
    refill(this.lengths, ...list.map(line));
  }
}

/** A size as it is typed: to the sixteenth of an inch. */
function exact(metres: number, units: f.UnitChoice): string {
  if (units === 'metric') return `${Number((metres * 1000).toFixed(2))} mm`;
  return f.lengthFine(metres);
}

/** The sizes of a part being dragged. */
export const sizesOf = (handle: BoardHandle | undefined, units: f.UnitChoice): string =>
  handle?.controls.map((c) => `${words.size[c.label]} ${told(c.value, units)}`).join(', ') ?? '';
