import type { Bag, BagMesh, Result } from '../core.ts';
import { type Column, EDGE, type Fineness, type Store } from '../page/store.ts';
import { text } from '../page/text.ts';
import { movedStraps, withHandlesUp } from '../view/hanging-straps.ts';
import type { Subject } from '../view/picture.ts';
import { endsToAsk, firmFirst, inputKey, judged, whole } from './columns.ts';
import { leadOf } from './figures.ts';
import type { BayPictures, Memory } from './line-up-needs.ts';
import { type Heard, Solvers } from './solver-pool.ts';
import type { Ask, DrawnStrap } from './solver-protocol.ts';
import { movingSubject, subjectOf, subjectOfResult } from './subjects.ts';
import { Weights } from './weights.ts';

/** The live fall wants thirty steps a second, hence a coarser mesh. */
const FALL_EDGE = 0.018;
/** Pause before solving after a change of sizes, straps or stances, ms (a maker types two digits, not two bags), and after one of stacks, which are mostly chosen from lists. */
const [PAUSE, CHOSEN] = [350, 40];
/** How long the solvers wait at most for a drawing of the bag, ms, and what stands for it among what is waited for. */
const LATEST = 2500;
const DRAWING = 'drawing';

/** Results kept beside the ones shown, so that an undo finds its figures again. About half a megabyte each. */
const MOST_KEPT = 12;

/** Runs the solver for each option when its inputs change, and keeps pictures and columns up to date. */
export class LineUp {
  private readonly solvers = new Solvers();
  private readonly jobs = new Map<string, { readonly job: number; readonly key: string }>();
  /** What the whole bands shown belong to, and the middles. */
  private readonly done = new Map<string, string>();
  private readonly begun = new Map<string, string>();
  private readonly shown = new Map<string, Subject>();
  /** Straps of what falls. */ private readonly falling = new Map<string, readonly DrawnStrap[]>();
  /** Options whose bay shows another shape than their result's: falling, or sewn anew. */ private readonly astray = new Set<string>();
  private readonly kept = new Map<string, Result>();
  /** Not settled here, by what they depend on: they came with the page, or out of a file. */
  private readonly shipped = new Map<string, Result>();
  private memory: Memory | null = null;
  /** Being looked up among what was settled before. */ private readonly recalling = new Map<string, Promise<void>>();
  private readonly weights: Weights;
  private timer = 0;
  /** Sizes, straps and stances as text, as they were at the last change. */ private typed = '';
  constructor(
    private readonly store: Store,
    private readonly pictures: BayPictures,
    private readonly calm: () => boolean,
  ) {
    this.weights = new Weights(store, this.solvers);
  }

  /** Takes results that came with the page or out of a file: they stand where that mesh is chosen; those of the quick one until the chosen mesh has settled. */
  foresee(bag: Bag, results: readonly Result[], fineness: Fineness = 'quick'): void {
    for (const result of results) {
      const key = inputKey(bag, result.option, result.stance, fineness);
      this.shipped.set(key, result);
      this.kept.delete(key);
    }
    this.refresh();
  }

  /** Lets go of all that was settled before, and settles the bag here. */
  settleAgain(): void {
    for (const known of [this.shipped, this.kept, this.done]) known.clear();
    this.refresh();
  }

  /** Whether the options shown now are all among those that came with the page, on whatever mesh. */
  private foreseen(): boolean {
    const { bag, columns, stance } = this.store.state;
    return columns.every((c) => this.shipped.has(inputKey(bag, c.option, stance, 'quick')));
  }

  /** Takes up what was settled at earlier visits, and shows what of it belongs to the bag. null: this browser keeps nothing. */
  remember(memory: Memory | null): void {
    this.memory = memory;
    const { bag, columns, stance, preferences } = this.store.state;
    for (const { option, result } of columns) if (result === null) this.recall(inputKey(bag, option, stance, preferences.fineness));
  }

  /** Whether every option shown is known without a solver: it came with the page, or was settled at an earlier visit. */
  async known(): Promise<boolean> {
    await Promise.all(this.recalling.values());
    return this.foreseen() || this.store.state.columns.every((c) => c.result !== null && !c.stale);
  }

  /** A bag that nobody has seen is drawn before anything weighs or settles: on two cores the picture would wait for the solvers. Not for ever. */
  drawFirst(shape: Promise<unknown>): void {
    const late = new Promise((done) => window.setTimeout(done, LATEST));
    const drawn = Promise.race([shape, late]).then(() => {
      this.recalling.delete(DRAWING);
      this.weights.update();
    });
    this.recalling.set(DRAWING, drawn);
  }

