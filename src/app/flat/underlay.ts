import { readQuantity } from '../core.ts';
import { h, svg } from '../page/dom.ts';
import type { Board } from './board-data.ts';
import { draw as words } from './draw-words.ts';
import { button, field } from './form-parts.ts';

/** Largest file that is read, bytes, and the longest side that is kept, px: a photograph of a pattern needs no more to be traced. */
const MOST_BYTES = 40_000_000;
const MOST_PIXELS = 2000;

interface Picture {
  readonly url: string;
  /** Height over width. */ readonly shape: number;
  readonly panel: string;
}

export interface UnderlayWishes {
  changed(): void;
  tell(line: string): void;
  withUnit(value: string): string;
  /** How wide a picture is taken to be at first. */ usual(): string;
}

/** A picture laid under one panel at a stated scale, to draw after. It is the table's alone: no bag file holds it, and it goes with the page. */
export class Underlay {
  readonly element = h('details', { class: 'underlay' });
  private picture: Picture | null = null;
  private sizes = { width: '', left: '0', up: '0' };
  constructor(private readonly wishes: UnderlayWishes) {}

  fill(panel: string): void {
    // Asked for by the button alone: it stands nowhere on the page.
    const file = h('input', { type: 'file', accept: 'image/*' });
    file.addEventListener('change', () => {
      const chosen = file.files?.[0];
      if (chosen) void this.lay(chosen, panel);
    });
    const size = (label: string, key: 'width' | 'left' | 'up'): HTMLElement =>
      field(label, `under ${key}`, this.sizes[key], (v) => {
        const typed = this.wishes.withUnit(v);
        const reading = readQuantity(typed, 'length');
        if (v !== '0' && !(reading.ok && (key !== 'width' || reading.value > 0))) this.wishes.tell(words.underSize(v));
        else this.sizes = { ...this.sizes, [key]: v === '0' ? v : typed };
        this.wishes.changed();
      }).row;
    const laid = this.picture;
    this.element.open ||= laid !== null;
    this.element.replaceChildren(
      h('summary', { 'data-hold': 'under' }, laid ? words.underOf(laid.panel) : words.under),
      h('p', { class: 'small' }, words.underHint),
      ...(laid ? [size(words.underWidth, 'width'), size(words.underLeft, 'left'), size(words.underUp, 'up')] : []),
      h(
        'div',
        { class: 'sheet-buttons' },
        button(laid ? words.underOther : words.underChoose, 'under choose', () => file.click()),
        laid ? button(words.underOff, 'under off', () => this.clear()) : null,
      ),
    );
  }

  private clear(): void {
    if (this.picture) URL.revokeObjectURL(this.picture.url);
    this.picture = null;
    this.wishes.changed();
  }

  private async lay(file: File, panel: string): Promise<void> {
    const made = file.size > MOST_BYTES ? null : await shrunk(file).catch(() => null);
    if (!made) {
      this.wishes.tell(words.underRefused(file.name));
      return;
    }
    if (this.picture) URL.revokeObjectURL(this.picture.url);
    else this.sizes.width = this.wishes.usual();
    this.picture = { ...made, panel };
    this.wishes.tell(words.underLaid(panel));
    this.wishes.changed();
  }

  /** Lays it under its panel on a painted sheet, whose cloth lets it show through. */
  paint(drawing: SVGElement, board: Board): void {
    const { picture } = this;
    const i = picture ? board.panels.indexOf(picture.panel) : -1;
    const panel = picture && drawing.querySelector<SVGElement>(`.flat-panel[data-panel="${CSS.escape(picture.panel)}"]`);
    if (!picture || !panel || i < 0) return;
    const metres = (key: 'width' | 'left' | 'up'): number => {
      const reading = readQuantity(this.sizes[key], 'length');
      return reading.ok ? reading.value : 0;
    };
    const { x, y } = board.layout.at[i];
    const [w, left, up] = [metres('width') * 1000, metres('left') * 1000, metres('up') * 1000];
    const at = { x: x + left, y: y - up - w * picture.shape, width: w, height: w * picture.shape };
    panel.classList.add('over-picture');
    panel.prepend(svg('image', { href: picture.url, ...at, preserveAspectRatio: 'none', 'pointer-events': 'none' }));
  }
}

/** A picture no larger than it need be. Rejects what is no picture. */
async function shrunk(file: File): Promise<{ readonly url: string; readonly shape: number }> {
  const whole = await createImageBitmap(file);
  const scale = Math.min(1, MOST_PIXELS / Math.max(whole.width, whole.height));
  const canvas = h('canvas', { width: Math.max(1, Math.round(whole.width * scale)), height: Math.max(1, Math.round(whole.height * scale)) });
  canvas.getContext('2d')?.drawImage(whole, 0, 0, canvas.width, canvas.height);
  const shape = whole.height / whole.width;
  whole.close();
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve));
  if (!blob) throw new Error('no picture');
  return { url: URL.createObjectURL(blob), shape };
}
