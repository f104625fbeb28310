import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { Board, BoardHandle, Look } from './board-data.ts';
import type { Move } from './drafting.ts';
import type { DraftingSay } from './drafting-worker.ts';
import { Drag } from './drag.ts';
import { nextEdge, noDrawing, paintEdges } from './edges.ts';
import { spot } from './form-parts.ts';
import { paintMarks } from './marks.ts';
import { gridOf } from './snap.ts';
import { words } from './words.ts';

type Point = readonly [number, number];

export interface SheetWishes {
  choose(panel: string, part: string): void;
  /** A part has the focus. */ hold(part: string): void;
  /** A part is moved by keys, m. */ nudge(handle: BoardHandle, by: Point): void;
  dropped(handle: BoardHandle, by: Point): void;
  /** Asks for a place on the way of what is dragged. */ drag(move: Move, look: Partial<Look>): Promise<DraftingSay>;
  follow(say: DraftingSay, why: readonly string[]): void;
  cancelled(): void;
  /** An edge is picked to be sewn. */ pick(ref: string): void;
  /** A place on a panel is pressed, panel frame, m. */ press(panel: string, at: Point): void;
  point(panel: string | null): void;
  /** Whether what is drawn is the bag there is. */ ready(): boolean;
}

export interface SheetLook {
  /** spot: places on panels are pressed. */ readonly mode: 'shape' | 'sew' | 'strap' | 'spot';
  readonly panel: string;
  readonly part: string;
  readonly units: UnitChoice;
  readonly picked: ReadonlySet<string>;
  readonly length: number | null;
  /** Lays a picture under a panel. */ under(drawing: SVGElement): void;
  /** The first end of a strap. */ readonly spot: { readonly panel: string; readonly at: Point } | null;
}

/** The sheet of paper with the panels: what is pressed, dragged and moved by keys on it. */
export class Sheet {
  readonly element = h('div', { class: 'sheet', role: 'group', 'aria-label': words.sheet });
  private board: Board | null = null;
  private look: SheetLook = { mode: 'shape', panel: '', part: '', units: 'inch', picked: new Set(), length: null, spot: null, under: () => undefined };
  private drag: Drag | null = null;
  /** Where the pointer was pressed, px. */ private down: Point | null = null;
  /** The edge that the arrow keys are at. */ private edge = '';
  constructor(private readonly wishes: SheetWishes) {
    const sheet = this.element;
    sheet.addEventListener('pointerdown', (e) => this.take(e));
    sheet.addEventListener('pointermove', (e) => this.pull(e));
    sheet.addEventListener('pointerup', (e) => this.letGo(e));
    sheet.addEventListener('pointercancel', () => this.cancel());
    // A press that no pointer made: by a screen reader.
    sheet.addEventListener('click', (e) => e.detail === 0 && this.press(e.target as Element, e));
    sheet.addEventListener('keydown', (e) => this.key(e));
    sheet.addEventListener('focusin', (e) => this.focused(e));
    sheet.addEventListener('pointerover', (e) => this.drag === null && wishes.point(this.panelAt(e.target)));
    sheet.addEventListener('pointerleave', () => wishes.point(null));
    sheet.addEventListener('focusout', () => wishes.point(null));
  }

  get dragging(): boolean {
    return this.drag !== null;
  }

  /** Width over height of the place it is shown in, for the layout of the panels. */
  get aspect(): number {
    const wide = this.element.clientWidth || 900;
    return Math.min(2.4, Math.max(0.75, wide / Math.max(360, 0.56 * window.innerHeight)));
  }

  /** Height of that place, px. */
  get high(): number {
    return Math.max(360, this.element.clientHeight || 0.56 * window.innerHeight);
  }

  clear(): void {
    this.element.replaceChildren(noDrawing());
  }

  pointOut(panel: string | null): void {
    for (const g of this.element.querySelectorAll<SVGElement>('.flat-panel')) g.classList.toggle('pointed', g.dataset.panel === panel);
  }

