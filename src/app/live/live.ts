import '../style/live.css';
import type { Bag } from '../core.ts';
import type { Start } from '../line-up/solver-protocol.ts';
import { h, svg } from '../page/dom.ts';
import { lengthText, percent, type UnitChoice } from '../page/format.ts';
import { movedStraps } from '../view/hanging-straps.ts';
import type { Subject } from '../view/picture.ts';
import type { Stage } from '../view/stage.ts';
import { asViewed, pointAt, viewed } from './grip.ts';
import { type Point, pointsOf } from './points.ts';
import type { Say, Tell } from './protocol.ts';
import { words } from './words.ts';

/** About a thousand points of a middling bag, which a soft one steps thirty times a second. */
const EDGE = 0.016;
/** What one press of an arrow key pulls, m. */
const PULL = 0.01;
/** Least share of real time that goes without saying. */
const REAL = 0.9;

export interface LiveHost {
  readonly bay: number;
  /** Its bay. */ readonly element: HTMLElement;
  /** Takes the buttons, under the bags. */ readonly mat: HTMLElement;
  readonly canvas: HTMLCanvasElement;
  readonly stage: Stage;
  readonly letter: string;
  readonly units: () => UnitChoice;
  readonly bag: Bag;
  readonly option: string;
  readonly stance: string;
  subject(start: Start): Subject;
  say(line: string): void;
  /** Put down, by the button, by a fault or from outside. */ left(): void;
}

/** One option in motion in its bay: dragged by the pointer or pulled by keys, halted, stepped, stuffed again. Its solver has a worker of its own. */
export class Live {
  private readonly worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
  private readonly title = h('strong', {});
  private readonly time = h('span', { class: 'live-time', role: 'status' }, words.making);
  private readonly go = h('button', { type: 'button', class: 'mat-button live-go', disabled: true, onclick: () => this.run(!this.running) }, words.halt);
  private readonly once = h('button', { type: 'button', class: 'mat-button live-once', disabled: true, onclick: () => this.stepOnce() }, words.once);
  private readonly again = h('button', { type: 'button', class: 'mat-button live-again', disabled: true, onclick: () => this.stuff() }, words.again);
  private readonly done = h('button', { type: 'button', class: 'mat-button live-done', onclick: () => this.leave() }, words.done);
  private readonly list = h(
    'select',
    { class: 'live-points', 'aria-label': words.hold, onchange: () => this.choose() },
    h('option', { value: '' }, words.nothing),
  );
  private readonly pull = h(
    'button',
    { type: 'button', class: 'mat-button live-pull', title: words.pullHint, 'aria-label': `${words.pull}. ${words.pullHint}`, disabled: true },
    words.pull,
    ' ✥',
  );
  private readonly mark = svg('svg', { class: 'live-mark', 'aria-hidden': 'true' });
  private readonly box = h(
    'div',
    { class: 'live', role: 'group' },
    this.title,
    this.go,
    this.once,
    this.again,
    h('label', {}, `${words.hold} `, this.list),
    this.pull,
    this.time,
    this.done,
  );
  private x: Float32Array = new Float32Array(0);
  private start: Start | null = null;
  private points: Point[] = [];
  private running = true;
  private held: { readonly vertex: number; at: readonly [number, number, number]; readonly from: readonly [number, number, number] } | null = null;
  private pointer: { readonly id: number; x: number; y: number } | null = null;
  private took = 1 / 60;
  private readonly gone = new AbortController();
  private readonly onTable: boolean;

  constructor(readonly host: LiveHost) {
    this.title.textContent = words.label(host.letter);
    this.box.setAttribute('aria-label', words.label(host.letter));
    host.element.classList.add('in-hand');
    host.element.append(this.mark);
    host.mat.append(this.box);
    host.canvas.classList.add('in-hand');
    this.worker.onmessage = ({ data }: MessageEvent<Say>) => this.hear(data);
    this.worker.onerror = (event) => {
      event.preventDefault();
      this.leave(words.failed(event.message || 'its worker ended'));
    };
    this.listen();
    const { bag, option, stance } = host;
    this.onTable = bag.stances.some((s) => s.name === stance && s.kind === 'standing');
    this.tell({ kind: 'begin', bag, option, stance, edgeLength: EDGE });
    host.say(words.begun(host.letter));
    this.done.focus();
  }

  /** Ends it; nothing more is heard of its worker. */
  leave(why: string | null = null): void {
    if (this.gone.signal.aborted) return;
    this.gone.abort();
    this.worker.terminate();
    this.box.remove();
    this.mark.remove();
    this.host.element.classList.remove('in-hand');
    this.host.canvas.classList.remove('in-hand');
    this.host.say(why ?? words.ended(this.host.letter));
    this.host.left();
  }

  private tell(what: Tell): void {
    this.worker.postMessage(what);
  }

  private hear(say: Say): void {
    if (this.gone.signal.aborted) return;
    const { stage, bay } = this.host;
    if (say.kind === 'faults' || say.kind === 'failed') {
      this.leave(words.failed(say.kind === 'failed' ? say.message : say.faults.map((f) => `${f.path}: ${f.expected}`).join('; ')));
      return;
    }
    if (say.kind === 'mesh') {
      this.x = say.drafted;
      stage.setSubject(bay, this.host.subject(say));
      this.start = say;
      this.points = pointsOf(say.mesh, say.drafted);
      this.list.append(...this.points.map((p) => h('option', { value: p.vertex }, p.name)));
      for (const button of [this.go, this.once, this.again]) button.disabled = false;
      return;
    }
    this.x = say.x;
    this.took += 0.1 * (say.took - this.took);
    this.host.element.dataset.frames = String(Number(this.host.element.dataset.frames ?? 0) + 1);
    const { mesh, straps } = this.start!;
    stage.show(bay, say.x, movedStraps(this.host.bag, mesh, say.x, straps, say.lines));
    this.drawMark();
    const seconds = say.seconds.toFixed(1);
    const share = 1 / 60 / this.took;
    const line = !this.running
      ? words.halted(seconds)
      : say.still
        ? words.still(seconds)
        : words.time(seconds) + (share < REAL ? words.slow(percent(share)) : '');
    if (this.time.textContent !== line) this.time.textContent = line;
  }

