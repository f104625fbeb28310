import { cssColour, mapColours, TIGHT_CURVATURE } from '../core.ts';
import { h, refill } from '../page/dom.ts';
import { elapsed, lengthText } from '../page/format.ts';
import type { Column, State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { type Camera, moved, START_CAMERA } from '../view/projection.ts';
import { LIFT_STEP, TURN_STEP, ZOOM_STEP } from '../view/turning.ts';
import { drawTape, newTape } from './tape.ts';

/** From the mat's lower edge up to the tape's zero, px. */
export const FLOOR = 44;
/** What is longer than two lines of a bay, in characters, would lie over the bag: it stands in the table alone. */
const LONG = 80;

export interface HeadingWishes {
  edit(option: number): void;
  stop(option: number): void;
  settle(): void;
  watch(): void;
  /** The option being edited is taken in hand. */ take(): void;
  /** The bags' fronts are left out, or put back. */ lookInside(open: boolean): void;
  turn(change: (camera: Camera) => Camera): void;
}

interface BayParts {
  readonly element: HTMLElement;
  readonly head: HTMLButtonElement;
  readonly stage: HTMLElement;
  readonly flat: HTMLElement;
}

/** The mat's words and buttons: one heading per bay over the canvas, the tape and the stance at the left. */
export class BayHeadings {
  readonly canvas = h('canvas', { class: 'mat-canvas', tabindex: 0, role: 'img' });
  readonly element = h('div', { class: 'mat' });
  private readonly tape = newTape();
  private readonly stance = h('div', { class: 'mat-stance' });
  /** Of the map that the bags are shaded by; heat/legend.ts fills it for the maps that come later. */
  readonly legend = h('div', { class: 'mat-legend', id: 'mat-legend' });
  private legendOf = '';
  private readonly actions: HTMLElement;
  private bays: BayParts[] = [];
  constructor(private readonly wishes: HeadingWishes) {
    this.actions = this.buildActions();
    this.element.append(this.canvas, h('div', { class: 'mat-side' }, this.stance, this.tape), this.actions, this.legend);
  }

  get bayElements(): readonly HTMLElement[] {
    return this.bays.map((b) => b.element);
  }

  private buildActions(): HTMLElement {
    const turn = (label: string, sign: string, change: (c: Camera) => Camera): HTMLElement =>
      h('button', { type: 'button', class: 'mat-turn', title: label, 'aria-label': label, onclick: () => this.wishes.turn(change) }, sign);
    const inside = h(
      'button',
      {
        type: 'button',
        class: 'mat-button inside-view',
        'aria-pressed': 'false',
        title: text.mat.insideHint,
        onclick: () => {
          const open = inside.getAttribute('aria-pressed') !== 'true';
          inside.setAttribute('aria-pressed', String(open));
          this.wishes.lookInside(open);
        },
      },
      text.mat.inside,
    );
    return h(
      'div',
      { class: 'mat-actions' },
      h(
        'div',
        { class: 'mat-runs' },
        h('button', { type: 'button', class: 'mat-button watch', onclick: () => this.wishes.watch() }, text.mat.watch),
        h('button', { type: 'button', class: 'mat-button take', title: text.mat.takeHint, onclick: () => this.wishes.take() }, text.mat.take),
        h('button', { type: 'button', class: 'mat-button settle', onclick: () => this.wishes.settle() }, text.mat.settle),
        inside,
      ),
      h(
        'div',
        { class: 'mat-turns' },
        turn(text.mat.turnLeft, '◂', (c) => moved(c, { turn: -3 * TURN_STEP })),
        turn(text.mat.turnRight, '▸', (c) => moved(c, { turn: 3 * TURN_STEP })),
        turn(text.mat.above, '▴', (c) => moved(c, { lift: 2 * LIFT_STEP })),
        turn(text.mat.below, '▾', (c) => moved(c, { lift: -2 * LIFT_STEP })),
        turn(text.mat.closer, '+', (c) => moved(c, { zoom: ZOOM_STEP })),
        turn(text.mat.back, '−', (c) => moved(c, { zoom: 1 / ZOOM_STEP })),
        turn(text.mat.straight, text.mat.straight, () => START_CAMERA),
      ),
    );
  }

  private buildBays(count: number): void {
    for (const { element } of this.bays) element.remove();
    this.bays = Array.from({ length: count }, (_, i) => {
      const head = h('button', { type: 'button', class: 'bay-head', onclick: () => this.wishes.edit(i) });
      const stage = h('div', { class: 'bay-stage' });
      const flat = h('div', { class: 'bay-flat' });
      return { head, stage, flat, element: h('div', { class: 'bay', style: `grid-column:${i + 2}` }, head, flat, stage) };
    });
    this.element.append(...this.bays.map((b) => b.element));
  }

  focusHead(bay: number): void {
    this.bays[bay]?.head.focus();
  }

  update(state: State): void {
    if (this.bays.length !== state.columns.length) this.buildBays(state.columns.length);
    this.canvas.setAttribute('aria-label', text.mat.picture(state.columns.length));
    const stance = state.bag.stances.find((s) => s.name === state.stance);
    const [name, how] =
      stance?.kind === 'hung'
        ? [text.mat.hung, text.mat.hungHow[stance.from]]
        : stance?.kind === 'held'
          ? [text.mat.held, text.mat.heldHow]
          : [
              stance?.load || (stance?.contents?.length ?? 0) > 0 ? text.mat.loaded : text.mat.standing,
              stance?.ground ? text.mat.around(stance.ground) : text.mat.standingHow,
            ];
    refill(this.stance, h('strong', {}, name), h('span', {}, how));
    this.bays.forEach((bay, i) => {
      const column = state.columns[i];
      refill(bay.head, h('strong', {}, column.letter), h('span', {}, column.title));
      bay.head.setAttribute('aria-pressed', String(state.editing === i));
      bay.head.title = text.mat.edit(column.letter);
      bay.element.classList.toggle('stale', column.stale);
    });
    this.updateLegend(state);
    this.tick(state.columns);
  }

  /** The line under each bag that says where its solver is; called again while time passes. */
  tick(columns: readonly Column[]): void {
    this.bays.forEach((bay, i) => {
      const column = columns[i];
      if (!column) return;
      const { stage } = column;
      const running = stage
        ? text.stage.progress(
            [text.stage.detail[stage.detail] ?? text.stage[stage.step], stage.band && text.stage.band[stage.band]].filter(Boolean).join(', '),
            elapsed(stage.since),
          )
        : text.stage.waiting;
      const words = !(stage || column.waiting)
        ? column.problem === null
          ? column.stale
            ? text.stage.stale
            : ''
          : column.problem.length > LONG
            ? text.stage.seeBelow
            : column.problem
        : column.result === null && stage?.step !== 'falling'
          ? text.mat.drafted(running)
          : running;
      const busy = stage !== null || column.waiting;
      if (bay.stage.dataset.words === words && bay.stage.dataset.busy === String(busy)) return;
      bay.stage.dataset.words = words;
      // The button stays the same element while the words beside it count: it must not lose the focus.
      if (bay.stage.dataset.busy !== String(busy) || !bay.stage.firstElementChild) {
        bay.stage.dataset.busy = String(busy);
        const stop = h(
          'button',
          { type: 'button', class: 'mat-button', onclick: () => this.wishes.stop(i) },
          text.mat.stop,
          h('span', { class: 'away' }, ` ${column.letter}`),
        );
        bay.stage.replaceChildren(h('span', {}), ...(busy ? [stop] : []));
      }
      bay.stage.firstElementChild!.textContent = words;
    });
  }

  private updateLegend(state: State): void {
    const { shade, units } = state.preferences;
    if (shade !== this.legendOf) refill(this.legend, shade === 'cloth' ? null : text.mat.mapComing);
    this.legendOf = shade;
    if (shade !== 'curvature') return;
    const colours = mapColours();
    const stops = [0, 9, 18, 27, 36, 45, 54, 63].map((i) => cssColour(colours[i])).join(',');
    // The map runs with the root of curvature; its half-way mark therefore stands at a quarter of the tightest bend.
    const marks = [text.mat.legendFlat, lengthText(4 / TIGHT_CURVATURE, units), text.mat.legendTight(lengthText(1 / TIGHT_CURVATURE, units))];
    refill(
      this.legend,
      h('strong', {}, text.mat.legend),
      h(
        'div',
        { class: 'legend-scale' },
        h('div', { class: 'legend-bar', style: `background:linear-gradient(to right,${stops})` }),
        h('ol', {}, ...marks.map((m) => h('li', {}, m))),
      ),
    );
  }

  /** A still drawing instead of the canvas, where there is no WebGL. */
  showFlat(bay: number, drawing: string | null): void {
    const { flat } = this.bays[bay] ?? {};
    if (!flat) return;
    flat.replaceChildren();
    if (drawing === null) return;
    flat.append(h('img', { alt: '', src: `data:image/svg+xml,${encodeURIComponent(drawing)}` }));
  }

  /** A picture that stands in for the bay on paper alone. */
  showPaper(bay: number, address: string): void {
    const { element } = this.bays[bay] ?? {};
    if (!element) return;
    element.querySelector('.bay-paper')?.remove();
    element.append(h('img', { class: 'bay-paper', alt: '', src: address }));
  }

  /** Puts the tape to the picture's scale, px per metre, with its zero this many px from the mat's top. */
  setScale(scale: number, zero: number, units: State['preferences']['units']): void {
    drawTape(this.tape, { height: this.canvas.clientHeight, zero, scale, units });
  }
}
