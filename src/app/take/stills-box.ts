import type { Result } from '../core.ts';
import { saveFile } from '../page/browser-storage.ts';
import { h } from '../page/dom.ts';
import { length, type UnitChoice } from '../page/format.ts';
import { segmentedRow } from '../page/segmented.ts';
import { formatInches, formatMm, pngOfSize, readQuantity } from './core.ts';
import type { ImageOf } from './image.ts';
import { Stills, type StillWish } from './stills.ts';
import { words } from './words.ts';
import { zipOf } from './zip.ts';

export interface StillsHost extends Pick<ImageOf, 'subject' | 'camera' | 'units'> {
  /** Name of the bag. */ readonly bag: string;
  /** Settled, each by its letter. */ readonly results: readonly { readonly letter: string; readonly title: string; readonly result: Result }[];
  /** Of the option being edited. */ readonly letter: string;
  readonly tell: (line: string) => void;
}

/** Dots per inch of a picture to print, and of a screen. */
const DOTS = 300;
const SCREEN = 96;
const INCH = 0.0254;
/** m: from a swing tag to the long side of an A3 sheet. */
const [LEAST, MOST] = [0.02, 0.42];
const FRAMES = [12, 24, 36];
const WIDTHS = [800, 1200, 1920];

/** As last chosen while the page is open. */
const chosen = { width: '', ground: 'none' as StillWish['ground'], outlined: false, frames: 24, px: 1200 };

