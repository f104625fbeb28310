import '../style/bench.css';
import '../style/bench-fields.css';
import '../style/bench-readout.css';
import '../style/bench-own.css';
import '../style/bench-narrow.css';
import '../style/straps.css';
import { selectField, textField } from '../bench/fields.ts';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import { printCard, saveCard, saveCorners } from './card.ts';
import { type Bag, formatMm, type HangReport, type Paper, stitchReference, strapFamily, strapNames, usualDistances } from './core.ts';
import { type Entry, entryFor, type Key, type Ready, rangeOf, read, statedLoad } from './entry.ts';
import { hangChoices } from './hung-from.ts';
import { NoStraps } from './no-straps.ts';
import { distancesOf, hungKey, putAt } from './place.ts';
import { distance, ResultView, stateOf } from './result.ts';
import { strapsRunner } from './runner.ts';
import { StrapSize } from './strap-size.ts';
import { Unhung } from './unhung.ts';
import { words } from './words.ts';

export interface StrapsHost {
  readonly state: () => State;
  readonly listen: (listener: (state: State, before: State) => void) => void;
  readonly say: (line: string) => void;
  /** Takes an edited form into the bag, under these words in the history. */ readonly change: (form: BagForm, what: string) => void;
  /** The bag there is, drafted, as an SVG; null where it cannot be drawn. */ readonly draft: () => Promise<string | null>;
}

const TYPED = ['load', 'from', 'to', 'steps', 'mesh', 'thread', 'stitches'] as const satisfies readonly Key[];

/** The screen "Where do the straps go?": choices at the left, the plot and its figures at the right, the card to print. */
export class StrapsScreen {
  private readonly runner = strapsRunner();
  private readonly result = new ResultView((i) => this.chose(i));
  private readonly strap = selectField(words.strap, [], (strap) => this.change({ strap }), 'strap');
  private readonly option = selectField(words.option, [], (option) => this.change({ option }), 'hang-option');
  private readonly stance = selectField(words.hung, [], (stance) => this.change({ stance }), 'hang-stance');
  private readonly size: StrapSize;
  private readonly fields;
  private readonly runButton = h('button', { type: 'button', class: 'plain strong', onclick: () => this.run() }, words.run);
  private readonly stopButton = h('button', { type: 'button', class: 'plain', hidden: true, onclick: () => this.stop() }, words.stop);
  private readonly status = h('p', { class: 'straps-status', role: 'status' });
  private readonly stale = h('p', { class: 'stale-note', hidden: true }, words.stale);
  private readonly uneven = h('p', { class: 'faint', hidden: true });
  private readonly putButton = h('button', { type: 'button', class: 'plain', onclick: () => this.put() }, words.put);
  private readonly placedNote = h('p', { class: 'straps-placed', role: 'status' });
  private readonly actions: HTMLElement;
  private readonly body: HTMLElement;
  private readonly none: NoStraps;
  private readonly unhung: Unhung;
  private entry: Entry;
  /** What the figures shown were hung with. */ private shown: { readonly report: HangReport; readonly ready: Ready; readonly typed: string } | null = null;
  /** Bags made of the one that was hung by putting its straps at a step of it: the figures shown are theirs as well. */
  private readonly placed = new Map<string, number>();
  /** Not every distance is hung yet. */ private coming = false;
  private since = 0;
  private stage = '';
  constructor(
    place: HTMLElement,
    private readonly host: StrapsHost,
  ) {
    const { bag, columns, editing, stance } = host.state();
    this.entry = entryFor(bag, null, columns[editing].option, stance);
    this.unhung = new Unhung(host.draft);
    this.none = new NoStraps(host);
    this.size = new StrapSize({ form: () => host.state().form, change: host.change });
    const field = (key: (typeof TYPED)[number], label: string, hint = '') =>
      textField(label, hint, { report: (value) => this.change({ [key]: value }) }, `hang-${key}`);
    this.fields = {
      load: field('load', words.load, words.loadHint),
      from: field('from', words.from, words.distanceHint),
      to: field('to', words.to),
      steps: field('steps', words.steps),
      mesh: field('mesh', words.mesh, words.meshHint),
      thread: field('thread', words.thread, words.threadHint),
      stitches: field('stitches', words.stitches),
    };
    for (const f of Object.values(this.fields)) f.input.addEventListener('keydown', (e) => e.key === 'Enter' && this.run());
    const button = (label: string, act: () => void): HTMLElement => h('button', { type: 'button', class: 'plain', onclick: act }, label);
    this.actions = h(
      'div',
      { class: 'straps-actions', hidden: true },
      this.putButton,
      button(words.print, () => this.print()),
      button(words.save, () => this.save()),
      ...(['a4', 'letter'] as const).map((paper) => button(words.corner(words.papers[paper]), () => this.corners(paper))),
      this.placedNote,
    );
    const { load, from, to, steps, mesh, thread, stitches } = this.fields;
    const form = h(
      'div',
      { class: 'bench-form straps-form' },
      h('h2', {}, words.title),
      h('p', { class: 'bench-how' }, words.how),
      ...[this.strap, this.size, this.option, this.stance, load, from, to].map((f) => f.element),
      h('details', { class: 'bench-more' }, h('summary', {}, words.more), ...[steps, mesh, thread, stitches].map((f) => f.element)),
      h('div', { class: 'bench-run' }, this.runButton, this.stopButton),
    );
    this.body = h(
      'div',
      { class: 'straps-body' },
      form,
      h('div', { class: 'straps-view' }, this.status, this.stale, this.unhung.element, this.result.element, this.uneven, this.actions),
    );
    place.replaceChildren(this.none.element, this.body);
    host.listen((now, before) => {
      if (now.bag !== before.bag) {
        const { load, stance } = this.entry;
        // A load that nobody typed follows the bag file's.
        const asWritten = load === statedLoad(before.bag, stance);
        const next = entryFor(now.bag, this.entry, now.columns[now.editing].option, now.stance);
        this.entry = asWritten ? { ...next, load: statedLoad(now.bag, next.stance) } : next;
      }
      if (now.bag !== before.bag || now.preferences !== before.preferences) this.update();
    });
    setInterval(() => this.tick(), 500);
    this.update();
  }

