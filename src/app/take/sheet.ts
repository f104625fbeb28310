import '../style/starts.css';
import '../style/sheet.css';
import { PatternPrint } from '../flat/print-pattern.ts';
import { saveFile } from '../page/browser-storage.ts';
import { h, refill } from '../page/dom.ts';
import { segmentedRow } from '../page/segmented.ts';
import { showSheet } from '../page/sheet-dialog.ts';
import type { State } from '../page/store.ts';
import { text } from '../page/text.ts';
import { answerOf } from './answer.ts';
import { figuresFile } from './figures-file.ts';
import { type ImageOf, imageOf } from './image.ts';
import { linkOf } from './link.ts';
import { stillsBoxes } from './stills-box.ts';
import { words } from './words.ts';

export interface TakeHost {
  readonly state: State;
  /** The bag file's text. */ readonly written: string;
  readonly subject: ImageOf['subject'];
  readonly camera: ImageOf['camera'];
  readonly say: (line: string) => void;
}

type Size = keyof typeof words.picture.sizes;
const SIZES: Readonly<Record<Size, readonly [number, number]>> = { wide: [1920, 1080], large: [3840, 2160], square: [2048, 2048], tall: [1080, 1350] };

let shown: HTMLDialogElement | null = null;
/** As last chosen while the page is open. */
let size: Size = 'wide';
let ground: 'mat' | 'plain' = 'mat';

/** Opens the one place from which everything is taken away. */
export function showTakeAway(host: TakeHost): void {
  if (shown?.open) return;
  const { state } = host;
  const { bag, columns, preferences } = state;
  // A result is of the name that its bag had when it settled.
  const results = columns.flatMap((c) => (c.result && !c.stale ? [{ ...c.result, bag: bag.name, option: c.option }] : []));
  const missing = columns.filter((c) => !c.result || c.stale).map((c) => c.letter);
  const status = h('p', { class: 'sheet-note', role: 'status' });
  const told = (line: string): void => {
    refill(status, line);
    host.say(line);
  };
  const saved = (name: string): void => told(words.saved(name));
  const settled = columns.filter((c) => c.result && !c.stale);

  const savePicture = async (): Promise<void> => {
    try {
      const [width, height] = SIZES[size];
      const of: ImageOf = {
        bag: bag.name,
        stance: state.stance,
        wanted: text.controls.wants[bag.wanted],
        columns,
        units: preferences.units,
        subject: host.subject,
        camera: host.camera,
      };
      saved(saveFile(bag.name, await imageOf(of, { width, height, ground }), 'picture', 'png'));
    } catch {
      told(words.picture.failed);
    }
  };
  const saveReport = async (): Promise<void> => {
    try {
      saved(
        saveFile(
          bag.name,
          await answerOf<string>(new Worker(new URL('./report-worker.ts', import.meta.url), { type: 'module' }), { results, bag: host.written }),
          'report',
          'html',
        ),
      );
    } catch {
      told(words.report.failed);
    }
  };
  const edited = columns[state.editing];
  const pattern = new PatternPrint({ bag: () => host.written, option: () => edited.option, tell: told });
  const link = h('input', { type: 'text', readonly: true, hidden: true, 'aria-label': words.link.title, class: 'link-field' });
  const copyLink = async (): Promise<void> => {
    const made = await linkOf(host.written, window.location.href.replace(/#.*$/, ''));
    if (made === null) return told(words.link.long);
    try {
      await navigator.clipboard.writeText(made);
      told(words.link.copied);
    } catch {
      link.hidden = false;
      link.value = made;
      link.select();
      told(words.link.here);
    }
  };

  const button = (label: string, act: () => void, needs = true): HTMLElement =>
    h('button', { type: 'button', class: 'plain', disabled: !needs, onclick: act }, label);
  const box = (title: string, how: string, ...inside: (Node | null)[]): HTMLElement =>
    h('section', { class: 'take-box' }, h('h3', {}, title), h('p', {}, how), ...inside);
  const listOf = <T extends string>(name: string, labels: Readonly<Record<T, string>>, now: T, chosen: (value: T) => void): HTMLSelectElement => {
    const list = h('select', { class: 'plain', 'aria-label': name });
    for (const value of Object.keys(labels) as T[]) list.append(h('option', { value }, labels[value]));
    list.value = now;
    list.addEventListener('change', () => chosen(list.value as T));
    return list;
  };
  const sizes = listOf<Size>(words.picture.size, words.picture.sizes, size, (value) => {
    size = value;
  });
  const grounds = segmentedRow<'mat' | 'plain'>(
    words.picture.ground,
    (['mat', 'plain'] as const).map((value) => ({ value, label: words.picture.grounds[value] })),
    ground,
    (value) => {
      ground = value;
    },
  );
  const any = results.length > 0;
  const stills = stillsBoxes(
    {
      bag: bag.name,
      results: settled.map((c) => ({ letter: c.letter, title: c.title, result: c.result! })),
      letter: edited.letter,
      subject: host.subject,
      camera: host.camera,
      units: preferences.units,
      tell: told,
    },
    box,
  );
  const dialog = h(
    'dialog',
    { class: 'starts-sheet take-sheet', 'aria-labelledby': 'take-title' },
    h(
      'div',
      { class: 'starts-head' },
      h('h2', { id: 'take-title' }, words.title),
      button(words.close, () => dialog.close()),
    ),
    h('p', { class: 'starts-how' }, any ? (missing.length > 0 ? words.unsettled(missing.join(', ')) : '') : words.nothing),
    h(
      'div',
      { class: 'take-grid' },
      box(
        words.picture.title,
        words.picture.how,
        sizes,
        grounds.element,
        button(words.picture.save, () => void savePicture(), any),
      ),
      ...stills.boxes,
      box(
        words.report.title,
        words.report.how,
        button(words.report.save, () => void saveReport(), any),
      ),
      box(
        words.figures.title,
        words.figures.how,
        button(words.figures.save, () => saved(saveFile(bag.name, figuresFile(settled, state.stance), 'figures', 'csv')), any),
      ),
      box(words.pattern.title, words.pattern.how(`${edited.letter}, ${edited.title}`), pattern.element),
      box(
        words.file.title,
        words.file.how,
        button(words.file.save, () => saved(saveFile(bag.name, host.written))),
      ),
      box(
        words.link.title,
        words.link.how,
        button(words.link.copy, () => void copyLink()),
        link,
      ),
      box(
        words.print.title,
        words.print.how,
        button(words.print.print, () => {
          dialog.close();
          window.print();
        }),
      ),
    ),
    stills.running,
    status,
  );
  dialog.addEventListener('close', stills.stop);
  shown = dialog;
  showSheet(dialog);
}
