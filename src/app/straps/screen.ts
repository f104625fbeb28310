import '../style/bench.css';
import '../style/bench-fields.css';
import '../style/bench-readout.css';
import '../style/bench-own.css';
import '../style/bench-narrow.css';
import '../style/straps.css';
import type { BagForm } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import { told, type UnitChoice } from '../page/format.ts';
import type { State } from '../page/store.ts';
import type { HandlesHost } from './anchor-handles.ts';
import { AskForm } from './ask-form.ts';
import { printCard, saveCard, saveCorners } from './card.ts';
import { type Bag, formatMm, type HangReport, type Paper, stitchReference, strapFamily, strapNames } from './core.ts';
import { changed, type Entry, entryFor, followed, inUnits } from './entry.ts';
import { written } from './lengths.ts';
import { NoStraps } from './no-straps.ts';
import { cannotLie, distancesOf, hungKey, putAt } from './place.ts';
import { type Ready, read } from './read-entry.ts';
import { ResultView } from './result.ts';
import { distance, refusedFor, stateOf } from './result-words.ts';
import { strapsRunner } from './runner.ts';
import { type Drafted, Unhung } from './unhung.ts';
import { words } from './words.ts';

export interface StrapsHost {
  readonly state: () => State;
  readonly listen: (listener: (state: State, before: State) => void) => void;
  readonly say: (line: string) => void;
  /** Takes an edited form into the bag, under these words in the history. */ readonly change: (form: BagForm, what: string) => void;
  /** The bag there is, drafted, and where the anchors of this strap can lie; null where it cannot be drawn. */
  readonly draft: (strap: string) => Promise<Drafted | null>;
}

/** The screen "Where do the straps go?": choices at the left, the plot and its figures at the right, the card to print. */
export class StrapsScreen {
  private readonly runner = strapsRunner();
  private readonly result: ResultView;
  private readonly form: AskForm;
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
  private units: UnitChoice;
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
    const { bag, columns, editing, stance, preferences } = host.state();
    this.units = preferences.units;
    this.entry = entryFor(bag, null, columns[editing].option, stance, this.units);
    const hand: HandlesHost = {
      put: (d) => this.move(d, written(d, this.units)) === null,
      beyond: (now) => this.form.size.placeFault(now ? cannotLie(this.bag, this.entry.strap, Number.MAX_VALUE, this.units) : null),
    };
    this.result = new ResultView((i) => this.chose(i), hand);
    this.unhung = new Unhung(host.draft, hand);
    this.none = new NoStraps(host);
    const asked = {
      change: (part: Partial<Entry>) => this.change(part),
      run: () => this.run(),
      form: () => host.state().form,
      edit: host.change,
      put: (d: number, as: string) => this.move(d, as),
    };
    this.form = new AskForm(asked, [this.runButton, this.stopButton]);
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
    this.body = h(
      'div',
      { class: 'straps-body' },
      this.form.element,
      h('div', { class: 'straps-view' }, this.status, this.stale, this.unhung.element, this.result.element, this.uneven, this.actions),
    );
    place.replaceChildren(this.none.element, this.body);
    host.listen((now, before) => {
      const { units } = now.preferences;
      if (now.bag !== before.bag) this.entry = followed(before.bag, now.bag, this.entry, now.columns[now.editing].option, now.stance, this.units);
      if (units !== this.units) {
        const typed = this.shown && JSON.stringify(this.entry) === this.shown.typed;
        this.entry = inUnits(this.entry, this.units, units);
        // The same figures in another unit are no other question.
        if (this.shown && typed) this.shown = { ...this.shown, typed: JSON.stringify(this.entry) };
        this.units = units;
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
    this.entry = changed(this.bag, this.entry, part, this.units);
    this.update();
  }

  /** Where both anchors of the strap are now, m; null where its ends lie unlike. */
  private get now(): number | null {
    const apart = distancesOf(this.bag, this.entry.strap);
    return apart.length === 1 ? apart[0] : null;
  }

  /** Puts the chosen strap's anchors somewhere else. Null, or why they cannot lie there. */
  private move(d: number, as: string): string | null {
    const { strap } = this.entry;
    const before = this.bag;
    const why = cannotLie(before, strap, d, this.units);
    if (why === null && this.now !== null && Math.abs(this.now - d) < 1e-5) return null;
    if (why === null) this.host.change(putAt(this.host.state().form, before, strap, as), words.putDone(strap, as));
    const refused = why ?? (this.bag === before ? words.notPlaced : null);
    this.form.size.placeFault(refused);
    return refused;
  }

  private update(): void {
    const { bag, units } = this;
    // What another bag was hung with says nothing of the one that is open now.
    if (this.shown && this.shown.ready.bag.name !== bag.name) this.shown = null;
    const straps = strapNames(bag);
    this.none.show(straps.length > 0 ? null : this.host.state());
    this.body.hidden = straps.length === 0;
    if (straps.length === 0) return;
    this.form.show(bag, this.entry, read(bag, this.entry, units).faults, units);
    const { now } = this;
    const own = this.shown?.report.anchors.strap === this.entry.strap ? now : null;
    this.result.show(this.shown?.report ?? null, this.shown?.ready.ask.bag ?? null, units, this.coming, own);
    this.unhung.show(this.shown === null ? JSON.stringify([bag.panels, bag.seams, bag.straps]) : null, this.entry.strap, units, now);
    const sameBag = this.shown !== null && (this.standing >= 0 || hungKey(this.shown.ready.bag) === hungKey(bag));
    const same = sameBag && this.shown!.typed === JSON.stringify(this.entry);
    this.form.refused(same ? refusedFor(this.shown!.report.anchors.drawn.step, units) : null);
    this.stale.hidden = this.shown === null || same;
    this.actions.hidden = !sameBag || this.coming;
    this.chose(this.result.chosen);
  }

  private chose(_: number): void {
    const apart = this.shown ? distancesOf(this.bag, this.shown.report.anchors.strap) : [];
    const { units } = this;
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
    const { ready } = read(bag, this.entry, this.units);
    if (!ready) {
      this.form.focusFault();
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
        else if (say.kind === 'faults')
          this.tell(`${words.faults} ${told(say.faults.map((f) => `${f.path}: ${f.got}; ${f.expected}`).join('; '), this.units)}`);
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
    // Written in millimetres whatever the units: a sixteenth of an inch would move it off the place that was hung.
    this.host.change(putAt(this.host.state().form, before, strap, formatMm(step.distance)), words.putDone(strap, written(step.distance, this.units)));
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