  private get bag(): Bag {
    return this.host.state().bag;
  }

  private change(part: Partial<Entry>): void {
    // A stance brings the load it is named for.
    const next = { ...this.entry, ...(part.stance === undefined ? {} : { load: statedLoad(this.bag, part.stance) }), ...part };
    // Another strap has another range.
    this.entry = part.strap === undefined ? next : { ...entryFor(this.bag, { ...next, from: '', to: '' }, next.option), ...this.rangeText(next.strap) };
    this.update();
  }

  private rangeText(strap: string): { from: string; to: string } {
    const range = usualDistances(this.bag, strap);
    return range ? { from: formatMm(range.from, 0), to: formatMm(range.to, 0) } : { from: '', to: '' };
  }

  /** Everything from the state and the entry; typed fields are only written to when they say something else. */
  private update(): void {
    const { bag } = this;
    const { units } = this.host.state().preferences;
    // What another bag was hung with says nothing of the one that is open now.
    if (this.shown && this.shown.ready.bag.name !== bag.name) this.shown = null;
    const straps = strapNames(bag);
    this.none.show(straps.length > 0 ? null : this.host.state());
    this.body.hidden = straps.length === 0;
    if (straps.length === 0) return;
    const named = (list: readonly string[]) => list.map((value) => ({ value, label: value }));
    this.strap.offer(named(straps));
    this.option.offer(named(bag.options.map((o) => o.name)));
    this.stance.offer(hangChoices(bag));
    this.size.show(bag, this.entry.strap, units);
    this.strap.select.value = this.entry.strap;
    this.option.select.value = this.entry.option;
    this.stance.select.value = this.entry.stance;
    for (const key of TYPED) if (this.fields[key].input.value !== this.entry[key]) this.fields[key].input.value = this.entry[key];
    const { faults } = read(bag, this.entry);
    for (const key of TYPED) this.fields[key].fault(faults?.[key] ?? null);
    const range = rangeOf(bag, this.entry.strap);
    this.fields.to.hint.textContent = range ? words.range(distance(range.from, units), distance(range.to, units)) : '';
    this.result.show(this.shown?.report ?? null, this.shown?.ready.ask.bag ?? null, units, this.coming);
    // A fault must not be hidden behind a closed fold.
    if (faults?.steps || faults?.mesh || faults?.thread || faults?.stitches) this.body.querySelector('details')!.open = true;
    this.unhung.show(this.shown === null ? JSON.stringify([bag.panels, bag.seams, bag.straps]) : null);
    const sameBag = this.shown !== null && (this.standing >= 0 || hungKey(this.shown.ready.bag) === hungKey(bag));
    this.stale.hidden = this.shown === null || (sameBag && this.shown.typed === JSON.stringify(this.entry));
    this.actions.hidden = !sameBag || this.coming;
    this.chose(this.result.chosen);
  }