/** The boxes "Picture to print" and "Turntable": stills of settled bags, drawn one after another, with a way to stop. */
export function stillsBoxes(
  host: StillsHost,
  box: (title: string, how: string, ...inside: (Node | null)[]) => HTMLElement,
): { readonly boxes: readonly HTMLElement[] /** How far a drawing is. */; readonly running: HTMLElement /** Stops it. */; readonly stop: () => void } {
  const { still, turn } = words;
  const own = (units: UnitChoice): string => (units === 'metric' ? '150 mm' : '6 in');
  chosen.width ||= own(host.units);
  let stop: (() => void) | null = null;
  const buttons: HTMLButtonElement[] = [];
  const bar = h('progress', { max: 1, value: 0, 'aria-label': words.drawing(0, 1) });
  const line = h('span', {});
  const running = h(
    'div',
    { class: 'sheet-row take-running', hidden: true },
    bar,
    line,
    h('button', { type: 'button', class: 'plain', onclick: () => stop?.() }, words.cancel),
  );
  const which = h('select', { class: 'plain', 'aria-label': still.which });
  for (const { letter, title } of host.results) which.append(h('option', { value: letter }, `${letter}: ${title}`));
  if (host.results.length > 1) which.append(h('option', { value: '' }, still.all));
  if (host.results.some((r) => r.letter === host.letter)) which.value = host.letter;

  /** Draws so many stills all round, tells how far it is, and hands them over; nothing where it was stopped or failed. */
  const draw = async (count: number, wish: StillWish, save: (made: readonly Blob[], stills: Stills) => Promise<string>): Promise<void> => {
    let stopped = false;
    stop = () => {
      stopped = true;
    };
    running.hidden = false;
    for (const b of buttons) b.disabled = true;
    let stills: Stills | null = null;
    try {
      stills = new Stills(
        host.results.filter((r) => which.value === '' || r.letter === which.value).map((r) => r.result),
        host,
        wish,
        count > 1,
      );
      const made: Blob[] = [];
      for (let i = 0; i < count && !stopped; i++) {
        bar.value = i / count;
        line.textContent = words.drawing(i + 1, count);
        // A turn for the page, so that it can be stopped.
        await new Promise((resolve) => setTimeout(resolve));
        if (!stopped) made.push(await stills.draw({ ...host.camera, turn: host.camera.turn + (2 * Math.PI * i) / count }));
      }
      host.tell(stopped ? words.cancelled : await save(made, stills));
    } catch {
      host.tell(words.tooLarge);
    } finally {
      stills?.close();
      stop = null;
      running.hidden = true;
      for (const b of buttons) b.disabled = host.results.length === 0;
    }
  };

  const width = h('input', { type: 'text', 'aria-label': still.width, value: chosen.width, size: 8 });
  const savePicture = (): void => {
    const typed = /^\s*\d+([.,]\d+)?\s*$/.test(width.value) ? `${width.value.replace(',', '.')} ${host.units === 'metric' ? 'mm' : 'in'}` : width.value;
    const read = readQuantity(typed, 'length');
    const ok = read.ok && read.value >= LEAST && read.value <= MOST;
    width.setAttribute('aria-invalid', String(!ok));
    if (!ok) {
      const range = [LEAST, MOST].map((m) => (host.units === 'metric' ? formatMm(m) : formatInches(m, 4))) as [string, string];
      host.tell(still.range(...range));
      return;
    }
    chosen.width = width.value;
    const wish = { width: Math.round((read.value / INCH) * DOTS), dots: DOTS, ground: chosen.ground, outlined: chosen.outlined };
    void draw(1, wish, async ([blob], stills) => {
      const file = pngOfSize(new Uint8Array(await blob.arrayBuffer()), DOTS / INCH);
      const name = saveFile(host.bag, file as Uint8Array<ArrayBuffer>, 'print', 'png');
      const size = [stills.width, stills.height].map((px) => length((px / DOTS) * INCH, host.units === 'both' ? 'inch' : host.units).main) as [string, string];
      return `${words.saved(name)} ${still.size(...size, `${stills.width} × ${stills.height}`)}`;
    });
  };
  const list = (label: string, values: readonly number[], now: number, name: (n: number) => string, choose: (n: number) => void): HTMLSelectElement => {
    const made = h('select', { class: 'plain', 'aria-label': label });
    for (const n of values) made.append(h('option', { value: n }, name(n)));
    made.value = String(now);
    made.addEventListener('change', () => choose(Number(made.value)));
    return made;
  };
  const saveTurn = (): void => {
    const { frames, px, ground, outlined } = chosen;
    void draw(frames, { width: px, dots: SCREEN, ground, outlined }, async (made) => {
      const entries = await Promise.all(
        made.map(async (blob, i) => ({ name: `turn-${String(i + 1).padStart(2, '0')}-of-${frames}.png`, bytes: new Uint8Array(await blob.arrayBuffer()) })),
      );
      return words.saved(saveFile(host.bag, zipOf(entries), 'turntable', 'zip'));
    });
  };
  const outlined = h('input', { type: 'checkbox', checked: chosen.outlined });
  outlined.addEventListener('change', () => {
    chosen.outlined = outlined.checked;
  });
  const grounds = segmentedRow<StillWish['ground']>(
    still.ground,
    (['none', 'plain'] as const).map((value) => ({ value, label: still.grounds[value] })),
    chosen.ground,
    (value) => {
      chosen.ground = value;
    },
  );
  const button = (label: string, act: () => void): HTMLButtonElement => {
    const made = h('button', { type: 'button', class: 'plain', disabled: host.results.length === 0, onclick: act }, label);
    buttons.push(made);
    return made;
  };
  const boxes = [
    box(
      still.title,
      still.how,
      which,
      h('label', {}, still.width, width),
      grounds.element,
      h('label', {}, outlined, still.outlined),
      button(still.save, savePicture),
    ),
    box(
      turn.title,
      turn.how,
      list(turn.frames, FRAMES, chosen.frames, turn.count, (n) => {
        chosen.frames = n;
      }),
      list(turn.size, WIDTHS, chosen.px, turn.px, (n) => {
        chosen.px = n;
      }),
      button(turn.save, saveTurn),
    ),
  ];
  return { boxes, running, stop: () => stop?.() };
}