  private run(on: boolean): void {
    this.running = on;
    this.go.textContent = on ? words.halt : words.goOn;
    this.tell({ kind: 'run', on });
  }

  private stepOnce(): void {
    if (this.running) this.run(false);
    this.tell({ kind: 'run', on: false, once: true });
  }

  private stuff(): void {
    this.letGo();
    this.running = true;
    this.go.textContent = words.halt;
    this.tell({ kind: 'again' });
  }

  private place(v: number): readonly [number, number, number] {
    return [this.x[3 * v], this.x[3 * v + 1], this.x[3 * v + 2]];
  }

  /** A named point of the list is taken where it is now. */
  private choose(): void {
    if (this.list.value === '') this.letGo();
    else this.take(Number(this.list.value));
  }

  private take(vertex: number): void {
    const at = this.place(vertex);
    this.held = { vertex, at, from: at };
    this.pull.disabled = false;
    this.tell({ kind: 'hold', vertex, at });
    this.drawMark();
  }

  private letGo(): void {
    if (this.held) this.tell({ kind: 'hold', vertex: this.held.vertex, at: null });
    this.held = null;
    this.pull.disabled = true;
    this.list.value = '';
    this.drawMark();
  }

  /** Moves the hand by what the viewer sees as right, up and away, m. */
  private move(right: number, up: number, away: number): void {
    if (!this.held) return;
    const d = viewed(this.host.stage.camera.turn, right, up, away);
    const at = [0, 1, 2].map((c) => this.held!.at[c] + d[c]) as unknown as readonly [number, number, number];
    // No hand goes through the table.
    this.held.at = [at[0], at[1], this.onTable ? Math.max(0.002, at[2]) : at[2]];
    this.tell({ kind: 'hold', vertex: this.held.vertex, at: this.held.at });
    this.drawMark();
  }

  private keys(event: KeyboardEvent): void {
    if (!this.held) return;
    if (event.key === 'Escape') {
      event.preventDefault();
      this.letGo();
      this.list.focus();
      this.host.say(words.letGo);
      return;
    }
    const moves: Readonly<Record<string, readonly [number, number, number]>> = {
      ArrowLeft: [-PULL, 0, 0],
      ArrowRight: [PULL, 0, 0],
      ArrowUp: [0, PULL, 0],
      ArrowDown: [0, -PULL, 0],
      PageUp: [0, 0, PULL],
      PageDown: [0, 0, -PULL],
    };
    const by = moves[event.key];
    if (!by) return;
    event.preventDefault();
    this.move(...by);
    const { turn } = this.host.stage.camera;
    const { at, from } = this.held;
    const [right, up, away] = asViewed(turn, [at[0] - from[0], at[1] - from[1], at[2] - from[2]]);
    const told = (v: number): string => lengthText(v, this.host.units());
    this.host.say(words.pulled(told(right), told(up), told(away)));
  }

  private listen(): void {
    const { signal } = this.gone;
    const { canvas, element, stage, bay } = this.host;
    this.pull.addEventListener('keydown', (event) => this.keys(event), { signal });
    // Before the mat's own listeners: a pointer that comes down on a point of this bag pulls it, anywhere else it turns the bags.
    canvas.addEventListener(
      'pointerdown',
      (event) => {
        if (event.button !== 0 || this.points.length === 0) return;
        const own = canvas.getBoundingClientRect();
        const box = element.getBoundingClientRect();
        const vertex = pointAt(stage, bay, this.x, event.clientX - box.left, event.clientY - own.top);
        if (vertex === null) return;
        event.stopImmediatePropagation();
        event.preventDefault();
        canvas.setPointerCapture(event.pointerId);
        this.pointer = { id: event.pointerId, x: event.clientX, y: event.clientY };
        this.list.value = '';
        this.take(vertex);
      },
      { capture: true, signal },
    );
    canvas.addEventListener(
      'pointermove',
      (event) => {
        if (this.pointer?.id !== event.pointerId) return;
        event.stopImmediatePropagation();
        const [dx, dy] = [event.clientX - this.pointer.x, event.clientY - this.pointer.y];
        Object.assign(this.pointer, { x: event.clientX, y: event.clientY });
        this.move(dx / stage.scale, -dy / stage.scale, 0);
      },
      { capture: true, signal },
    );
    const up = (event: PointerEvent): void => {
      if (this.pointer?.id !== event.pointerId) return;
      this.pointer = null;
      this.letGo();
    };
    canvas.addEventListener('pointerup', up, { capture: true, signal });
    canvas.addEventListener('pointercancel', up, { capture: true, signal });
  }

  /** A ring where the bag is held and a line to the hand. */
  private drawMark(): void {
    const { stage, bay } = this.host;
    const from = this.held && stage.project(bay, this.place(this.held.vertex));
    const to = this.held && stage.project(bay, this.held.at);
    this.mark.replaceChildren(
      ...(from && to
        ? [
            svg('line', { class: 'mark-line', x1: from[0], y1: from[1], x2: to[0], y2: to[1] }),
            svg('circle', { class: 'mark-dot', cx: from[0], cy: from[1], r: 4 }),
            svg('circle', { class: 'live-hand', cx: to[0], cy: to[1], r: 9 }),
          ]
        : []),
    );
  }
}
