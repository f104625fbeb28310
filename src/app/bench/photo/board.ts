import { h, svg } from '../../page/dom.ts';
import type { PhotoReading, Pixel } from '../core.ts';
import { type Mark, marksFor, type Wanted, withMark } from './marks.ts';
import { type Brightness, brightnessOf, snapped, snappedCard } from './silhouette.ts';
import { words } from './words.ts';

export interface BoardHost {
  /** Marks have changed. */ readonly changed: () => void;
  readonly say: (line: string) => void;
}

/** Reach of snapping as a share of the picture's longer side; the magnifier's side and how much it enlarges, screen pixels. */
const REACH = 0.008;
const LENS = 168;
const ENLARGED = 6;
/** Residuals are drawn so many times as long as they are. */
const TIMES = 10;
/** A pointer that moves less has clicked, screen pixels. */
const DRAG = 4;

/** A picture with marks on it: put by clicks one after another, dragged, or moved by keys; the fitted strip and what each point is off drawn over it. */
export class PhotoBoard {
  readonly element = h('div', { class: 'photo-board', role: 'group', 'aria-label': words.picture });
  readonly lens = h('canvas', { class: 'photo-lens', width: LENS, height: LENS, role: 'img', 'aria-label': words.magnifier });
  private readonly over = svg('svg', { class: 'photo-over', 'aria-hidden': 'true' });
  private readonly buttons = new Map<string, HTMLButtonElement>();
  private canvas: HTMLCanvasElement | null = null;
  private bright: Brightness | null = null;
  private list: Mark[] = [];
  snap = true;
  /** The card's corners are where its sides meet, not where a hand put them. */ bySides = false;
  constructor(private readonly host: BoardHost) {
    this.element.addEventListener('pointerdown', (event) => this.pressed(event));
  }

  get marks(): readonly Mark[] {
    return this.list;
  }

  get size(): Pixel {
    return this.canvas ? [this.canvas.width, this.canvas.height] : [1, 1];
  }

  private get reach(): number {
    return Math.max(6, REACH * Math.max(...this.size));
  }

