/**
 * The page's entry: makes its parts and says who hears of what. No part calls another while it is being made, so their order here is only for reading;
 * everything begins in begin(), last.
 */
import '../style/base.css';
import '../style/bay.css';
import '../style/compare.css';
import '../style/controls.css';
import '../style/faults.css';
import '../style/flat.css';
import '../style/mat.css';
import '../style/table.css';
import '../style/print.css';
import { BagError } from '../core.ts';
import { Pictures } from '../line-up/bag-pictures.ts';
import { BayHeadings } from '../line-up/bay-headings.ts';
import { choose } from '../line-up/columns.ts';
import { ComparisonTable } from '../line-up/comparison-table.ts';
import { InHand } from '../line-up/in-hand.ts';
import { LineUp } from '../line-up/line-up.ts';
import type { CompareTable } from '../line-up/options-table.ts';
import { StillDrawings } from '../line-up/still-drawings.ts';
import { START_CAMERA } from '../view/projection.ts';
import { BagEdits } from './bag-edits.ts';
import { keptBag, saveFile, tourAnswered, unreadBag } from './browser-storage.ts';
import { FaultList } from './fault-list.ts';
import { told } from './format.ts';
import { Page } from './frame.ts';
import { History, listenForUndo } from './history.ts';
import { LazyParts } from './lazy-parts.ts';
import { LookedAt } from './looked-at.ts';
import { EXAMPLE, firstState, tryParse, written } from './opening.ts';
import { EDGE, isHeat, onlyStages, type State, Store } from './store.ts';
import { text } from './text.ts';
import { tourOffer } from './tour-offer.ts';

const calm = (): boolean => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

const history = new History();
const store = new Store(firstState(history));
const say = (line: string): void => page.say(line);

const page = new Page({
  open: (chosen, of) => parts.open(chosen, of),
  save: () => saveFile(store.state.bag.name, written(store.state.form)),
  startAgain: () => edits.take(EXAMPLE, '', true),
  newBag: () => parts.newBag(),
  startFrom: (name) => parts.startFrom(name),
  showStarts: () => parts.showStarts(),
  showBags: () => parts.showBags(),
  takeAway: () => parts.takeAway(),
  tour: () => parts.startTour(),
  turnTo: (question) => {
    parts.drawFlat();
    if (question === 'swatch') parts.openBench();
    if (question === 'straps') parts.openStraps();
    if (question === 'shelf') parts.openShelf();
  },
  undo: () => edits.travel('undo'),
  redo: () => edits.travel('redo'),
  rename: (name) => edits.change({ ...store.state.form, name }, text.file.renamed(name)),
});

const edits = new BagEdits(store, history, {
  say,
  changed: () => lineUp.refresh(),
  kept: (id, name, source) => parts.keep(id, name, source),
  redrafted: () => void showDrafted(false),
});

/** Shows the bag as drafted where nothing is settled; `bare`: only in bays that show nothing at all. */
async function showDrafted(bare: boolean): Promise<void> {
  const { bag, preferences } = store.state;
  const shape = parts.drafting().then((drafting) => drafting.sewn(bag, EDGE[preferences.fineness]));
  if (lineUp.bare) lineUp.drawFirst(shape);
  const sewn = await shape;
  if (!sewn) return;
  lineUp.showSewn(bag, sewn.mesh, sewn.drafted, bare);
  page.element.dataset.sewn = String(Number(page.element.dataset.sewn ?? 0) + 1);
}

const lookedAt = new LookedAt(store, {
  figure: (figure) => {
    table.mark(figure);
    pictures.measure(figure);
  },
  panel: (panel) => {
    pictures.pointOut(panel);
    parts.pointOut(panel);
  },
});

const parts = new LazyParts({
  store,
  page,
  edits,
  lookedAt,
  calm,
  camera: () => pictures.stage?.camera ?? START_CAMERA,
  lineUp: () => lineUp,
});

let controls: import('../controls/controls.ts').Controls | null = null;
/** The panel of controls comes beside the first picture and does not hold it up. */
async function addControls(): Promise<void> {
  const { makeControls } = await import('../controls/controls.ts');
  controls = makeControls(page.controls, store, edits, {
    say,
    refresh: () => lineUp.refresh(),
    // A button that switches itself off drops the focus: it goes to the head of the option that is edited now.
    settleFocus: () =>
      queueMicrotask(() => {
        // Some browsers leave it on the dead button until they draw.
        if (document.activeElement?.matches('body, :disabled')) headings.focusHead(store.state.editing);
      }),
  });
  controls.update(store.state);
}

const headings = new BayHeadings({
  edit: (editing) => store.set({ editing }),
  stop: (i) => lineUp.stop(i),
  settle: () => lineUp.solve(false),
  watch: () => {
    inHand.putDown();
    lineUp.solve(true);
  },
  take: () => void inHand.take(lineUp),
  lookInside: (cutOpen) => pictures.stage?.set({ cutOpen }),
  turn: (by) => pictures.stage?.turnTo(by(pictures.stage.camera)),
});

const pictures = new Pictures(store, headings, {
  frame: page.lineUp,
  point: (panel) => lookedAt.pointOut(panel),
  say,
  redraw: () => drawings.redraw(),
});
const drawings = new StillDrawings(store, headings, pictures, () => parts.drafting());
const inHand = new InHand(store, headings, pictures, say);

const lineUp = new LineUp(
  store,
  {
    setSubject: (bay, subject) => inHand.holds(bay) || pictures.stage?.setSubject(bay, subject),
    show: (bay, x, straps) => inHand.holds(bay) || pictures.stage?.show(bay, x, straps),
    finish: (bay, result) => void drawings.draw(bay, result),
  },
  calm,
);

