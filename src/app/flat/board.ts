import { h, refill } from '../page/dom.ts';
import { withUnitOf } from '../page/format.ts';
import { text } from '../page/text.ts';
import type { Drafting, Look } from './drafting.ts';
import type { Board, DraftingSay } from './drafting-worker.ts';
import { Drag } from './drag.ts';
import { type BoardHandle, paintMarks, partName } from './marks.ts';
import { SizeForm, sizesOf } from './size-form.ts';
import { gridOf } from './snap.ts';
import { words } from './words.ts';

export interface BoardWishes {
  /** Takes a changed bag; false when it was refused. */ commit(bag: string, what: string): boolean;
  say(words: string): void;
  point(panel: string | null): void;
}

/** The flat panels with marks on the parts of the chosen one: dragged, moved by arrow keys, or typed in the form beside them. */
export class FlatBoard {
  private readonly sheet = h('div', { class: 'sheet', role: 'group', 'aria-label': words.sheet });
  private readonly form = new SizeForm({
    choose: (panel, part) => this.choose(panel, part),
    typed: (handle, control, value) => void this.typed(handle, control, value),
  });
  private readonly told = h('p', { class: 'sheet-told' });
  private board: Board | null = null;
  private bag = '';
  private look: Look = { option: '', units: 'inch' };
  private panel = '';
  private part = '';
  private drag: Drag | null = null;

  constructor(
    host: HTMLElement,
    private readonly drafting: Drafting,
    private readonly wishes: BoardWishes,
  ) {
    const side = h('aside', { class: 'sheet-side', 'aria-label': words.edit }, h('h2', {}, words.edit), this.form.element, this.form.lengths, this.told);
    host.replaceChildren(this.sheet, side);
    this.listen();
  }

  private listen(): void {
    const { sheet } = this;
    sheet.addEventListener('pointerdown', (e) => this.take(e));
    sheet.addEventListener('pointermove', (e) => this.pull(e));
    sheet.addEventListener('pointerup', (e) => this.letGo(e));
    sheet.addEventListener('pointercancel', () => this.cancel());
    sheet.addEventListener('keydown', (e) => this.key(e));
    sheet.addEventListener('focusin', (e) => this.focused(e));
    sheet.addEventListener(
      'pointerover',
      (e) => this.drag === null && this.wishes.point((e.target as Element).closest<SVGElement>('[data-panel]')?.dataset.panel ?? null),
    );
    sheet.addEventListener('pointerleave', () => this.wishes.point(null));
    sheet.addEventListener('focusout', () => this.wishes.point(null));
  }

  /** Draws a bag; what is chosen stays chosen where it still is. */
  async show(bag: string, look: Look): Promise<void> {
    if (this.drag !== null) return;
    // Units hold from now on, not from the next drawing: a key pressed meanwhile must step by them.
    this.look = look;
    const say = await this.drafting.flat(bag, look);
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
      if (g.dataset.panel === this.panel) g.after(this.marks(board));
    }
    this.fill();
    if (!kept) return;
    const hold = `[data-hold="${CSS.escape(kept)}"]`;
    (this.sheet.querySelector<SVGElement>(hold) ?? this.form.element.querySelector<HTMLElement>(hold))?.focus();
  }

  private marks(board: Board): SVGElement {
    const own = board.handles.filter((k) => k.panel === this.panel);
    const place = (handle: BoardHandle): [number, number] => {
      const o = board.layout.at[board.panels.indexOf(handle.panel)];
      return [o.x + handle.at[0] * 1000, o.y - handle.at[1] * 1000];
    };
    return paintMarks(own, place, this.part, this.look.units);
  }

  private fill(): void {
    this.form.fill({ board: this.board!, panel: this.panel, handle: this.handle, units: this.look.units });
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
    void this.move(handle, this.bag, [way[0] * step, way[1] * step]);
  }

  private async move(handle: BoardHandle, bag: string, by: readonly [number, number]): Promise<void> {
    this.finish(await this.drafting.move(bag, { handle: handle.id, by }, this.look), handle);
  }

  private async typed(handle: BoardHandle, control: number, value: string): Promise<void> {
    const unit = this.look.units === 'inch' ? 'in' : 'mm';
    this.finish(await this.drafting.type(this.bag, handle.id, control, withUnitOf(value, unit), this.look), handle);
  }

  /** Takes a worker's answer as the new bag, and says what became of the links. */
  private finish(say: DraftingSay, handle: BoardHandle): void {
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

  private get matrix(): DOMMatrix | null {
    return this.sheet.querySelector('svg')?.getScreenCTM() ?? null;
  }

  private toSheet(event: PointerEvent): DOMPoint | null {
    const { matrix } = this;
    return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : null;
  }

  private take(event: PointerEvent): void {
    const { board, look, bag } = this;
    if (event.button !== 0 || !board) return;
    const target = event.target as Element;
    const hold = target.closest<SVGElement>('.handle')?.dataset.hold;
    const handle = board.handles.find((k) => k.id === hold);
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
    this.drag = new Drag(handle, start, {
      board,
      bag,
      units: look.units,
      ask: (from, move, held) => this.drafting.move(from, move, { ...this.look, ...held }),
      follow: (say, why) => this.follow(say, why),
    });
  }

  private pull(event: PointerEvent): void {
    const now = this.toSheet(event);
    if (now) this.drag?.pull(now, this.matrix!.a);
  }

  private follow(say: DraftingSay, why: readonly string[]): void {
    if (say.kind === 'moved') {
      this.paint(say.board);
      refill(this.told, [sizesOf(this.handle), ...why].join('; '));
    } else if (say.kind === 'refused') refill(this.told, words.refused);
  }

  private letGo(event: PointerEvent): void {
    const { drag } = this;
    if (!drag) return;
    this.sheet.releasePointerCapture(event.pointerId);
    this.drag = null;
    drag.end();
    const { by, bag, handle } = drag;
    if (!by) return;
    this.bag = bag;
    // Asked once more without the held layout, so that the panels lie in their own places again.
    void this.move(handle, bag, by);
  }

  private cancel(): void {
    this.drag?.end();
    this.drag = null;
    void this.show(this.bag, this.look);
  }
}
