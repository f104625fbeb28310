import { h, refill, svg } from '../page/dom.ts';
import * as f from '../page/format.ts';
import { text } from '../page/text.ts';
import type { Desk, Look, Move } from './drafting.ts';
import type { Board, DeskSay } from './drafting-worker.ts';
import { gridOf, type Snapped, snapped } from './snap.ts';

type BoardHandle = Board['handles'][number];

export interface BoardWishes {
  /** Takes a changed bag; false when it was refused. */ commit(bag: string, what: string): boolean;
  say(words: string): void;
  point(panel: string | null): void;
}

const words = text.cut;
const partName = (handle: BoardHandle): string => `${words.kinds[handle.kind]} ${handle.name}`;

/** The flat panels with handles on the chosen one: dragged, moved by arrow keys, or typed in the form beside them. */
export class FlatBoard {
  private readonly sheet = h('div', { class: 'sheet', role: 'group', 'aria-label': words.sheet });
  private readonly form = h('div', { class: 'sheet-form' });
  private readonly lengths = h('div', { class: 'sheet-lengths' });
  private readonly told = h('p', { class: 'sheet-told' });
  private board: Board | null = null;
  private bag = '';
  private look: Look = { option: '', units: 'inch' };
  private panel = '';
  private part = '';
  private drag: {
    readonly handle: BoardHandle;
    readonly start: DOMPoint;
    readonly base: string;
    readonly layout: Board['layout'];
    last: DeskSay | null;
    wish: Snapped | null;
    busy: boolean;
  } | null = null;

  constructor(
    host: HTMLElement,
    private readonly desk: Desk,
    private readonly wishes: BoardWishes,
  ) {
    host.replaceChildren(
      this.sheet,
      h('aside', { class: 'sheet-side', 'aria-label': words.edit }, h('h2', {}, words.edit), this.form, this.lengths, this.told),
    );
    this.sheet.addEventListener('pointerdown', (e) => this.take(e));
    this.sheet.addEventListener('pointermove', (e) => this.pull(e));
    this.sheet.addEventListener('pointerup', (e) => this.letGo(e));
    this.sheet.addEventListener('pointercancel', () => this.cancel());
    this.sheet.addEventListener('keydown', (e) => this.key(e));
    this.sheet.addEventListener('focusin', (e) => this.focused(e));
    this.sheet.addEventListener(
      'pointerover',
      (e) => this.drag === null && this.wishes.point((e.target as Element).closest<SVGElement>('[data-panel]')?.dataset.panel ?? null),
    );
    this.sheet.addEventListener('pointerleave', () => this.wishes.point(null));
    this.sheet.addEventListener('focusout', () => this.wishes.point(null));
  }

  /** Draws a bag; what is chosen stays chosen where it still is. */
  async show(bag: string, look: Look): Promise<void> {
    if (this.drag !== null) return;
    // Units hold from now on, not from the next drawing: a key pressed meanwhile must step by them.
    this.look = look;
    const say = await this.desk.flat(bag, look);
    if (say.kind !== 'flat' || this.drag !== null) return;
    // What was said of the last move is no longer so once something else has changed the bag.
    if (bag !== this.bag) refill(this.told);
    this.bag = bag;
    this.paint(say.board);
  }

  /** Lights one panel up: a heavy outline, and its name underlined. */
  pointOut(panel: string | null): void {
    for (const g of this.sheet.querySelectorAll<SVGElement>('.flat-panel')) g.classList.toggle('pointed', g.dataset.panel === panel);
  }

  private get handle(): BoardHandle | undefined {
    return this.board?.handles.find((k) => k.id === this.part);
  }