  private chose(_: number): void {
    const apart = this.shown ? distancesOf(this.bag, this.shown.report.anchors.strap) : [];
    const { units } = this.host.state().preferences;
    this.uneven.hidden = apart.length < 2 || this.result.chosen < 0 || this.actions.hidden;
    this.uneven.textContent = words.uneven(apart.map((d) => distance(d, units)).join(words.and));
    // As drawn there is nothing to put anywhere, nor where they stand already. Not disabled: a button that switches itself off would drop the focus.
    const { standing } = this;
    this.putButton.setAttribute('aria-disabled', String(this.result.chosen < 0 || this.result.chosen === standing));
    const step = this.shown?.report.anchors.steps[standing];
    const state = step && this.shown && !step.level ? stateOf(step, this.shown.report.anchors.limits) : null;
    const line = step ? words.placed(distance(step.distance, units), state) : '';
    if (this.placedNote.textContent !== line) this.placedNote.textContent = line;
  }

  /** Which step the straps stand at since they were put there; -1: they are as hung, or somewhere else. */
  private get standing(): number {
    return this.placed.get(hungKey(this.bag)) ?? -1;
  }

  private run(): void {
    const { bag } = this;
    const { ready } = read(bag, this.entry);
    if (!ready) {
      const first = TYPED.find((key) => this.fields[key].input.getAttribute('aria-invalid') === 'true');
      if (first) this.fields[first].input.focus();
      return;
    }
    const typed = JSON.stringify(this.entry),
      { stitching } = ready,
      patch = strapFamily(bag, ready.ask.strap)[0].anchors[0],
      stitched = stitching && { ...stitching, reference: stitchReference(patch, stitching) };
    this.running(true);
    this.result.begin();
    this.runner.ask(ready.ask, (say) => {
      if (say.kind === 'stage') {
        this.stage = say.words;
        this.tick();
      } else if (say.kind === 'anchors') {
        if (!this.coming) this.placed.clear();
        this.coming = !say.whole;
        this.shown = { ready, typed, report: { anchors: say.anchors, load: null, stitching: stitched } };
        this.update();
      } else if (say.kind === 'changes' || say.kind === 'load') this.add(say.kind === 'load' ? { load: say.load } : { changes: say.changes });
      else {
        this.running(false);
        if (say.kind === 'failed') this.tell(words.failed(say.message));
        else if (say.kind === 'faults') this.tell(`${words.faults} ${say.faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`).join('; ')}`);
        else if (this.shown) {
          const { anchors, load, changes } = this.shown.report;
          this.tell(words.done(1 + anchors.steps.length + (load?.steps.length ?? 0) + (changes?.length ?? 0)));
        }
      }
    });
  }

  /** What comes after the distances. */
  private add(part: Pick<HangReport, 'changes'> | Pick<HangReport, 'load'>): void {
    if (!this.shown) return;
    this.shown = { ...this.shown, report: { ...this.shown.report, ...part } };
    this.update();
  }

  private stop(): void {
    this.runner.stop();
    this.running(false);
    this.update();
    this.tell(words.stopped);
    this.runButton.focus();
  }

  private running(now: boolean): void {
    if (!now) this.coming = false;
    this.since = now ? performance.now() : 0;
    this.stage = words.starting;
    this.stopButton.hidden = !now;
    this.runButton.setAttribute('aria-disabled', String(now));
    this.body.dataset.running = String(now);
    this.tick();
  }

  private tick(): void {
    if (this.since > 0) this.status.textContent = words.running(this.stage, Math.round((performance.now() - this.since) / 1000));
  }

  private tell(line: string): void {
    this.status.textContent = line;
  }

  private put(): void {
    const { chosen } = this.result;
    const step = this.shown?.report.anchors.steps[chosen];
    if (!step || !this.shown || chosen === this.standing) return;
    const { strap } = this.shown.report.anchors;
    const before = this.bag;
    // Millimetres whatever the units: a sixteenth of an inch would move it off the place that was hung.
    const d = formatMm(step.distance);
    this.host.change(putAt(this.host.state().form, before, strap, d), words.putDone(strap, d));
    if (this.bag === before) {
      this.placedNote.textContent = words.notPlaced;
      return;
    }
    this.placed.set(hungKey(this.bag), chosen);
    this.update();
  }

  private print(): void {
    if (this.shown) printCard(this.shown.ready.ask.bag, this.shown.report, this.result.chosen);
  }

  private save(): void {
    if (this.shown) this.host.say(words.saved(saveCard(this.shown.ready.ask.bag, this.shown.report, this.result.chosen)));
  }

  private corners(paper: Paper): void {
    if (this.shown) this.host.say(words.saved(saveCorners(this.shown.ready.ask.bag, this.shown.report, this.result.chosen, paper).join(', ')));
  }
}
