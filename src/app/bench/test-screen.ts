import { droopingStrip } from '../line-up/drooping-strip.ts';
import { h, refill } from '../page/dom.ts';
import type { State } from '../page/store.ts';
import { clothLook } from '../view/palette.ts';
import { type Cloth, clothsOf } from './cloths.ts';
import { materialBands } from './core.ts';
import { marksOf, overhangOf, size } from './dimensions.ts';
import { type Faults, type Ready, readEntry, type TestEntry } from './entries.ts';
import { learnWords } from './learn-words.ts';
import { type Ghost, Picture } from './picture.ts';
import { Predict } from './predict.ts';
import { FRAME, type Piece, type Reading, type Say, SLOWER } from './protocol.ts';
import { Readout, spoken } from './readout.ts';
import { benchRunner } from './runner.ts';
import { Scene } from './scene.ts';
import { TestForm } from './test-form.ts';
import { TestTake } from './test-take.ts';
import { inOwnUnit } from './typed-length.ts';
import { words } from './words.ts';

export interface TestHost {
  readonly state: () => State;
  readonly calm: () => boolean;
  readonly say: (line: string) => void;
  readonly keep: (entry: TestEntry) => void;
}

/** After a change the solver waits for the hand to rest, ms; theory does not wait. */
const REST = 350;
/** Between two frames of a fall as it is shown, ms. */
const BEAT = 1000 * FRAME * SLOWER;

/** "Test a material": choices at the left, the piece on the mat, the reading beside it. */
export class TestScreen {
  readonly element: HTMLElement;
  private readonly runner = benchRunner();
  private readonly picture = new Picture();
  private readonly readout = new Readout(() => this.finer());
  private readonly form: TestForm;
  private readonly predict = new Predict((are) => this.hide(are));
  private unseen = false;
  private readonly take = new TestTake();
  private readonly again = h('button', { type: 'button', class: 'mat-button', onclick: () => this.run(true) }, words.again);
  private readonly caption = h('span', { class: 'bench-caption' });
  private readonly legend = h('span', { class: 'bench-legend' });
  private cloths: readonly Cloth[] = [];
  private clothsFor = '';
  private ready: Ready | null = null;
  private shown: { readonly reading: Reading; readonly piece: Piece; readonly x: Float32Array; readonly ready: Ready } | null = null;
  private queue: Float32Array[] = [];
  private ended = true;
  private playing = 0;
  private timer = 0;
  private since = 0;
  private steps = 0;
  private frames = 0;
  private clock = 0;
  /** Unit that bare numbers were typed in. */ private typedIn: State['preferences']['units'];
  constructor(
    private readonly host: TestHost,
    private entry: TestEntry,
  ) {
    this.typedIn = host.state().preferences.units;
    this.form = new TestForm({ change: (part) => this.change(part), run: () => this.run(true), stop: () => this.stop() });
    const mat = h('div', { class: 'bench-view' }, this.picture.element, h('div', { class: 'bench-bar' }, this.caption, this.legend, this.again));
    this.form.element.querySelector('.bench-how')!.after(this.predict.element);
    this.readout.element.append(this.take.element);
    this.element = h('div', { class: 'bench-test' }, this.form.element, mat, this.readout.element);
  }

  /** Called whenever the page's state changes: the bag's own materials and the units may have. */
  update(): void {
    const { units } = this;
    if (units !== this.typedIn) {
      // What was typed stays the length that it was.
      const [before, now] = [this.typedIn, units].map((u) => (u === 'inch' ? u : 'metric'));
      const own = (typed: string): string => inOwnUnit(typed, before, now);
      this.entry = { ...this.entry, length: own(this.entry.length), mesh: own(this.entry.mesh), rigidity: own(this.entry.rigidity) };
      this.typedIn = units;
      this.host.keep(this.entry);
    }
    this.refresh();
    if (this.shown) this.finish();
  }

  /** First showing: tests what stands in the fields. */
  begin(): void {
    this.refresh();
    if (!this.shown && !this.runner.running) this.run(false);
  }

  use(material: string): void {
    this.change({ material, from: 'material', stiffer: 0, heavier: 0, band: 'mid' });
  }

  private get units(): State['preferences']['units'] {
    return this.host.state().preferences.units;
  }

