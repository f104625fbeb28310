import { h, refill } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import { type Cloth, clothsOf } from './cloths.ts';
import { COMPARED_LENGTH, type Comparison, MOST_COMPARED, VERSION } from './core.ts';
import { download, pngOf, textBlob } from './download.ts';
import { textField } from './fields.ts';
import { MaterialBox } from './material-box.ts';
import { benchRunner } from './runner.ts';
import { SideDrape } from './side-drape.ts';
import { sideTable } from './side-table.ts';
import { sideWords as words } from './side-words.ts';
import { typedLength } from './typed-length.ts';

/** What is kept from one visit to the next. */
export interface SideEntry {
  readonly materials: readonly string[];
  readonly length: string;
}

const FIRST_SIDE: SideEntry = { materials: ['poplin', 'canvas10', 'denim11', 'chrome_skived'], length: '' };

export const restoredSide = (kept: unknown): SideEntry => {
  const { materials, length } = (kept ?? {}) as { materials?: unknown; length?: unknown };
  const names = Array.isArray(materials) ? materials.filter((m): m is string => typeof m === 'string') : FIRST_SIDE.materials;
  return { materials: names.slice(0, MOST_COMPARED), length: typeof length === 'string' ? length : '' };
};

export interface SideHost {
  readonly state: () => State;
  readonly say: (line: string) => void;
  readonly keep: (entry: SideEntry) => void;
}

type PlotName = keyof Comparison['plots'];

/** "Materials side by side": up to six, their figures in a table and in three plots, and everything to take away. */
export class SideScreen {
  readonly element: HTMLElement;
  private readonly runner = benchRunner();
  private readonly list = h('div', { class: 'side-list' });
  private readonly addButton = h('button', { type: 'button', class: 'plain', onclick: () => this.add() }, words.add);
  private readonly length;
  private readonly out = h('div', { class: 'side-out' });
  private readonly line = h('p', { class: 'reason', role: 'status' });
  private readonly drape: SideDrape;
  private boxes: { readonly box: MaterialBox; readonly remove: HTMLButtonElement }[] = [];
  private bands: Readonly<Record<'low' | 'mid' | 'high', readonly Cloth[]>> | null = null;
  private bandsFor: State['bag']['materials'] | null = null;
  private asked = '';
  private made: Comparison | null = null;
  constructor(
    private readonly host: SideHost,
    private entry: SideEntry,
  ) {
    this.length = textField(words.length, '', { report: (length) => this.change({ length }) }, 'side length', { placeholder: '100 mm' });
    this.length.input.value = entry.length;
    const form = h(
      'form',
      { class: 'bench-form side-form', 'aria-label': words.list, novalidate: true },
      h('p', { class: 'bench-how' }, words.intro),
      this.list,
      this.addButton,
      this.length.element,
    );
    form.addEventListener('submit', (event) => event.preventDefault());
    this.drape = new SideDrape({
      say: host.say,
      figure: (svg, what) => this.figure(svg, what, 'drape'),
      file: (label, shown, ending, content) => this.button(label, shown, () => this.keepFile('drape', ending, content())),
    });
    this.element = h('div', { class: 'bench-side' }, form, this.out);
  }

  /** Called when the screen is shown, and whenever the page's state changes while it is. */
  update(): void {
    const { bag, preferences } = this.host.state();
    if (!this.bands || this.bandsFor !== bag.materials) {
      this.bands = { low: clothsOf(bag, 'low'), mid: clothsOf(bag, 'mid'), high: clothsOf(bag, 'high') };
      this.bandsFor = bag.materials;
    }
    this.length.input.placeholder = preferences.units !== 'metric' ? '4 in' : '100 mm';
    this.fill();
    const read = this.entry.length.trim() === '' ? { ok: true as const, value: preferences.units !== 'metric' ? 0.1016 : COMPARED_LENGTH } : this.readLength();
    this.length.fault(read.ok ? null : words.lengthExpected[preferences.units]);
    this.length.hint.textContent = words.lengthHint[preferences.units];
    const chosen = this.entry.materials.flatMap((id) => (this.bands!.mid.some((c) => c.id === id) ? [id] : []));
    if (!read.ok) return;
    if (chosen.length === 0) {
      this.runner.stop();
      this.asked = '';
      this.made = null;
      refill(this.out, h('p', { class: 'reason' }, words.none));
      return;
    }
    const of = (id: string): { name: string; story: string; sheets: readonly [Cloth['sheet'], Cloth['sheet'], Cloth['sheet']] } => {
      const at = (band: 'low' | 'mid' | 'high'): Cloth => this.bands![band].find((c) => c.id === id)!;
      return { name: at('mid').name, story: at('mid').story, sheets: [at('low').sheet, at('mid').sheet, at('high').sheet] };
    };
    const ask = {
      cloths: chosen.map(of),
      length: read.value,
      unit: preferences.units !== 'metric' ? ('in' as const) : ('mm' as const),
      program: `slumpline ${VERSION}`,
    };
    this.drape.show(ask);
    const key = JSON.stringify(ask);
    if (key === this.asked) return;
    this.asked = key;
    this.runner.ask({ what: 'side', ...ask }, (say) => {
      if (say.kind === 'side') this.show(say.made);
    });
  }

