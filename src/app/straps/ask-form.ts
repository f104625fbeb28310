import { type Field, selectField, textField } from '../bench/fields.ts';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import type { UnitChoice } from '../page/format.ts';
import { type Bag, strapFamily, strapNames } from './core.ts';
import { type Entry, filledStances, type Key, rangeOf } from './entry.ts';
import { chosenStance, FIGURES, type FigureKey, hangChoices } from './hung-from.ts';
import { Inside } from './inside.ts';
import { written } from './lengths.ts';
import type { Faults } from './read-entry.ts';
import { StrapSize } from './strap-size.ts';
import { words } from './words.ts';

const TYPED = ['diameter', 'slope', 'apart', 'load', 'from', 'to', 'steps', 'mesh', 'thread', 'stitches'] as const satisfies readonly Key[];
type Typed = (typeof TYPED)[number];
const CHOSEN = ['strap', 'option', 'stance', 'alone', 'like'] as const satisfies readonly Key[];
/** Those in the fold. */
const FOLDED = ['steps', 'mesh', 'thread', 'stitches'] as const satisfies readonly Typed[];
const ALL_FIGURES = ['diameter', 'slope', 'apart'] as const satisfies readonly FigureKey[];

export interface AskHost {
  readonly change: (part: Partial<Entry>) => void;
  readonly run: () => void;
  readonly form: () => BagForm;
  /** Takes an edited form into the bag, under these words in the history. */ readonly edit: (form: BagForm, what: string) => void;
  /** Puts the chosen strap's anchors somewhere else. Null, or why they cannot lie there. */ readonly put: (distance: number, written: string) => string | null;
}

/** What is asked: the strap, what it hangs from, what is inside, how far apart. */
export class AskForm {
  readonly element: HTMLElement;
  readonly size: StrapSize;
  private readonly fields: Readonly<Record<Typed, Field>>;
  private readonly choices;
  private readonly inside: Inside;
  private readonly fold: HTMLDetailsElement;
  constructor(host: AskHost, buttons: readonly HTMLElement[]) {
    const field = (key: Typed, label: string, hint = ''): Field => textField(label, hint, { report: (value) => host.change({ [key]: value }) }, `hang-${key}`);
    const choice = (key: (typeof CHOSEN)[number], label: string, name: string) => selectField(label, [], (value) => host.change({ [key]: value }), name);
    this.choices = {
      strap: choice('strap', words.strap, 'strap'),
      option: choice('option', words.option, 'hang-option'),
      stance: choice('stance', words.hung, 'hang-stance'),
      alone: choice('alone', words.alone, 'hang-alone'),
      like: choice('like', words.like, 'hang-like'),
    };
    this.fields = {
      diameter: field('diameter', words.figures.diameter),
      slope: field('slope', words.figures.slope),
      apart: field('apart', words.figures.apart),
      load: field('load', words.load, words.loadHint),
      from: field('from', words.from),
      to: field('to', words.to),
      steps: field('steps', words.steps),
      mesh: field('mesh', words.mesh, words.meshHint),
      thread: field('thread', words.thread, words.threadHint),
      stitches: field('stitches', words.stitches),
    };
    this.size = new StrapSize(host);
    this.inside = new Inside((things) => host.change({ things }));
    for (const f of Object.values(this.fields)) f.input.addEventListener('keydown', (e) => e.key === 'Enter' && host.run());
    const { diameter, slope, apart, load, from, to } = this.fields;
    const { strap, option, stance, alone, like } = this.choices;
    const pair = (...of: readonly HTMLElement[]): HTMLElement => h('div', { class: 'field-pair' }, ...of);
    this.fold = h('details', { class: 'bench-more' }, h('summary', {}, words.more), ...FOLDED.map((key) => this.fields[key].element));
    this.element = h(
      'div',
      { class: 'bench-form straps-form' },
      h('h2', {}, words.title),
      h('p', { class: 'bench-how' }, words.how),
      strap.element,
      this.size.element,
      option.element,
      stance.element,
      pair(diameter.element, slope.element, apart.element),
      alone.element,
      like.element,
      load.element,
      this.inside.element,
      h('p', { class: 'straps-things-name straps-distances' }, words.distances),
      pair(from.element, to.element),
      // Of both: it takes the whole width.
      to.hint,
      this.fold,
      h('div', { class: 'bench-run' }, ...buttons),
    );
  }

  /** Everything from the bag and the entry; typed fields are only written to when they say something else. */
  show(bag: Bag, e: Entry, faults: Faults | null, units: UnitChoice): void {
    const named = (list: readonly string[]) => list.map((value) => ({ value, label: value }));
    const stance = chosenStance(bag, e.stance);
    const family = strapFamily(bag, e.strap).filter((s) => e.stance === '' || stance.straps.includes(s.name) || s.name === e.alone);
    this.choices.strap.offer(named(strapNames(bag)));
    this.choices.option.offer(named(bag.options.map((o) => o.name)));
    this.choices.stance.offer(hangChoices(bag));
    this.choices.alone.offer([{ value: '', label: words.all }, ...family.map((s) => ({ value: s.name, label: words.one(s.name) }))]);
    const filled = filledStances(bag);
    this.choices.like.offer([{ value: '', label: words.empty }, ...filled.map((s) => ({ value: s.name, label: words.likeStance(s.name) }))]);
    this.choices.like.element.hidden = filled.length === 0;
    this.choices.alone.element.hidden = bag.straps.length < 2 && e.alone === '';
    for (const key of CHOSEN) this.choices[key].select.value = e[key];
    for (const key of ['stance', 'alone'] as const) this.choices[key].fault(faults?.[key] ?? null);
    this.size.show(bag, e.strap, units);
    for (const key of ALL_FIGURES) this.fields[key].element.hidden = !FIGURES[stance.from].includes(key);
    this.fields.diameter.hint.textContent = words.thick[stance.from];
    for (const key of TYPED) {
      const { input, fault } = this.fields[key];
      if (input.value !== e[key]) input.value = e[key];
      fault(faults?.[key] ?? null);
    }
    this.inside.show(e.things);
    const range = rangeOf(bag, e.strap);
    this.fields.to.hint.textContent = range ? words.range(written(range.from, units), written(range.to, units)) : '';
    // A fault must not be hidden behind a closed fold.
    if (FOLDED.some((key) => faults?.[key])) this.fold.open = true;
  }

  /** Why the bag could not be hung as asked, beside the fields it is about; null: it could. */
  refused(by: { readonly things: string | null; readonly strap: string | null; readonly stance: string | null } | null): void {
    this.inside.fault(by?.things ?? null);
    this.size.refused(by?.strap ?? null);
    if (by?.stance) this.choices.stance.fault(by.stance);
  }

  /** To the first field that is wrong. */
  focusFault(): void {
    this.element.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }
}
