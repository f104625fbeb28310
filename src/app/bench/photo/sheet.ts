import '../../style/starts.css';
import '../../style/bench-photo.css';
import { formatMm } from '../../core.ts';
import { h } from '../../page/dom.ts';
import type { UnitChoice } from '../../page/format.ts';
import { segmentedRow } from '../../page/segmented.ts';
import { showSheet } from '../../page/sheet-dialog.ts';
import { PHOTO_PLACES, readPhoto } from '../core.ts';
import { textField } from '../fields.ts';
import type { Direction, PhotoKept } from '../own-entries.ts';
import { typedLength } from '../typed-length.ts';
import { PhotoBoard } from './board.ts';
import { decoded } from './decode.ts';
import { photoMarks, type ScaleBy } from './marks.ts';
import { PhotoResult } from './result.ts';
import { words } from './words.ts';

export interface PhotoHost {
  readonly units: UnitChoice;
  readonly say: (line: string) => void;
  readonly keep: (shot: PhotoKept) => void;
}

/** How far a corner may be off, m: where its card's sides meet, and where a hand put it. As the tests with made-up pictures take it. */
const CORNERS = { sides: 0.5e-4, hand: 1e-4 } as const;

let shown: HTMLDialogElement | null = null;

/** Opens the sheet in which a picture is loaded, marked and read. */
export function showPhoto(host: PhotoHost): void {
  if (shown?.open) return;
  const wanted = { by: 'card' as ScaleBy, second: false, count: 9 };
  let whole = false;
  const strip = { direction: 'warp' as Direction, side: 'face' as PhotoKept['side'], end: 'first' as PhotoKept['end'] };
  let apart = '100 mm';
  let read: PhotoKept | null = null;
  const note = h('p', { class: 'photo-note', role: 'status' });
  const live = h('p', { class: 'away', 'aria-live': 'polite' });
  const next = h('p', { class: 'photo-next', role: 'status' });
  const result = new PhotoResult();
  const keep = h('button', { type: 'button', class: 'plain strong', disabled: true, onclick: () => kept() }, words.keep);
  const board = new PhotoBoard({
    changed: () => work(),
    say: (line) => {
      live.textContent = line;
    },
  });
  const file = h('input', { type: 'file', accept: 'image/*', capture: 'environment', class: 'away', tabindex: -1, 'aria-label': words.file });
  const load = h('button', { type: 'button', class: 'plain strong', onclick: () => file.click() }, words.load);
  file.addEventListener('change', () => {
    const [chosen] = file.files ?? [];
    file.value = '';
    if (chosen) void open(chosen);
  });
  const far = textField(
    words.apart,
    '',
    {
      report: (value) => {
        apart = value;
        work();
      },
    },
    'photo apart',
  );
  far.input.value = apart;
  far.element.hidden = true;
  let hanging = '';
  const long = textField(
    words.hanging,
    words.hangingHint,
    {
      report: (value) => {
        hanging = value;
        work();
      },
    },
    'photo hanging',
  );
  const check = (label: string, checked: boolean, act: (on: boolean) => void): HTMLElement => {
    const box = h('input', { type: 'checkbox', checked, onchange: () => act(box.checked) });
    return h('label', { class: 'own-check' }, box, h('span', {}, label));
  };
  const labelled = (label: string, row: HTMLElement): HTMLElement =>
    h('div', { class: 'photo-choice' }, h('span', { class: 'small', 'aria-hidden': 'true' }, label), row);
  const choices = <T extends string>(label: string, list: Readonly<Record<T, string>>, value: T, choose: (value: T) => void): HTMLElement =>
    labelled(
      label,
      segmentedRow(
        label,
        (Object.keys(list) as T[]).map((v) => ({ value: v, label: list[v] })),
        value,
        choose,
      ).element,
    );
  const count = h('output', { class: 'photo-count' }, String(wanted.count));
  const points = (by: number): void => {
    wanted.count = Math.min(PHOTO_PLACES[1], Math.max(PHOTO_PLACES[0], wanted.count + by));
    count.textContent = String(wanted.count);
    board.want(wanted);
  };
  const tools = h(
    'div',
    { class: 'photo-tools', hidden: true },
    next,
    board.lens,
    choices(words.scale, words.by, wanted.by, (by) => {
      wanted.by = by;
      far.element.hidden = by !== 'ruler';
      board.want(wanted);
    }),
    far.element,
    labelled(
      words.count,
      h(
        'div',
        { class: 'sheet-row' },
        h('button', { type: 'button', class: 'plain', onclick: () => points(-1) }, words.fewer),
        count,
        h('button', { type: 'button', class: 'plain', onclick: () => points(1) }, words.more),
      ),
    ),
    check(words.snap, true, (on) => {
      board.snap = on;
    }),
    check(words.second, false, (on) => {
      wanted.second = on;
      board.want(wanted);
    }),
    check(words.whole, false, (on) => {
      whole = on;
      work();
    }),
    long.element,
    choices(words.direction, words.directions, strip.direction, (v) => {
      strip.direction = v;
      work();
    }),
    choices(words.side, words.sides, strip.side, (v) => {
      strip.side = v;
      work();
    }),
    choices(words.end, words.ends, strip.end, (v) => {
      strip.end = v;
      work();
    }),
    result.element,
    keep,
    h('p', { class: 'small' }, words.keys),
  );
  const dialog = h(
    'dialog',
    { class: 'starts-sheet photo-sheet', 'aria-labelledby': 'photo-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'photo-title' }, words.title),
      h('button', { type: 'button', class: 'plain', onclick: () => dialog.close() }, words.close),
    ),
    h('p', { class: 'starts-how' }, words.how),
    h('div', { class: 'sheet-row' }, load, file, note),
    live,
    h('div', { class: 'photo-desk' }, board.element, tools),
  );
  shown = dialog;
  showSheet(dialog);

  async function open(chosen: File): Promise<void> {
    const picture = await decoded(chosen);
    if (!picture.ok) {
      note.textContent = picture.why === 'large' ? words.tooLarge : words.notPicture;
      return;
    }
    const { canvas, from } = picture;
    note.textContent = canvas.width < from[0] ? words.reduced(...from, canvas.width, canvas.height) : words.loaded(...from);
    load.textContent = words.another;
    tools.hidden = false;
    board.show(canvas, wanted);
  }

  function work(): void {
    read = null;
    keep.disabled = true;
    const waiting = board.marks.filter((m) => !m.set);
    next.textContent = waiting[0] ? words.next(words.markOf(waiting[0])) : words.all;
    const metres = wanted.by === 'ruler' ? typedLength(apart, host.units) : 0.1;
    far.fault(metres === null ? words.expectedApart : null);
    const hangs = hanging.trim() === '' ? null : typedLength(hanging, host.units);
    const unread = hangs === null && hanging.trim() !== '';
    long.fault(unread ? words.expectedApart : null);
    board.drawReading(null);
    if (waiting.length > 0) {
      result.waits(waiting.length);
      return;
    }
    if (metres === null || unread) return;
    const marks = photoMarks(board.marks, wanted.by, metres, board.bySides ? CORNERS.sides : CORNERS.hand, whole ? board.size : null, hangs);
    const found = readPhoto(marks);
    if (!found.ok) {
      result.faults(found.faults);
      return;
    }
    result.show(found.reading);
    board.drawReading(found.reading);
    const { bendingLength } = found.reading;
    read = { ...strip, marks, bendingLength };
    keep.disabled = false;
    live.textContent = `${words.length} ${formatMm(bendingLength[1], 1)}`;
  }

  function kept(): void {
    if (!read) return;
    host.keep(read);
    host.say(words.kept(formatMm(read.bendingLength[1], 1)));
    dialog.close();
  }
}