  private change(part: Partial<TestEntry>): void {
    this.entry = { ...this.entry, ...part };
    this.host.keep(this.entry);
    this.refresh();
    this.readout.stale(this.readout.hasReading);
    clearTimeout(this.timer);
    if (this.ready) this.timer = window.setTimeout(() => this.run(false), REST);
    else this.stop(words.faulty);
  }

  /** Fields, faults and what theory says at once. */
  private refresh(): void {
    const { bag } = this.host.state();
    const key = `${this.entry.band} ${JSON.stringify(bag.materials)}`;
    if (key !== this.clothsFor) {
      this.clothsFor = key;
      this.cloths = clothsOf(bag, this.entry.band);
    }
    const read = readEntry(this.entry, this.cloths, this.units);
    const faults: Faults = 'faults' in read ? read.faults : {};
    this.ready = 'faults' in read ? null : read;
    this.form.update(this.entry, this.cloths, this.ready, faults, this.units);
    this.readout.showInstant(this.ready, this.units);
    this.predict.update(this.ready, this.units);
    const stale = this.isStale;
    if (stale) {
      this.caption.textContent = words.stale;
      this.take.show(null, '', this.units);
    }
    const { still } = words.tests[this.entry.test];
    const lines = [...(still || this.entry.test === 'drape' ? [] : (['start'] as const)), ...(this.entry.test === 'cantilever' ? (['theory'] as const) : [])];
    refill(this.legend, ...lines.map((line) => h('span', { class: `legend-${line}` }, words.legend[line])));
    this.picture.set({ ghost: this.ghost(), units: this.units, stale, ...(stale ? { marks: [] } : {}) });
  }

  /** The strip as theory bends it, drawn before the solver has anything to say. */
  private ghost(): Ghost | null {
    if (!this.ready || this.entry.test !== 'cantilever') return null;
    const { sheet, ask, length } = this.ready;
    const { points } = droopingStrip(overhangOf(sheet, ask.cut), length);
    return { points: points.map(([x, y]) => [x * length, -y * length] as const), label: words.dims.theory };
  }

  /** The same with edges seven tenths as long. */
  private finer(): void {
    if (this.ready) this.change({ mesh: size(0.7 * this.ready.ask.mesh, this.units === 'both' ? 'metric' : this.units) });
  }

  /** Figures and picture out of sight while a student has not written down what she expects: either gives the answer away. */
  private hide(are: boolean): void {
    this.unseen = are;
    this.readout.element.classList.toggle('unseen', are);
    this.picture.element.classList.toggle('unseen', are);
    this.picture.element.dataset.words = are ? learnWords.hidden : '';
  }

  private scene(piece: Piece, ready: Ready): Scene {
    const id = ready.cloth?.id ?? null;
    const own = this.host.state().bag.materials.find((m) => m.id === id);
    const like = own?.like ?? id;
    return new Scene(ready.ask.test, piece, clothLook(like, (like && materialBands(like)?.family) || 'canvas and duck'));
  }

  private run(asked: boolean): void {
    clearTimeout(this.timer);
    if (!this.ready) {
      if (asked) this.form.element.querySelector<HTMLElement>('[aria-invalid]')?.focus();
      return;
    }
    const { ready } = this;
    this.halt();
    this.since = performance.now();
    this.steps = 0;
    this.frames = 0;
    this.form.busy(true);
    this.clock = window.setInterval(() => this.readout.working(this.since, this.steps), 250);
    this.readout.working(this.since, 0);
    this.element.dataset.state = 'running';
    this.runner.ask({ what: 'test', ...ready.ask, watch: !this.host.calm() }, (say) => this.hear(say, ready));
  }