  private paint(board: Board): void {
    const kept = (document.activeElement as SVGElement | HTMLElement | null)?.dataset?.hold ?? null;
    this.board = board;
    if (!board.panels.includes(this.panel)) this.panel = board.panels[0] ?? '';
    if (this.handle?.panel !== this.panel) this.part = board.handles.find((k) => k.panel === this.panel)?.id ?? '';
    this.sheet.innerHTML = board.svg;
    const drawing = this.sheet.querySelector('svg')!;
    // The panels inside are things to press, which a single picture may not hold.
    drawing.setAttribute('role', 'group');
    for (const g of drawing.querySelectorAll<SVGElement>('.flat-panel')) {
      g.setAttribute('tabindex', '0');
      g.setAttribute('role', 'button');
      g.setAttribute('aria-pressed', String(g.dataset.panel === this.panel));
      g.dataset.hold = `panel ${g.dataset.panel}`;
      g.classList.toggle('chosen', g.dataset.panel === this.panel);
      if (g.dataset.panel === this.panel) g.after(this.paintHandles());
    }
    this.fill();
    if (kept)
      (
        this.sheet.querySelector<SVGElement>(`[data-hold="${CSS.escape(kept)}"]`) ?? this.form.querySelector<HTMLElement>(`[data-hold="${CSS.escape(kept)}"]`)
      )?.focus();
  }

  private place(handle: BoardHandle): [number, number] {
    const o = this.board!.layout.at[this.board!.panels.indexOf(handle.panel)];
    return [o.x + handle.at[0] * 1000, o.y - handle.at[1] * 1000];
  }

  private paintHandles(): SVGElement {
    const own = this.board!.handles.filter((k) => k.panel === this.panel);
    const group = svg('g', { class: 'handles' });
    for (const handle of own) {
      const [x, y] = this.place(handle);
      const label = words.handle(
        handle.panel,
        partName(handle),
        handle.controls.map((c) => `${words.size[c.label]} ${f.lengthText(c.value, this.look.units)}`).join(', '),
      );
      const shape =
        handle.kind === 'corner'
          ? `M${x - 5} ${y - 5}h10v10h-10Z`
          : handle.kind === 'anchor'
            ? `M${x} ${y - 8}L${x + 8} ${y}L${x} ${y + 8}L${x - 8} ${y}Z`
            : `M${x - 6} ${y}a6 6 0 1 0 12 0a6 6 0 1 0 -12 0Z`;
      const g = svg(
        'g',
        { class: `handle handle-${handle.kind}`, tabindex: 0, role: 'button', 'aria-label': label, 'data-hold': handle.id },
        svg('title', {}, label),
      );
      g.append(svg('path', { class: 'handle-reach', d: `M${x - 13} ${y - 13}h26v26h-26Z` }), svg('path', { class: 'handle-mark', d: shape }));
      g.classList.toggle('held', handle.id === this.part);
      group.append(g);
    }
    return group;
  }