  /** Shows where something is: its panel, its edge, the edges of its seam. */
  show(panel: string, edge: string | null, seam: string | null): void {
    const edges = this.board?.edges.filter((e) => (edge !== null && e.panel === panel && e.edge === edge) || (seam !== null && e.seams.includes(seam))) ?? [];
    const refs = new Set(edges.map((e) => e.ref));
    for (const g of this.element.querySelectorAll<SVGElement>('.edge-pick')) g.classList.toggle('shown', refs.has(g.dataset.edge ?? ''));
    this.pointOut(panel);
    this.element.querySelector<SVGElement>(`.flat-panel[data-panel="${CSS.escape(panel)}"]`)?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  paint(board: Board, look: SheetLook): void {
    this.board = board;
    this.look = look;
    this.element.innerHTML = board.svg;
    const drawing = this.element.querySelector('svg')!;
    // The panels inside are things to press, which a single picture may not hold.
    drawing.setAttribute('role', 'group');
    drawing.classList.add(look.mode);
    let own: SVGElement | null = null;
    for (const g of drawing.querySelectorAll<SVGElement>('.flat-panel')) {
      const chosen = g.dataset.panel === look.panel && look.mode === 'shape';
      g.classList.toggle('chosen', chosen);
      if (look.mode !== 'shape') continue;
      g.setAttribute('tabindex', '0');
      g.setAttribute('role', 'button');
      g.setAttribute('aria-pressed', String(chosen));
      g.dataset.hold = `panel ${g.dataset.panel}`;
      if (chosen) own = g;
    }
    const edges = paintEdges(board, { sewing: look.mode === 'sew', picked: look.picked, length: look.length, units: look.units, focus: this.edge });
    if (look.mode !== 'strap' && own === null) drawing.append(edges);
    // The chosen panel comes last, and its marks after it: they lie over the edges, and the tab key comes to them from their panel.
    if (own) {
      drawing.append(own, edges, this.marks(board));
    }
    look.under(drawing);
    if (look.mode === 'strap') drawing.append(this.marks(board));
    if (look.spot) drawing.append(spot(...this.toSheet(look.spot.panel, look.spot.at)));
  }

  private toSheet(panel: string, [x, y]: Point): [number, number] {
    const o = this.board!.layout.at[this.board!.panels.indexOf(panel)];
    return [o.x + x * 1000, o.y - y * 1000];
  }

  private marks(board: Board): SVGElement {
    // Where straps are put on, the patches of all of them can be taken hold of.
    const own = board.handles.filter((k) => (this.look.mode === 'strap' ? k.kind === 'anchor' : k.panel === this.look.panel));
    return paintMarks(own, (handle) => this.toSheet(handle.panel, handle.at), this.look.part, this.look.units, board.text);
  }

  private panelAt(target: EventTarget | null): string | null {
    const element = target as Element | null;
    return element?.closest<SVGElement>('[data-panel]')?.dataset.panel ?? element?.closest<SVGElement>('[data-edge]')?.dataset.edge?.split('.')[0] ?? null;
  }

  private handleOf(hold: string | undefined): BoardHandle | undefined {
    return this.board?.handles.find((k) => k.id === hold);
  }

  private focused(event: FocusEvent): void {
    const hold = (event.target as SVGElement).dataset?.hold ?? '';
    if (hold.startsWith('edge ')) {
      this.edge = hold.slice(5);
      this.wishes.point(this.edge.split('.')[0]);
      return;
    }
    const handle = this.handleOf(hold);
    this.wishes.point(hold.startsWith('panel ') ? hold.slice(6) : (handle?.panel ?? null));
    if (!handle || this.look.part === hold) return;
    this.look = { ...this.look, part: hold };
    for (const g of this.element.querySelectorAll<SVGElement>('.handle')) g.classList.toggle('held', g.dataset.hold === hold);
    this.wishes.hold(hold);
  }

  private key(event: KeyboardEvent): void {
    const hold = (event.target as SVGElement).dataset?.hold ?? '';
    const press = event.key === 'Enter' || event.key === ' ';
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey || (!press && !way)) return;
    if (hold.startsWith('panel ') && press) {
      event.preventDefault();
      this.wishes.choose(hold.slice(6), '');
    } else if (hold.startsWith('edge ')) {
      event.preventDefault();
      if (press) this.wishes.pick(hold.slice(5));
      else if (way) this.goTo(nextEdge(this.board!, hold.slice(5), way[0] + way[1] * -1 > 0 ? 1 : -1));
    } else {
      const handle = this.handleOf(hold);
      if (!way || !handle) return;
      event.preventDefault();
      const step = gridOf(this.look.units) * (event.shiftKey ? 10 : 1);
      this.wishes.nudge(handle, [way[0] * step, way[1] * step]);
    }
  }