  private hear(say: Say, ready: Ready): void {
    if (say.kind === 'piece') {
      this.shown = null;
      this.picture.set({ scene: this.scene(say.piece, ready), x: say.piece.start, rest: null, marks: [], stale: false });
      this.caption.textContent = words.steps;
      this.ended = false;
      this.play();
    } else if (say.kind === 'step') {
      this.steps = say.count;
      this.queue.push(say.x);
    } else if (say.kind === 'result') {
      clearInterval(this.clock);
      this.shown = { reading: say.reading, piece: say.piece, x: say.x, ready };
      // The fields may have changed while it settled.
      this.readout.stale(this.isStale);
      this.readout.show(say.reading, ready, this.units);
      this.predict.read(say.reading);
      this.readout.say('');
      this.element.dataset.result = String(Number(this.element.dataset.result ?? 0) + 1);
      if (!this.unseen) this.host.say(spoken(words.tests[say.reading.test].title, ready.cloth?.name ?? words.froms.figures, say.reading, this.units));
      const stepwise = ready.ask.test === 'drape';
      if (!stepwise) {
        this.picture.set({ scene: this.scene(say.piece, ready), x: this.host.calm() ? say.x : say.piece.start, rest: say.x, marks: [], stale: false });
        this.ended = false;
        this.caption.textContent = this.host.calm() || words.tests[ready.ask.test].still ? '' : words.slower(SLOWER);
        this.play();
      } else if (this.host.calm()) this.picture.set({ scene: this.scene(say.piece, ready), x: say.x, rest: say.x, stale: false });
    } else if (say.kind === 'fall') {
      if (say.x) {
        this.queue.push(say.x);
        this.frames++;
      } else {
        this.element.dataset.frames = String(this.frames);
        this.ended = true;
        this.play();
      }
    } else if (say.kind === 'failed' || say.kind === 'faults') {
      this.halt();
      this.readout.say(words.failed);
      this.host.say(words.failed);
      this.element.dataset.state = 'failed';
    }
  }

  /** Plays what the worker has sent, at the pace that the caption names whatever the screen's own beat, and draws the dimensions when it lies still. */
  private play(): void {
    if (this.playing) return;
    let last = performance.now();
    const next = (now: number): void => {
      // A slow screen leaves pictures out, a fast one waits; never more than a moment's worth after a pause.
      const due = Math.min(Math.floor((now - last) / BEAT), 30);
      if (due > 0) {
        last = Math.max(last + due * BEAT, now - BEAT);
        const x = this.queue.splice(0, due).pop();
        if (x) this.picture.set({ x });
        else if (this.ended) {
          this.playing = 0;
          this.finish();
          return;
        }
      }
      this.playing = requestAnimationFrame(next);
    };
    this.playing = requestAnimationFrame(next);
  }

  private finish(): void {
    if (!this.shown || !this.ended || this.playing) return;
    const { reading, piece, x, ready } = this.shown;
    const stale = this.isStale;
    const settled = reading.status === 'settled';
    const marks = stale || !settled ? [] : marksOf(reading, piece, x, this.units);
    const test = words.tests[reading.test];
    this.picture.set({
      x,
      rest: x,
      marks,
      label: this.unseen ? learnWords.hidden : words.picture(test.title, this.element.querySelector('.readout-result .readout-main')?.textContent ?? ''),
    });
    this.readout.show(reading, ready, this.units);
    this.take.show(stale || !settled ? null : this.shown, words.bands[this.entry.band], this.units);
    this.caption.textContent = stale ? words.stale : settled ? words.atRest : words.statuses[reading.status];
    this.form.busy(false);
    this.element.dataset.state = 'rest';
  }

  /** Ends what runs and what plays, without a word. */
  private halt(): void {
    this.runner.stop();
    clearInterval(this.clock);
    cancelAnimationFrame(this.playing);
    this.playing = 0;
    this.queue = [];
    this.ended = true;
    this.form.busy(false);
  }

  /** Ends the solver; what has been read already is shown at rest at once. `why`: words for it other than that it was stopped. */
  private stop(why?: string): void {
    const { running } = this.runner;
    const unread = running && !this.shown;
    const busy = running || this.playing !== 0;
    this.halt();
    if (why) this.readout.say(why);
    if (!busy) return;
    if (unread || (this.shown && this.isStale)) {
      this.readout.say(why ?? words.stopped);
      this.host.say(why ?? words.stopped);
      this.element.dataset.state = 'stopped';
      this.caption.textContent = this.shown ? words.stale : words.stopped;
    } else this.finish();
  }

  /** What is shown belongs to fields that have changed since. */
  private get isStale(): boolean {
    return this.shown !== null && (this.ready === null || JSON.stringify(this.shown.ready.ask) !== JSON.stringify(this.ready.ask));
  }
}
