import { h, svg } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { alongTrack, nearestOn } from './anchor-tracks.ts';
import type { AnchorTrack } from './core.ts';
import { stepOf, written } from './lengths.ts';
import { words } from './words.ts';

/** What the handles work on. */
export interface HandlesHost {
  /** Puts the strap's anchors at this distance, m. false: they cannot lie there, and the reason stands beside the field. */ readonly put: (
    distance: number,
  ) => boolean;
  /** The hand wants to go beyond the last place there is. */ readonly beyond: (now: boolean) => void;
}

/** Picture that the handles lie on. */
export interface HandlesPicture {
  readonly tracks: readonly AnchorTrack[];
  readonly width: number;
  readonly height: number;
}

/** Large steps of the keys, in small ones. */
const LARGE = { metric: 10, inch: 8, both: 8 } as const;
/** Keys rest this long before the bag is changed, ms: so a run of them is one step to undo. */
const HAND_RESTS = 500;
/** Distances are told to a hundredth of a millimetre: nearer ones are one place, m. */
const SAME_PLACE = 2e-5;
/** The pointer is beyond the end of a track this far from it, px. */
const BEYOND = 14;

/** A strap's anchors on a picture, to drag or to move with the arrow keys; both ends go together. */
export class AnchorHandles {
  readonly element = h('div', { class: 'anchor-handles' });
  private readonly told = h('p', { class: 'anchor-told', role: 'status' });
  private readonly line = svg('svg', { class: 'anchor-line', 'aria-hidden': 'true', preserveAspectRatio: 'none' });
  private readonly handles: HTMLElement[] = [];
  private picture: HandlesPicture = { tracks: [], width: 1, height: 1 };
  private units: UnitChoice = 'metric';
  /** Where the hand has put them; null: where they are drawn. */ private moved: number | null = null;
  private held = -1;
  private timer = 0;
  constructor(private readonly host: HandlesHost) {
    this.element.append(this.line, this.told);
  }

  /** `now`: where both anchors of the bag are, m; null where its ends lie unlike. */
  show(picture: HandlesPicture, units: UnitChoice, now: number | null): void {
    const other = picture.tracks !== this.picture.tracks;
    [this.picture, this.units] = [picture, units];
    // Another picture has them drawn where they are; an undo takes back what the hand did.
    const busy = this.held >= 0 || this.timer > 0;
    if (!busy && (other || (this.moved !== null && (now === null || Math.abs(now - this.moved) > SAME_PLACE)))) this.moved = null;
    this.line.setAttribute('viewBox', `0 0 ${picture.width} ${picture.height}`);
    while (this.handles.length < picture.tracks.length) this.add(this.handles.length);
    this.place();
  }

  private add(i: number): void {
    const handle = h('span', { class: 'anchor-handle', role: 'slider', tabindex: 0 });
    handle.addEventListener('pointerdown', (e) => {
      if (e.button !== 0) return;
      e.preventDefault();
      handle.focus({ preventScroll: true });
      handle.setPointerCapture(e.pointerId);
      this.held = i;
    });
    handle.addEventListener('pointermove', (e) => this.held === i && this.drag(i, e));
    handle.addEventListener('pointerup', () => this.held === i && this.release());
    handle.addEventListener('pointercancel', () => this.back());
    handle.addEventListener('keydown', (e) => this.key(i, e));
    handle.addEventListener('focus', () => this.place());
    handle.addEventListener('blur', () => {
      if (this.timer > 0) this.commit();
      this.host.beyond(false);
      this.place();
    });
    this.handles.push(handle);
    this.element.append(handle);
  }

  private at(track: AnchorTrack): number {
    return this.moved ?? track.distance;
  }