  private readLength(): { readonly ok: true; readonly value: number } | { readonly ok: false } {
    const value = typedLength(this.entry.length, this.host.state().preferences.units);
    return value !== null && value >= 0.001 && value <= 3 ? { ok: true, value } : { ok: false };
  }

  private change(part: Partial<SideEntry>): void {
    this.entry = { ...this.entry, ...part };
    this.host.keep(this.entry);
    this.update();
  }

  private add(): void {
    this.change({ materials: [...this.entry.materials, ''] });
    this.boxes.at(-1)?.box.element.querySelector('input')?.focus();
  }

  /** One box a material; boxes are kept, so that a hand in one of them is not disturbed. */
  private fill(): void {
    const { materials } = this.entry;
    while (this.boxes.length < materials.length) {
      const i = this.boxes.length;
      const box = new MaterialBox((id) => this.change({ materials: this.entry.materials.map((m, k) => (k === i ? id : m)) }));
      const remove = h('button', { type: 'button', class: 'plain side-remove', onclick: () => this.take(i) }, '×');
      this.boxes.push({ box, remove });
      this.list.append(h('div', { class: 'side-row' }, box.element, remove));
    }
    while (this.boxes.length > materials.length) {
      this.boxes.pop();
      this.list.lastElementChild?.remove();
    }
    this.boxes.forEach(({ box, remove }, i) => {
      box.update(this.bands!.mid, materials[i]!, this.host.state().preferences.units);
      remove.setAttribute('aria-label', words.remove(this.bands!.mid.find((c) => c.id === materials[i])?.name ?? words.list));
    });
    const full = materials.length >= MOST_COMPARED;
    this.addButton.disabled = full;
    this.addButton.title = full ? words.full : '';
  }

  private take(i: number): void {
    this.change({ materials: this.entry.materials.filter((_, k) => k !== i) });
    // The button under the hand is gone, or stands for another material now.
    (this.boxes[Math.min(i, this.boxes.length - 1)]?.remove ?? this.addButton).focus();
  }

  private show(made: Comparison): void {
    this.made = made;
    const plots = (Object.keys(words.plots) as PlotName[]).map((name) => this.figure(made.plots[name], words.plots[name], name));
    refill(
      this.out,
      h(
        'div',
        { class: 'side-take' },
        this.button(words.csv, words.csv, () => this.keepFile('figures', 'csv', textBlob(made.csv, 'text/csv'))),
        this.button(words.sheet, words.sheet, () => this.keepFile('sheet', 'html', textBlob(this.drape.onSheet(made.sheet), 'text/html'))),
        this.line,
      ),
      sideTable(made),
      h('p', { class: 'small' }, words.estimate),
      ...plots,
      this.drape.element,
    );
    this.line.textContent = '';
    this.element.dataset.shown = String(made.names.length);
    this.host.say(words.say(made.names.length));
  }

  private figure(svg: string, what: string, name: string): HTMLElement {
    const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    return h(
      'figure',
      { class: 'side-plot' },
      document.importNode(drawing, true) as unknown as HTMLElement,
      h(
        'figcaption',
        {},
        this.button(words.saveAs(what, words.svg), words.svg, () => this.keepFile(name, 'svg', textBlob(svg, 'image/svg+xml'))),
        this.button(words.saveAs(what, words.png), words.png, async () => this.keepFile(name, 'png', await pngOf(svg))),
      ),
    );
  }

  private button(label: string, shown: string, act: () => unknown): HTMLButtonElement {
    const run = async (): Promise<void> => {
      try {
        await act();
      } catch {
        this.line.textContent = words.notSaved;
      }
    };
    return h('button', { type: 'button', class: 'plain', 'aria-label': label, onclick: () => void run() }, shown);
  }

  private keepFile(what: string, ending: string, content: Blob): void {
    const names = this.made?.names ?? [];
    this.line.textContent = words.saved(download(`${names.length === 1 ? names[0] : `${names.length} cloths`} ${what}`, ending, content));
  }
}
