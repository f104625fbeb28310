import { saveFile } from '../page/browser-storage.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import type { State } from '../page/store.ts';
import { formatGsm } from './core.ts';
import { size } from './dimensions.ts';
import { emptyIn, faultsByField, isEmpty, type OwnEntry, readingsText } from './own-entries.ts';
import { OwnForm } from './own-form.ts';
import { OwnResult } from './own-result.ts';
import type { OwnFigures, Say } from './protocol.ts';
import { benchRunner } from './runner.ts';
import { words } from './words.ts';

/** How the bag took a material: where it is now, or why it did not take it. */
type Used = { readonly where: string; readonly replaced: boolean } | { readonly why: string };

export interface OwnHost {
  readonly state: () => State;
  readonly say: (line: string) => void;
  readonly keep: (entry: OwnEntry) => void;
  /** where: 'new', 'list' or the number of an option. */
  readonly use: (id: string, material: unknown, where: string, fused: boolean) => Used;
  /** Puts a material of the bag on the bench. */ readonly bench: (id: string) => void;
}

/** "My swatch": the form at the left, what it comes to at the right. Nothing is saved or used before it is asked for. */
export class OwnScreen {
  readonly element: HTMLElement;
  private readonly runner = benchRunner();
  private readonly form: OwnForm;
  private readonly result: OwnResult;
  private figures: OwnFigures | null = null;
  /** What stands in the form has been worked out once: from then on every change is. */
  private worked = false;
  private timer = 0;
  /** Unit that lengths stand in. */ private told: UnitChoice | null = null;
  constructor(
    private readonly host: OwnHost,
    private entry: OwnEntry,
  ) {
    this.form = new OwnForm(host.state().bag, entry, {
      change: (next) => this.change(next),
      work: () => this.work(true),
      clear: () => this.clear(),
      photo: () => this.photograph(),
    });
    this.result = new OwnResult({ save: () => this.save(), use: (where) => this.use(where), bench: () => this.name && host.bench(this.name) });
    this.element = h('div', { class: 'bench-own', hidden: true }, this.form.element, this.result.element);
    this.update();
    // A form kept from an earlier visit shows what it came to.
    const read = entry.method === 'photo' ? entry.photos.length > 0 : (entry.typed['warp face'] ?? '') !== '';
    if (read && (entry.typed.weight ?? '') !== '') this.work(false);
  }

  update(): void {
    const { units } = this;
    this.result.offer(this.host.state());
    if (units === this.told) return;
    this.told = units;
    // Bare numbers keep the unit that they were typed in; an empty form takes the reader's.
    if (isEmpty(this.entry)) this.entry = emptyIn(units);
    this.form.set(this.entry, units);
    if (this.figures) this.result.show(this.figures, units);
  }

  private get units(): UnitChoice {
    return this.host.state().preferences.units;
  }

  private get name(): string {
    return this.entry.typed.name?.trim() ?? '';
  }

  private change(entry: OwnEntry): void {
    this.entry = entry;
    this.host.keep(entry);
    clearTimeout(this.timer);
    if (!this.worked) return;
    // What no longer belongs to the form can neither be saved nor used.
    this.figures = null;
    this.timer = window.setTimeout(() => this.work(false), 300);
  }

  private clear(): void {
    this.worked = false;
    this.entry = emptyIn(this.units);
    this.host.keep(this.entry);
    this.figures = null;
    this.runner.stop();
    clearTimeout(this.timer);
    this.form.set(this.entry, this.units);
    this.form.faults(new Map(), false);
    this.result.show(null, this.units);
  }

  /** The sheet is loaded when it is first asked for. */
  private photograph(): void {
    const { host } = this;
    void import('./photo/sheet.ts').then(
      (m) =>
        m.showPhoto({
          units: host.state().preferences.units,
          say: host.say,
          keep: (shot) => {
            const next: OwnEntry = { ...this.entry, method: 'photo', photos: [...this.entry.photos, shot] };
            this.form.set(next, this.units);
            this.change(next);
          },
        }),
      () => this.result.show(null, this.units, words.swatch.photoFailed),
    );
  }

  private work(asked: boolean): void {
    clearTimeout(this.timer);
    this.worked = true;
    const { entry } = this;
    this.runner.ask({ what: 'readings', text: readingsText(entry) }, (say) => this.hear(say, entry, asked));
  }

  private hear(say: Say, entry: OwnEntry, asked: boolean): void {
    if (say.kind === 'faults') {
      this.figures = null;
      const faults = faultsByField(say.faults, entry);
      this.form.faults(faults, asked);
      this.result.show(null, this.units, words.swatch.sayFaults(faults.size));
    } else if (say.kind === 'own') {
      this.figures = say.own;
      this.form.faults(new Map(), false);
      this.result.show(say.own, this.units);
      if (asked) this.result.focus();
      const overhangs = say.own.directions.map((d) => `${words.swatch.alongs[d.direction].toLowerCase()} ${size(d.overhang[1], this.units)}`);
      this.host.say(words.swatch.say(formatGsm(say.own.arealMass, 1), overhangs.join(', ')));
    } else if (say.kind === 'failed') this.result.show(null, this.units, words.failed);
  }

  private save(): void {
    if (!this.figures) return;
    const file = saveFile(this.name, `${JSON.stringify(this.figures.form, null, 2)}\n`, 'material');
    this.result.say(words.swatch.saved(file));
  }

  private use(where: string): void {
    if (!this.figures) return;
    const [id, material] = Object.entries(this.figures.form.materials)[0];
    const used = this.host.use(id, material, where, this.figures.fused);
    if ('why' in used) {
      this.result.say(words.swatch.notUsed(used.why));
      return;
    }
    const said = words.swatch.used(id, this.host.state().bag.name, used.where);
    this.result.say(used.replaced ? `${said} ${words.swatch.replaced(id)}` : said, true);
  }
}