const table = new ComparisonTable(
  (figure) => {
    lookedAt.toggleFigure(figure);
    say((lookedAt.figure === null ? text.measured.hidden : text.measured.said)(text.table[figure]));
  },
  (option) => parts.showNeed(option),
);

const faultList = new FaultList(
  () => {
    const { faults } = store.state;
    store.set({ faults: [] });
    // Once the list is gone: its button held the focus.
    queueMicrotask(() => controls?.focusOn(faults) || page.focusTab());
  },
  () => say(text.say.savedAs(saveFile(text.file.unreadName, unreadBag() ?? ''))),
);

let compare: CompareTable | null = null;
/** The options as rows stand under everything else, and come after it. */
async function addCompare(): Promise<void> {
  const { CompareTable } = await import('../line-up/options-table.ts');
  compare = new CompareTable(
    (panel) => lookedAt.pointOut(panel),
    (letter) => lookedAt.compareWith(letter),
    (option, on) => {
      edits.putOnMat(option, on);
      lineUp.refresh();
    },
  );
  page.compare.append(compare.element);
  showCompared(store.state);
  compare.compareWith(lookedAt.comparedWith());
}

function showCompared(state: State): void {
  compare?.update(state, choose(state).index);
}

/** The example opens as it settled before it was shipped; any other bag has nothing to fetch. Without those states it is merely settled here. */
async function openSettled(): Promise<void> {
  const example = tryParse(EXAMPLE);
  if (example instanceof BagError || JSON.stringify(example.bag) !== JSON.stringify(store.state.bag)) return;
  const settled = await import('../settled/settled.ts').catch(() => null);
  if (settled) lineUp.foresee(example.bag, settled.settledBefore());
}

/** What was settled at earlier visits is shown again without a solver. */
async function openMemory(): Promise<void> {
  const opened = await import('../keep/results.ts').then((m) => m.openResults(() => say(text.file.noResults))).catch(() => null);
  lineUp.remember(opened);
}

/** Everything that shows the state, brought up to it. */
function show(state: State): void {
  page.update(state);
  page.updateHistory(state.undo, state.redo);
  controls?.update(state);
  headings.update(state);
  faultList.update(state.faults, state.refused);
  const chosen = choose(state);
  const hanging = state.bag.stances.some((s) => s.name === state.stance && s.kind === 'hung');
  table.update(state.columns, chosen.index, chosen.reason, state.preferences.units, hanging, state.bag, state.weights);
  table.mark(lookedAt.figure);
  showCompared(state);
  page.element.style.setProperty('--bays', String(state.columns.length));
}

function openBays(): void {
  pictures.stage?.setBays(headings.bayElements);
  lineUp.redraw();
}

function update(state: State, before: State): void {
  if (pictures.stage) pictures.stage.working = state.columns.some((c) => c.stage || c.waiting);
  if (onlyStages(state, before)) {
    headings.tick(state.columns);
    return;
  }
  show(state);
  if (before.bag !== state.bag || before.stance !== state.stance) inHand.putDown();
  // A bag that stood is not shown as one that hangs.
  if (before.stance !== state.stance) void showDrafted(false);
  if (before.bag !== state.bag || before.editing !== state.editing || before.preferences !== state.preferences) parts.drawFlat();
  lookedAt.follow(state, before);
  if (before.columns.map((c) => c.option).join() !== state.columns.map((c) => c.option).join()) {
    openBays();
    if (lineUp.bare) void showDrafted(true);
  }
  if (before.preferences !== state.preferences) {
    pictures.showPreferences();
    // A map that is worked out asks for its drawings itself.
    const { shade } = state.preferences;
    if (before.preferences.shade !== shade && !isHeat(shade)) drawings.redraw();
  }
  state.columns.forEach((column, i) => {
    const old = before.columns[i];
    if (column.result && old && column.result !== old.result && !column.partial)
      say(text.say.verdict(column.letter, column.result.verdict.word, told(column.result.verdict.reason, state.preferences.units)));
  });
}

function begin(): void {
  page.lineUp.append(headings.element, table.element);
  page.main.prepend(faultList.element);
  if (keptBag() === null && !tourAnswered()) page.element.querySelector('.top')?.append(tourOffer(() => parts.startTour()));
  document.body.append(page.element);
  store.listen(update);
  listenForUndo(
    () => edits.travel('undo'),
    () => edits.travel('redo'),
  );
  show(store.state);
  parts.openLink();
  window.addEventListener('hashchange', () => parts.openLink());
  page.begin();
  if (lookedAt.figure !== null) pictures.measure(lookedAt.figure);
  void addControls();
  void addCompare();
  parts.watchOtherTabs();
  // Offline from the next visit on; a browser that refuses it loses only that.
  if (import.meta.env.PROD) setTimeout(() => void navigator.serviceWorker?.register(new URL('service-worker.js', document.baseURI)).catch(() => {}), 4000);
  setTimeout(() => void parts.drafting().then(async (drafting) => page.offer(await drafting.templates())), 1500);
  // Words that are known need no picture first.
  const memory = openMemory();
  // Solvers that took every core would hold the opening up.
  void pictures.open().then(() => {
    if (pictures.flatOnly) page.noPictures();
    lineUp.redraw();
    // A bag seen for the first time falls; one whose rest is known already need not.
    void Promise.all([openSettled(), memory]).then(() => {
      if (lineUp.bare) void showDrafted(true);
      void lineUp.known().then((known) => lineUp.solve(!known));
    });
  });
  // The seconds beside a running stage count on between the worker's words: all at once, one frame a second.
  setInterval(() => {
    if (store.state.columns.some((c) => c.stage)) headings.tick(store.state.columns);
  }, 1000);
}

begin();