  /** Marks what has changed and solves it after a short pause. */
  refresh(): void {
    const { bag, columns, stance, preferences } = this.store.state;
    columns.forEach((column, i) => {
      const key = inputKey(bag, column.option, stance, preferences.fineness);
      const running = this.jobs.get(column.option);
      if (running && running.key !== key) this.stop(i, false);
      const under = column.partial && this.begun.get(column.option) === key;
      // A column taken away and brought back starts with nothing, whatever was done for it before.
      if (column.result === null) this.done.delete(column.option);
      const stale = column.result !== null && this.done.get(column.option) !== key && !under;
      const known = stale || column.result === null ? (this.kept.get(key) ?? this.shipped.get(key)) : undefined;
      const rough = column.result === null ? this.shipped.get(inputKey(bag, column.option, stance, 'quick')) : undefined;
      if (known) this.finish(column.option, key, known);
      else if (rough) this.begin(column.option, key, rough, true);
      else {
        if (stale !== column.stale) this.store.setColumn(i, { stale });
        if ((stale || column.result === null) && running?.key !== key) this.recall(key);
      }
    });
    if (!this.recalling.has(DRAWING)) this.weights.update();
    this.judgeAgain();
    for (const option of [...this.jobs.keys()]) {
      if (columns.some((c) => c.option === option)) continue;
      this.solvers.stop(this.jobs.get(option)!.job);
      this.jobs.delete(option);
    }
    const typed = JSON.stringify([bag.panels, bag.straps, bag.stances, stance]);
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.solve(false), typed === this.typed ? CHOSEN : PAUSE);
    this.typed = typed;
  }

  /** Solves every option whose result is missing or old; with `fall`, all of them, live from the stuffed bag. */
  solve(fall: boolean): void {
    clearTimeout(this.timer);
    if (this.recalling.size > 0 && !fall) {
      void Promise.all(this.recalling.values()).then(() => this.solve(fall));
      return;
    }
    const { bag, columns, stance, preferences } = this.store.state;
    for (const i of firmFirst(columns)) {
      const column = columns[i];
      const key = inputKey(bag, column.option, stance, preferences.fineness);
      const current = this.jobs.get(column.option)?.key === key || this.done.get(column.option) === key;
      if (current && !fall) continue;
      if (this.jobs.has(column.option)) this.stop(i, false);
      const live = fall && !this.calm();
      const ask = { bag, option: column.option, stance, edgeLength: EDGE[preferences.fineness] };
      // The middle of the band first, of every option: its word and shape are what is compared, and the ends take twice as long again.
      this.start(column.option, key, { ...ask, bands: ['mid'], fallEdge: live ? FALL_EDGE : null }, (mid) => {
        this.begin(column.option, key, mid);
        const ends = { ...ask, bands: endsToAsk(mid), fallEdge: null };
        this.start(column.option, key, ends, (found) => this.finish(column.option, key, whole(mid, found)), leadOf(mid)?.iterations ?? 0);
      });
      this.store.setColumn(i, { waiting: true, problem: null, early: null });
    }
  }

  /** Looks an option up among what was settled before; found, it is shown without a solver. */
  private recall(key: string): void {
    const { memory } = this;
    if (!memory || this.recalling.has(key)) return;
    const asked = memory.recall(key).then((found) => {
      this.recalling.delete(key);
      const { bag, columns, stance, preferences } = this.store.state;
      const wanting = columns.filter((c) => inputKey(bag, c.option, stance, preferences.fineness) === key && this.done.get(c.option) !== key);
      if (!found) return;
      for (const column of wanting) this.finish(column.option, key, found, true);
    });
    this.recalling.set(key, asked);
  }

  private start(option: string, key: string, ask: Omit<Ask, 'job'>, done: (result: Result) => void, later: number | null = null): void {
    const job = this.solvers.start(ask, (say) => this.hear(option, say, done), later);
    this.jobs.set(option, { job, key });
  }

  /** Stops one option's run; the last result stays. */
  stop(index: number, tell = true): void {
    const column = this.store.state.columns[index];
    const running = column && this.jobs.get(column.option);
    if (!running) return;
    this.solvers.stop(running.job);
    this.jobs.delete(column.option);
    this.store.setColumn(index, {
      stage: null,
      waiting: false,
      early: null,
      problem: tell && (column.result === null || column.partial) ? text.stage.stopped : null,
    });
    // Drawn again only where it has to be: in software that takes the solvers' cores for half a second.
    if (column.result && this.astray.has(column.option)) this.showResult(index, column.result);
  }

  /** Rebuilds every picture, after bays were added or taken away. */
  redraw(): void {
    this.store.state.columns.forEach((column, i) => {
      if (column.result) this.showResult(i, column.result);
      else this.pictures.setSubject(i, this.shown.get(column.option) ?? null);
    });
  }

  private hear(option: string, say: Heard, done: (result: Result) => void): void {
    const index = this.store.state.columns.findIndex((c) => c.option === option);
    if (index < 0) return;
    switch (say.kind) {
      case 'mesh': {
        const subject = movingSubject(this.store.state, option, say);
        this.shown.set(option, subject);
        this.falling.set(option, say.straps);
        this.astray.add(option);
        this.pictures.setSubject(index, subject);
        break;
      }
      case 'frame': {
        const [subject, straps] = [this.shown.get(option), this.falling.get(option)];
        if (subject && straps) this.pictures.show(index, say.x, movedStraps(this.store.state.bag, subject.mesh, say.x, straps, say.lines));
        break;
      }
      case 'stage':
        this.store.setColumn(index, { waiting: false, stage: { ...say.stage, since: this.store.state.columns[index].stage?.since ?? performance.now() } });
        break;
      case 'word': // an end's word comes with its run: beside the middle's result it would be read as that one's
        if (say.band === 'mid') this.store.setColumn(index, { early: say.word });
        break;
      case 'unchecked':
        this.begin(option, this.jobs.get(option)!.key, say.result, false, say.checks[0]);
        break;
      case 'result':
        this.jobs.delete(option);
        done(say.result);
        break;
      case 'weights':
        break;
      default:
        this.jobs.delete(option);
        if (say.kind === 'faults') this.store.set({ refused: say.faults });
        // The shape of another bag, or of this one before it was redrawn, says nothing of one that cannot be sewn.
        if (say.kind === 'faults' && this.store.state.columns[index].result === null) {
          this.shown.delete(option);
          this.pictures.setSubject(index, null);
        }
        this.store.setColumn(index, {
          stage: null,
          waiting: false,
          early: null,
          problem:
            say.kind === 'failed' ? text.stage.failed : say.faults.map((f) => `${f.path}: ${f.got.replace(/\.$/, '')}; expected ${f.expected}`).join('; '),
        });
    }
  }

  /** Whether a bay has nothing to show yet. */
  get bare(): boolean {
    return this.store.state.columns.some((c) => c.result === null && !this.shown.has(c.option));
  }

  /**
   * Shows the drafted bag in every bay whose result is out of date, until that is settled anew; `bare`: only where nothing is shown yet, so that no bag that
   * falls already is taken away.
   */
  showSewn(bag: Bag, mesh: BagMesh, drafted: ArrayLike<number>, bare: boolean): void {
    this.store.state.columns.forEach((column, i) => {
      if (this.store.state.bag !== bag || (column.result !== null && !column.stale) || (bare && this.shown.has(column.option))) return;
      const thickness = mesh.panelNames.map((name) => column.result?.stacks.find((s) => s.panel === name)?.thickness ?? 0.001);
      const subject = withHandlesUp(subjectOf(this.store.state, column.option, mesh, drafted, thickness), bag, drafted);
      this.shown.set(column.option, subject);
      this.astray.add(column.option);
      this.pictures.setSubject(i, subject);
    });
  }

  /** Shows the middle of the band while it is being checked or its ends are being settled, or the coarse mesh while a finer one is. */
  private begin(option: string, key: string, found: Result, coarse = false, checking: Column['checking'] = undefined): void {
    const { bag, columns } = this.store.state;
    const index = columns.findIndex((c) => c.option === option);
    if (index < 0) return;
    const result = judged(found.option === option ? found : { ...found, option }, bag.wanted);
    // What was whole before is not what is shown any more: an undo to it must bring its figures back.
    this.done.delete(option);
    this.begun.set(option, key);
    const stage = checking ? ({ step: 'settling', detail: '', band: 'mid', since: performance.now() } as const) : null;
    this.store.setColumn(index, { stage, waiting: !checking, result, stale: false, early: null, partial: true, coarse, checking, problem: null });
    this.showResult(index, result);
  }

  /** Shows a result that belongs to the inputs as they are now. */
  private finish(option: string, key: string, found: Result, remembered = false): void {
    const { bag, columns } = this.store.state;
    const index = columns.findIndex((c) => c.option === option);
    if (index < 0) return;
    // What still runs for it is not needed any more.
    const running = this.jobs.get(option);
    if (running) this.solvers.stop(running.job);
    this.jobs.delete(option);
    // Options of the same stacks share a result; each keeps its own name on it.
    const result = judged(found.option === option ? found : { ...found, option }, bag.wanted);
    this.done.set(option, key);
    this.kept.delete(key);
    this.kept.set(key, result);
    if (this.kept.size > MOST_KEPT) this.kept.delete(this.kept.keys().next().value!);
    if (!remembered && !this.shipped.has(key)) this.memory?.remember(key, found);
    this.store.setColumn(index, { stage: null, waiting: false, result, stale: false, early: null, partial: false, coarse: false, problem: null });
    this.showResult(index, result);
  }

  /** Another look is wanted: every stored result is judged by it, stale ones too. */
  private judgeAgain(): void {
    const { bag, columns } = this.store.state;
    if (columns.every((c) => c.result === null || c.result.verdict.wanted === bag.wanted)) return;
    this.store.set({ columns: columns.map((c) => (c.result ? { ...c, result: judged(c.result, bag.wanted) } : c)) });
  }

  private showResult(index: number, result: Result): void {
    this.astray.delete(result.option);
    const { subject, positions } = subjectOfResult(this.store.state, result);
    this.pictures.setSubject(index, subject);
    if (positions) this.pictures.show(index, positions);
    this.pictures.finish(index, result);
  }
}