  private goTo(ref: string): void {
    const group = this.element.querySelector<SVGElement>(`[data-hold="${CSS.escape(`edge ${ref}`)}"]`);
    for (const g of this.element.querySelectorAll<SVGElement>('.edge-pick')) g.setAttribute('tabindex', g === group ? '0' : '-1');
    group?.focus();
  }

  private get matrix(): DOMMatrix | null {
    return this.element.querySelector('svg')?.getScreenCTM() ?? null;
  }

  private place(event: MouseEvent): DOMPoint | null {
    const { matrix } = this;
    return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : null;
  }

  /** An edge is picked, or a place on a panel. */
  private press(target: Element | null, event: MouseEvent): void {
    const { board, look } = this;
    if (!board || !target || look.mode === 'shape') return;
    if (look.mode === 'sew') {
      const ref = target.closest<SVGElement>('[data-edge]')?.dataset.edge;
      if (ref) this.wishes.pick(ref);
      return;
    }
    const panel = this.panelAt(target);
    const at = this.place(event);
    if (!panel || !at || target.closest('.handle')) return;
    const o = board.layout.at[board.panels.indexOf(panel)];
    this.wishes.press(panel, [(at.x - o.x) / 1000, (o.y - at.y) / 1000]);
  }

  private take(event: PointerEvent): void {
    const { board, look } = this;
    this.down = event.button === 0 ? [event.clientX, event.clientY] : null;
    if (event.button !== 0 || !board || look.mode === 'sew') return;
    const target = event.target as Element;
    const hold = target.closest<SVGElement>('.handle')?.dataset.hold;
    const handle = this.handleOf(hold);
    const start = this.place(event);
    if (!handle || !start) {
      if (look.mode === 'shape') this.takeEdge(target);
      return;
    }
    event.preventDefault();
    this.element.querySelector<SVGElement>(`[data-hold="${CSS.escape(handle.id)}"]`)?.focus({ preventScroll: true });
    // Drawn of another bag than there is now: dragged it would bring that one back. Pressed it is chosen all the same.
    if (!this.wishes.ready()) return;
    this.element.setPointerCapture(event.pointerId);
    this.drag = new Drag(handle, start, {
      board,
      units: look.units,
      ask: (move, held) => this.wishes.drag(move, held),
      follow: (say, why) => this.wishes.follow(say, why),
    });
  }

  /** An edge pressed is chosen with its panel, a panel by itself. */
  private takeEdge(target: Element): void {
    const ref = target.closest<SVGElement>('[data-edge]')?.dataset.edge;
    const edge = this.board?.edges.find((e) => e.ref === ref);
    const panel = edge?.panel ?? this.panelAt(target);
    if (panel === null || panel === undefined) return;
    const part = edge ? (this.board?.handles.find((k) => k.panel === panel && k.edge === edge.edge)?.id ?? '') : '';
    if (panel !== this.look.panel || part !== '') this.wishes.choose(panel, part);
  }

  private pull(event: PointerEvent): void {
    const now = this.place(event);
    if (now) this.drag?.pull(now, this.matrix!.a);
  }

  private letGo(event: PointerEvent): void {
    const { drag, down } = this;
    this.down = null;
    if (!drag) {
      // Pressed and let go at one place: what lies there now counts, since the sheet may have been drawn anew in between.
      const near = down !== null && Math.hypot(event.clientX - down[0], event.clientY - down[1]) < 8;
      if (near) this.press(document.elementFromPoint(event.clientX, event.clientY), event);
      return;
    }
    this.element.releasePointerCapture(event.pointerId);
    this.drag = null;
    drag.end();
    const { by, handle } = drag;
    // Asked once more without the held layout, so that the panels lie in their own places again.
    if (by) this.wishes.dropped(handle, by);
    // What has changed while it was held was not drawn.
    else if (!this.wishes.ready()) this.wishes.cancelled();
  }

  /** A finger that only scrolls by picks nothing. */
  private cancel(): void {
    this.down = null;
    if (!this.drag) return;
    this.drag?.end();
    this.drag = null;
    this.wishes.cancelled();
  }
}