  private place(): void {
    const { tracks, width, height } = this.picture;
    const focused = this.handles.indexOf(document.activeElement as HTMLElement);
    this.handles.forEach((handle, i) => {
      const track = tracks[i];
      handle.hidden = !track;
      if (!track) return;
      const d = this.at(track),
        [x, y] = alongTrack(track, d),
        [first, last] = [track.line[0][0], track.line.at(-1)![0]];
      handle.style.left = `${(100 * x) / width}%`;
      handle.style.top = `${(100 * y) / height}%`;
      handle.setAttribute('aria-label', words.anchor(track.strap, track.side, track.panel));
      handle.setAttribute('aria-valuemin', String(Math.round(1000 * first)));
      handle.setAttribute('aria-valuemax', String(Math.round(1000 * last)));
      handle.setAttribute('aria-valuenow', String(Math.round(1000 * d)));
      handle.setAttribute('aria-valuetext', words.anchorAt(written(d, this.units), track.side));
      handle.title = words.dragHint;
    });
    const shown = focused >= 0 ? tracks : [];
    this.line.replaceChildren(
      ...shown.map((t) => svg('polyline', { points: t.line.map(([, x, y]) => `${x},${y}`).join(' '), 'vector-effect': 'non-scaling-stroke' })),
    );
    const words_ = this.moved === null ? '' : words.moved(written(this.moved, this.units));
    if (this.told.textContent !== words_) this.told.textContent = words_;
  }

  private snapped(d: number, track: AnchorTrack): number {
    const step = stepOf(this.units);
    const [first, last] = [track.line[0][0], track.line.at(-1)![0]];
    const at = Math.round(d / step) * step;
    return at < first ? Math.ceil(first / step - 1e-6) * step : at > last ? Math.floor(last / step + 1e-6) * step : at;
  }

  private drag(i: number, e: PointerEvent): void {
    const track = this.picture.tracks[i];
    const box = this.element.getBoundingClientRect();
    const scale = this.picture.width / box.width;
    const { distance, off, end } = nearestOn(track, (e.clientX - box.left) * scale, (e.clientY - box.top) * scale);
    this.moved = this.snapped(distance, track);
    this.host.beyond(end && off / scale > BEYOND);
    this.place();
  }

  private release(): void {
    this.held = -1;
    this.commit();
  }

  private key(i: number, e: KeyboardEvent): void {
    const track = this.picture.tracks[i];
    if (e.key === 'Escape') this.back();
    else if (e.key === 'Enter') this.commit();
    const large = e.shiftKey ? LARGE[this.units] : 1;
    const now = this.at(track);
    // Left and right as it looks, whichever side it is measured from.
    const right = alongTrack(track, track.line.at(-1)![0])[0] >= alongTrack(track, track.line[0][0])[0] ? 1 : -1;
    const by: Readonly<Record<string, number>> = {
      ArrowRight: right * large,
      ArrowLeft: -right * large,
      ArrowUp: large,
      ArrowDown: -large,
      PageUp: LARGE[this.units],
      PageDown: -LARGE[this.units],
      Home: Number.NEGATIVE_INFINITY,
      End: Number.POSITIVE_INFINITY,
    };
    const steps = by[e.key];
    if (steps === undefined) return;
    e.preventDefault();
    const [first, last] = [track.line[0][0], track.line.at(-1)![0]];
    const wanted = Number.isFinite(steps) ? now + steps * stepOf(this.units) : steps < 0 ? first : last;
    this.moved = this.snapped(wanted, track);
    this.host.beyond(Number.isFinite(steps) && Math.abs(wanted - this.moved) > stepOf(this.units) / 2);
    this.place();
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.commit(), HAND_RESTS);
  }

  private commit(): void {
    clearTimeout(this.timer);
    this.timer = 0;
    const to = this.moved;
    if (to === null) return;
    if (!this.host.put(to)) this.moved = null;
    this.place();
  }

  /** As they were before the hand took hold. */
  private back(): void {
    clearTimeout(this.timer);
    this.timer = 0;
    this.held = -1;
    this.moved = null;
    this.host.beyond(false);
    this.place();
  }
}
