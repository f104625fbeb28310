import { svg } from '../page/dom.ts';
import { lengthText, type UnitChoice } from '../page/format.ts';
import type { Stage } from '../view/stage.ts';
import { asViewed, pointAt, viewed } from './grip.ts';
import { words } from './words.ts';

type V3 = readonly [number, number, number];

/** What one press of an arrow key pulls, m. */
const PULL = 0.01;

/** What each key pulls: right, up, away, m. */
const PULLS: Readonly<Record<string, V3>> = {
  ArrowLeft: [-PULL, 0, 0],
  ArrowRight: [PULL, 0, 0],
  ArrowUp: [0, PULL, 0],
  ArrowDown: [0, -PULL, 0],
  PageUp: [0, 0, PULL],
  PageDown: [0, 0, -PULL],
};

export interface HandHost {
  readonly bay: number;
  readonly element: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  readonly stage: Stage;
  readonly units: () => UnitChoice;
  /** Where the bag's points are, 3n, m. */ readonly positions: () => Float32Array;
  /** No hand goes through the table. */ readonly onTable: boolean;
  /** The hand holds a mesh point at a place, m, or has let go of it (null). */ held(vertex: number, at: V3 | null): void;
  /** A point was taken (true: by the pointer), or let go. */ changed(holding: boolean, byPointer: boolean): void;
  /** Escape: let go by a key. */ dropped(): void;
  say(line: string): void;
}

/** The hand that holds one point of the bag: dragged by the pointer, pulled by keys, shown as a ring with a line to the cloth. */
export class Hand {
  readonly mark = svg('svg', { class: 'live-mark', 'aria-hidden': 'true' });
  private held: { readonly vertex: number; at: V3; readonly from: V3 } | null = null;
  private pointer: { readonly id: number; x: number; y: number } | null = null;
  constructor(
    private readonly host: HandHost,
    signal: AbortSignal,
  ) {
    this.listen(signal);
  }

  private place(v: number): V3 {
    const x = this.host.positions();
    return [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
  }

  take(vertex: number, byPointer = false): void {
    const at = this.place(vertex);
    this.held = { vertex, at, from: at };
    this.host.changed(true, byPointer);
    this.host.held(vertex, at);
    this.draw();
  }

  letGo(): void {
    if (this.held) this.host.held(this.held.vertex, null);
    this.held = null;
    this.host.changed(false, false);
    this.draw();
  }

  /** Moves the hand by what the viewer sees as right, up and away, m. */
  private move(right: number, up: number, away: number): void {
    if (!this.held) return;
    const d = viewed(this.host.stage.camera.turn, right, up, away);
    const [x, y, z] = [0, 1, 2].map((c) => this.held!.at[c] + d[c]);
    this.held.at = [x, y, this.host.onTable ? Math.max(0.002, z) : z];
    this.host.held(this.held.vertex, this.held.at);
    this.draw();
  }

  key(event: KeyboardEvent): void {
    if (!this.held) return;
    if (event.key === 'Escape') {
      event.preventDefault();
      this.letGo();
      this.host.dropped();
      return;
    }
    const by = PULLS[event.key];
    if (!by) return;
    event.preventDefault();
    this.move(...by);
    const { at, from } = this.held;
    const [right, up, away] = asViewed(this.host.stage.camera.turn, [at[0] - from[0], at[1] - from[1], at[2] - from[2]]);
    const told = (v: number): string => lengthText(v, this.host.units());
    this.host.say(words.pulled(told(right), told(up), told(away)));
  }

  private listen(signal: AbortSignal): void {
    const { canvas, stage } = this.host;
    const early = { capture: true, signal };
    // Before the mat's own listeners: a pointer that comes down on a point of this bag pulls it, anywhere else it turns the bags.
    canvas.addEventListener('pointerdown', (event) => this.press(event), early);
    const move = (event: PointerEvent): void => {
      if (this.pointer?.id !== event.pointerId) return;
      event.stopImmediatePropagation();
      const [dx, dy] = [event.clientX - this.pointer.x, event.clientY - this.pointer.y];
      Object.assign(this.pointer, { x: event.clientX, y: event.clientY });
      this.move(dx / stage.scale, -dy / stage.scale, 0);
    };
    canvas.addEventListener('pointermove', move, early);
    const up = (event: PointerEvent): void => {
      if (this.pointer?.id !== event.pointerId) return;
      this.pointer = null;
      this.letGo();
    };
    canvas.addEventListener('pointerup', up, early);
    canvas.addEventListener('pointercancel', up, early);
  }

  private press(event: PointerEvent): void {
    const { canvas, element, stage, bay } = this.host;
    const x = this.host.positions();
    if (event.button !== 0 || x.length === 0) return;
    const own = canvas.getBoundingClientRect();
    const box = element.getBoundingClientRect();
    const vertex = pointAt(stage, bay, x, event.clientX - box.left, event.clientY - own.top);
    if (vertex === null) return;
    event.stopImmediatePropagation();
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    this.pointer = { id: event.pointerId, x: event.clientX, y: event.clientY };
    this.take(vertex, true);
  }

  /** A ring where the bag is held and a line to the hand. */
  draw(): void {
    const { stage, bay } = this.host;
    const from = this.held && stage.project(bay, this.place(this.held.vertex));
    const to = this.held && stage.project(bay, this.held.at);
    if (!from || !to) {
      this.mark.replaceChildren();
      return;
    }
    this.mark.replaceChildren(
      svg('line', { class: 'mark-line', x1: from[0], y1: from[1], x2: to[0], y2: to[1] }),
      svg('circle', { class: 'mark-dot', cx: from[0], cy: from[1], r: 4 }),
      svg('circle', { class: 'live-hand', cx: to[0], cy: to[1], r: 9 }),
    );
  }
}