  /** The form beside the sheet: which part, its sizes as written, and the seams at its edges. */
  private fill(): void {
    const board = this.board!;
    const own = board.handles.filter((k) => k.panel === this.panel);
    const pick = (label: string, hold: string, entries: readonly (readonly [string, string])[], now: string, choose: (v: string) => void): HTMLElement => {
      const select = h(
        'select',
        { class: 'plain', 'data-hold': hold, onchange: () => choose(select.value) },
        ...entries.map(([value, name]) => h('option', { value, selected: value === now }, name)),
      );
      return h('label', { class: 'sheet-row' }, h('span', {}, label), select);
    };
    const panels = pick(
      words.panel,
      'form panel',
      board.panels.map((p) => [p, p] as const),
      this.panel,
      (v) => this.choose(v, ''),
    );
    const parts = pick(
      words.part,
      'form part',
      own.map((k) => [k.id, partName(k)] as const),
      this.part,
      (v) => this.choose(this.panel, v),
    );
    const handle = this.handle;
    const fields = handle?.controls.map((c, i) => {
      const value = f.length(c.value, this.look.units);
      const note = c.follows ? words.follows(c.written, c.follows) : /^[\s\d./]+(mm|cm|in|"|m)?\s*$/.test(c.written) ? words.own : words.formula(c.written);
      const id = `size-${i}`;
      const input = h('input', {
        type: 'text',
        id,
        value: this.exact(c.value),
        'data-hold': `form ${i}`,
        'aria-describedby': `${id}-note`,
        autocomplete: 'off',
      });
      input.addEventListener('change', () => void this.typed(handle, i, input.value.trim()));
      return h(
        'div',
        { class: 'sheet-row' },
        h('label', { for: id }, words.size[c.label]),
        input,
        h('small', { id: `${id}-note` }, value.beside ? `${value.beside} · ${note}` : note),
      );
    });
    this.form.replaceChildren(
      panels,
      ...(own.length > 0 ? [parts] : [h('p', {}, words.noParts)]),
      ...(fields ?? []),
      ...(handle?.kind === 'anchor' ? [h('p', { class: 'small' }, words.caution)] : []),
    );
    this.tellLengths();
  }

  private exact(metres: number): string {
    if (this.look.units === 'metric') return `${Number((metres * 1000).toFixed(2))} mm`;
    return Math.abs((metres / 0.0254) * 16 - Math.round((metres / 0.0254) * 16)) < 1e-3 ? f.lengthFine(metres) : `${Number((metres / 0.0254).toFixed(3))} in`;
  }

  private tellLengths(): void {
    const both = (v: number): string => words.both(f.lengthFine(v), f.length(v, 'metric').main);
    const list = (this.handle ? this.board!.seams[this.handle.id] : []) ?? [];
    refill(
      this.lengths,
      ...list.map((s) => {
        const apart = s.own - s.partner;
        const words_ = words.seam(
          s.seam,
          both(s.own),
          s.partnerNames.join(' + '),
          both(s.partner),
          Math.abs(apart) < 5e-5 ? words.even : both(Math.abs(apart)),
        );
        return h('p', { class: Math.abs(apart) > Math.max(0.003, 0.01 * s.partner) ? 'apart' : null }, words_);
      }),
    );
  }

  private choose(panel: string, part: string): void {
    this.panel = panel;
    this.part = part;
    if (this.board) this.paint(this.board);
  }

  private focused(event: FocusEvent): void {
    const hold = (event.target as SVGElement).dataset?.hold ?? '';
    const panel = hold.startsWith('panel ') ? hold.slice(6) : this.board?.handles.find((k) => k.id === hold)?.panel;
    this.wishes.point(panel ?? null);
    if (hold.startsWith('panel ') || this.part === hold || !this.board?.handles.some((k) => k.id === hold)) return;
    this.part = hold;
    for (const g of this.sheet.querySelectorAll<SVGElement>('.handle')) g.classList.toggle('held', g.dataset.hold === hold);
    this.fill();
  }

  private key(event: KeyboardEvent): void {
    const hold = (event.target as SVGElement).dataset?.hold ?? '';
    if (hold.startsWith('panel ') && (event.key === 'Enter' || event.key === ' ')) {
      event.preventDefault();
      this.choose(hold.slice(6), '');
      return;
    }
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    const handle = this.board?.handles.find((k) => k.id === hold);
    if (!way || !handle || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    const step = gridOf(this.look.units) * (event.shiftKey ? 10 : 1);
    void this.desk.move(this.bag, { handle: hold, by: [way[0] * step, way[1] * step] }, this.look).then((say) => this.finish(say, handle));
  }

  private async typed(handle: BoardHandle, control: number, value: string): Promise<void> {
    const unit = this.look.units === 'inch' ? 'in' : 'mm';
    const say = await this.desk.type(this.bag, handle.id, control, f.withUnitOf(value, unit), this.look);
    this.finish(say, handle);
  }

  /** Takes a worker's answer as the new bag, and says what became of the links. */
  private finish(say: DeskSay, handle: BoardHandle): void {
    if (say.kind === 'refused') {
      const faults = say.faults.map((x) => `${x.path}: ${x.got}; expected ${x.expected}`).join(' ');
      this.tell(`${words.refused} ${faults}`);
      if (this.board) void this.show(this.bag, this.look);
      return;
    }
    if (say.kind !== 'moved' || say.changes.length === 0) return;
    const lines = say.changes.flatMap((c) => [
      words.changed(c.parameter ? (text.controls.parameter[c.parameter] ?? c.parameter) : partName(handle), c.before, c.after),
      ...(c.replaced ? [words.replaced(c.replaced)] : []),
    ]);
    this.bag = say.bag;
    this.paint(say.board);
    this.tell(lines.join(' '));
    this.wishes.commit(say.bag, words.moved(handle.panel, partName(handle)));
  }

  private tell(line: string): void {
    refill(this.told, line);
    this.wishes.say(line);
  }

  private toSheet(event: PointerEvent): DOMPoint | null {
    const matrix = this.sheet.querySelector('svg')?.getScreenCTM();
    return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : null;
  }

  private take(event: PointerEvent): void {
    if (event.button !== 0 || !this.board) return;
    const target = event.target as Element;
    const hold = target.closest<SVGElement>('.handle')?.dataset.hold;
    const handle = this.board.handles.find((k) => k.id === hold);
    const start = this.toSheet(event);
    if (!handle || !start) {
      const panel = target.closest<SVGElement>('.flat-panel')?.dataset.panel;
      if (panel && panel !== this.panel) this.choose(panel, '');
      return;
    }
    event.preventDefault();
    this.sheet.setPointerCapture(event.pointerId);
    this.part = handle.id;
    this.sheet.querySelector<SVGElement>(`[data-hold="${CSS.escape(handle.id)}"]`)?.focus({ preventScroll: true });
    this.drag = { handle, start, base: this.bag, layout: this.board.layout, last: null, wish: null, busy: false };
  }

  private pull(event: PointerEvent): void {
    const { drag } = this;
    const now = this.toSheet(event);
    if (!drag || !now || !this.board) return;
    const matrix = this.sheet.querySelector('svg')!.getScreenCTM()!;
    const neighbours = this.board.handles.filter(
      (k) => k.kind === 'corner' && k.panel === drag.handle.panel && !drag.handle.edges.some((e) => k.edges.includes(e)),
    );
    const wish: [number, number] = [drag.handle.at[0] + (now.x - drag.start.x) / 1000, drag.handle.at[1] - (now.y - drag.start.y) / 1000];
    drag.wish = snapped(wish, {
      grid: gridOf(this.look.units),
      reach: 6 / Math.abs(matrix.a) / 1000,
      neighbours: drag.handle.kind === 'corner' ? neighbours.map((k) => ({ name: partName(k), at: k.at })) : [],
      centre: this.board.handles.some((k) => k.panel === drag.handle.panel && k.id.endsWith('(left)')) ? words.mirrorLine : null,
    });
    void this.follow();
  }

  /** One question to the worker at a time, always with the newest place. */
  private async follow(): Promise<void> {
    const { drag } = this;
    if (!drag?.wish || drag.busy) return;
    drag.busy = true;
    const { wish, handle } = drag;
    const move: Move = { handle: handle.id, by: [wish.at[0] - handle.at[0], wish.at[1] - handle.at[1]] };
    const say = await this.desk.move(drag.base, move, { ...this.look, layout: drag.layout });
    drag.busy = false;
    if (this.drag !== drag) return;
    drag.last = say;
    if (say.kind === 'moved') {
      this.paint(say.board);
      const why = wish.why.flatMap((w) => (w === null ? [] : [w === words.mirrorLine ? w : words.level(w)]));
      refill(
        this.told,
        [
          handle.controls
            .map((_, i) => this.handle?.controls[i])
            .map((c) => (c ? `${words.size[c.label]} ${words.both(f.lengthFine(c.value), f.length(c.value, 'metric').main)}` : ''))
            .join(', '),
          ...why,
        ].join('; '),
      );
    } else if (say.kind === 'refused') refill(this.told, words.refused);
    if (drag.wish !== wish) void this.follow();
  }

  private letGo(event: PointerEvent): void {
    const { drag } = this;
    if (!drag) return;
    this.sheet.releasePointerCapture(event.pointerId);
    this.drag = null;
    if (!drag.wish) return;
    const { wish, handle } = drag;
    const by = [wish.at[0] - handle.at[0], wish.at[1] - handle.at[1]] as const;
    this.bag = drag.base;
    // Asked once more without the held layout, so that the panels lie in their own places again.
    void this.desk.move(drag.base, { handle: handle.id, by }, this.look).then((say) => this.finish(say, handle));
  }

  private cancel(): void {
    this.drag = null;
    void this.show(this.bag, this.look);
  }
}
