import '../style/live.css';
import type { Bag } from '../core.ts';
import type { Start } from '../line-up/solver-protocol.ts';
import { h } from '../page/dom.ts';
import { percent, type UnitChoice } from '../page/format.ts';
import { movedStraps } from '../view/hanging-straps.ts';
import type { Subject } from '../view/picture.ts';
import type { Stage } from '../view/stage.ts';
import { Hand } from './hand.ts';
import { pointsOf } from './points.ts';
import type { Say, Tell } from './protocol.ts';
import { words } from './words.ts';

/** About a thousand points of a middling bag, which a soft one steps thirty times a second. */
const EDGE = 0.016;
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
  private running = true;
  private took = 1 / 60;
  private readonly gone = new AbortController();
  private readonly hand: Hand;

  constructor(readonly host: LiveHost) {
    this.title.textContent = words.label(host.letter);
    this.box.setAttribute('aria-label', words.label(host.letter));
    host.element.classList.add('in-hand');
    host.mat.append(this.box);
    host.canvas.classList.add('in-hand');
    const { bag, option, stance } = host;
    this.hand = new Hand(
      {
        ...host,
        positions: () => this.x,
        onTable: bag.stances.some((s) => s.name === stance && s.kind === 'standing'),
        held: (vertex, at) => this.tell({ kind: 'hold', vertex, at }),
        changed: (holding, byPointer) => {
          this.pull.disabled = !holding;
          if (!holding || byPointer) this.list.value = '';
        },
        dropped: () => {
          this.list.focus();
          host.say(words.letGo);
        },
        say: (line) => host.say(line),
      },
      this.gone.signal,
    );
    host.element.append(this.hand.mark);
    this.pull.addEventListener('keydown', (event) => this.hand.key(event), { signal: this.gone.signal });
    this.worker.onmessage = ({ data }: MessageEvent<Say>) => this.hear(data);
    this.worker.onerror = (event) => {
      event.preventDefault();
      this.leave(words.failed(event.message || words.stopped));
    };
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
    this.hand.mark.remove();
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
      this.list.append(...pointsOf(say.mesh, say.drafted).map((p) => h('option', { value: p.vertex }, p.name)));
      for (const button of [this.go, this.once, this.again]) button.disabled = false;
      return;
    }
    this.x = say.x;
    this.took += 0.1 * (say.took - this.took);
    this.host.element.dataset.frames = String(Number(this.host.element.dataset.frames ?? 0) + 1);
    const { mesh, straps } = this.start!;
    stage.show(bay, say.x, movedStraps(this.host.bag, mesh, say.x, straps, say.lines));
    this.hand.draw();
    const seconds = say.seconds.toFixed(1);
    this.seconds = seconds;
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
    // No further frame may come: the worker may have been told before it made another.
    if (!on && this.seconds !== '') this.time.textContent = words.halted(this.seconds);
    this.go.textContent = on ? words.halt : words.goOn;
    this.tell({ kind: 'run', on });
  }

  /** Simulated time of the last frame, s, as told. */ private seconds = '';

  private stepOnce(): void {
    if (this.running) this.run(false);
    this.tell({ kind: 'run', on: false, once: true });
  }

  private stuff(): void {
    this.hand.letGo();
    this.running = true;
    this.go.textContent = words.halt;
    this.tell({ kind: 'again' });
  }

  /** A named point of the list is taken where it is now. */
  private choose(): void {
    if (this.list.value === '') this.hand.letGo();
    else this.hand.take(Number(this.list.value));
  }
}