  show(canvas: HTMLCanvasElement, wanted: Wanted): void {
    this.canvas = canvas;
    canvas.classList.add('photo-picture');
    this.bright = brightnessOf(canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height));
    this.element.style.setProperty('--aspect', String(canvas.width / canvas.height));
    this.over.setAttribute('viewBox', `0 0 ${canvas.width} ${canvas.height}`);
    this.list = [];
    this.buttons.clear();
    this.element.replaceChildren(canvas, this.over);
    this.want(wanted);
  }

  want(wanted: Wanted): void {
    if (!this.canvas) return;
    this.list = marksFor(this.size, wanted, this.list);
    for (const [key, button] of this.buttons)
      if (!this.list.some((m) => m.key === key)) {
        button.remove();
        this.buttons.delete(key);
      }
    for (const mark of this.list) {
      const button = this.buttons.get(mark.key) ?? this.buttonOf(mark.key);
      // Appending again puts the buttons into the order in which Tab goes through them; a focused one is left where it is.
      if (document.activeElement !== button) this.element.append(button);
    }
    this.redraw();
    this.host.changed();
  }

  private buttonOf(key: string): HTMLButtonElement {
    const button = h('button', { type: 'button', class: 'photo-mark', 'data-mark': key });
    button.addEventListener('focus', () => this.enlarge(this.mark(key).at));
    button.addEventListener('keydown', (event) => this.typed(event, key));
    button.addEventListener('pointerdown', (event) => this.dragged(event, key, button));
    this.buttons.set(key, button);
    return button;
  }

  private mark(key: string): Mark {
    return this.list.find((m) => m.key === key)!;
  }

  private placeOf(event: PointerEvent): Pixel {
    const box = this.element.getBoundingClientRect();
    const [w, hh] = this.size;
    return [((event.clientX - box.left) / box.width) * w, ((event.clientY - box.top) / box.height) * hh];
  }

  private pressed(event: PointerEvent): void {
    if (event.button !== 0 || (event.target as Element).closest('.photo-mark')) return;
    event.preventDefault();
    this.putNext(event);
  }

  /** Puts the first mark that is not yet set where the pointer is. False: all are set. */
  private putNext(event: PointerEvent): boolean {
    const next = this.list.find((m) => !m.set);
    if (!next) return false;
    this.put(next.key, this.placeOf(event), true);
    this.buttons.get((this.list.find((m) => !m.set) ?? next).key)?.focus();
    return true;
  }

  private dragged(event: PointerEvent, key: string, button: HTMLButtonElement): void {
    if (event.button !== 0) return;
    event.preventDefault();
    button.focus();
    button.setPointerCapture(event.pointerId);
    const [from, start] = [this.placeOf(event), this.mark(key).at];
    let moved = false;
    const at = (e: PointerEvent): Pixel => {
      const [x, y] = this.placeOf(e);
      return [start[0] + x - from[0], start[1] + y - from[1]];
    };
    const move = (e: PointerEvent): void => {
      if (!moved && Math.hypot(e.clientX - event.clientX, e.clientY - event.clientY) < DRAG) return;
      moved = true;
      this.put(key, at(e), false);
    };
    const end = (e: PointerEvent): void => {
      button.removeEventListener('pointermove', move);
      button.removeEventListener('pointerup', end);
      button.removeEventListener('pointercancel', end);
      if (moved) this.put(key, at(e), true);
      // Marks of a strip lie close on a small screen: a click on one while others wait is meant for the next.
      else if (e.type === 'pointerup') this.putNext(event);
    };
    button.addEventListener('pointermove', move);
    button.addEventListener('pointerup', end);
    button.addEventListener('pointercancel', end);
  }

  private typed(event: KeyboardEvent, key: string): void {
    const step = event.shiftKey ? 10 : 1;
    const by: Readonly<Record<string, Pixel>> = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
    const way = by[event.key];
    const { at } = this.mark(key);
    if (way) {
      event.preventDefault();
      this.put(key, [at[0] + way[0], at[1] + way[1]], false);
      this.tell(key);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      this.put(key, at, true);
      this.tell(key);
      const i = this.list.findIndex((m) => m.key === key);
      const next = this.list.slice(i + 1).find((m) => !m.set) ?? this.list[i + 1];
      if (next) this.buttons.get(next.key)?.focus();
    }
  }

  private tell(key: string): void {
    const mark = this.mark(key);
    this.host.say(words.placed(words.markOf(mark), Math.round(mark.at[0]), Math.round(mark.at[1])));
  }

  /** Puts a mark; `settle`: the hand has come to rest, so that it may snap. */
  private put(key: string, at: Pixel, settle: boolean): void {
    const { kind } = this.mark(key);
    this.list = withMark(this.list, key, at, this.size);
    if (kind === 'card') this.bySides = false;
    if (settle && this.snap && this.bright) {
      // The tip and the edge are corners: a silhouette runs past them.
      if (kind === 'strip' && key !== 'tip') {
        const place = snapped(this.bright, this.mark(key).at, this.reach);
        if (place) this.list = withMark(this.list, key, place, this.size);
      } else if (kind === 'card') this.snapCard();
    }
    this.redraw();
    this.enlarge(this.mark(key).at);
    this.host.changed();
  }

  private snapCard(): void {
    const card = this.list.filter((m) => m.kind === 'card');
    if (!this.bright || card.length !== 4 || !card.every((m) => m.set)) return;
    const corners = snappedCard(
      this.bright,
      card.map((m) => m.at),
      1.5 * this.reach,
    );
    if (!corners) return;
    this.bySides = true;
    for (const [i, m] of card.entries()) this.list = withMark(this.list, m.key, corners[i]!, this.size);
  }

  private redraw(): void {
    const [w, hh] = this.size;
    for (const mark of this.list) {
      const button = this.buttons.get(mark.key)!;
      button.style.left = `${(100 * mark.at[0]) / w}%`;
      button.style.top = `${(100 * mark.at[1]) / hh}%`;
      button.classList.toggle('waiting', !mark.set);
      button.dataset.kind = mark.kind;
      const what = words.markOf(mark);
      button.setAttribute('aria-label', mark.set ? words.placed(what, Math.round(mark.at[0]), Math.round(mark.at[1])) : words.waiting(what));
    }
    this.drawReading(null);
  }

  /** Draws the fitted strip and each point's distance from it, or takes them away. */
  drawReading(reading: PhotoReading | null): void {
    const path = (places: readonly Pixel[]): string => places.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
    const card = this.list.filter((m) => m.kind === 'card' && m.set).map((m) => m.at);
    const lines: SVGElement[] = [];
    if (card.length > 1) lines.push(svg('path', { class: 'photo-card', d: path(card) + (card.length === 4 ? 'Z' : '') }));
    if (reading) {
      lines.push(svg('path', { class: 'photo-curve-under', d: path(reading.curve) }), svg('path', { class: 'photo-curve', d: path(reading.curve) }));
      const strip = this.list.filter((m) => m.kind === 'strip');
      for (const { at } of strip) {
        const near = reading.curve.reduce((best, p) => (Math.hypot(p[0] - at[0], p[1] - at[1]) < Math.hypot(best[0] - at[0], best[1] - at[1]) ? p : best));
        const far: Pixel = [near[0] + TIMES * (at[0] - near[0]), near[1] + TIMES * (at[1] - near[1])];
        lines.push(svg('path', { class: 'photo-off', d: path([near, far]) }));
      }
    }
    this.over.replaceChildren(...lines);
  }

  private enlarge([x, y]: Pixel): void {
    const context = this.lens.getContext('2d');
    if (!this.canvas || !context) return;
    const seen = LENS / ENLARGED;
    context.imageSmoothingEnabled = false;
    context.fillStyle = '#888';
    context.fillRect(0, 0, LENS, LENS);
    context.drawImage(this.canvas, x - seen / 2, y - seen / 2, seen, seen, 0, 0, LENS, LENS);
    for (const [colour, width] of [
      ['#fff', 3],
      ['#a3261b', 1],
    ] as const) {
      context.strokeStyle = colour;
      context.lineWidth = width;
      context.beginPath();
      context.moveTo(LENS / 2, 0);
      context.lineTo(LENS / 2, LENS);
      context.moveTo(0, LENS / 2);
      context.lineTo(LENS, LENS / 2);
      context.stroke();
    }
  }
}
