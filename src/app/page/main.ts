import '../style/base.css';
import '../style/bay.css';
import '../style/compare.css';
import '../style/controls.css';
import '../style/flat.css';
import '../style/mat.css';
import '../style/table.css';
import { BagError, type Result } from '../core.ts';
import type { Desk, FlatBoard } from '../flat/drafting.ts';
import { Pictures } from '../line-up/bag-pictures.ts';
import { Mat } from '../line-up/bay-headings.ts';
import { ComparisonTable } from '../line-up/comparison-table.ts';
import { choose, type Easel, LineUp } from '../line-up/line-up.ts';
import { MEASURED, type Measured } from '../line-up/measure-marks.ts';
import { CompareTable } from '../line-up/options-table.ts';
import type { Live } from '../live/live.ts';
import { Work } from './bag-edits.ts';
import {
  type Group,
  groupsOf,
  withAnchor,
  withLayers,
  withLoad,
  withMaterial,
  withOption,
  withoutOption,
  withParameter,
  withShell,
  withStrapLength,
  withWanted,
} from './bag-form.ts';
import { keepPreferences, keepTour, keepView, keptBag, keptView, readFile, saveFile, tourAnswered, unreadBag } from './browser-storage.ts';
import { Controls } from './controls.ts';
import { h } from './dom.ts';
import { FaultList } from './fault-list.ts';
import { Page } from './frame.ts';
import { History, listenForUndo } from './history.ts';
import { EXAMPLE, firstState, tryParse, written } from './opening.ts';
import { EDGE, isHeat, onlyStages, type Preferences, type State, Store } from './store.ts';
import { text } from './text.ts';
import { tourOffer } from './tour-offer.ts';

const calm = (): boolean => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

const history = new History();

const store = new Store(firstState(history));

let deskMade: Promise<Desk> | null = null;
/** The desk (flat panels, bags to start from) comes after the first picture: neither its script nor its worker is needed for that. */
const desk = (): Promise<Desk> => {
  deskMade ??= import('../flat/drafting.ts').then((m) => new m.Desk());
  return deskMade;
};

let boardMade: Promise<FlatBoard> | null = null;
const board = (): Promise<FlatBoard> => {
  boardMade ??= Promise.all([import('../flat/drafting.ts'), desk()]).then(
    ([m, d]) =>
      new m.FlatBoard(page.cutting, d, {
        commit: (bag, what) => work.take(bag, what),
        say: (words) => page.say(words),
        point: (panel) => pointOut(panel),
      }),
  );
  return boardMade;
};

let pointed: string | null = null;
/** Lights a panel up wherever it is shown. */
function pointOut(panel: string | null): void {
  if (panel === pointed) return;
  pointed = panel;
  pictures.pointOut(panel);
  void boardMade?.then((b) => b.pointOut(panel));
}

/** Draws the flat panels of the option being edited, when they are what is being looked at. */
function drawFlat(): void {
  // Called once while the page itself is still being made.
  queueMicrotask(() => {
    if (page.question !== 'cut') return;
    const { form, columns, editing, preferences } = store.state;
    void board().then((b) => b.show(written(form), { option: columns[editing].option, units: preferences.units }));
  });
}

/** A screen that is set up when it is first looked at; nothing of it is loaded before. What failed to load is asked for again when it is next turned to. */
function lazily(place: HTMLElement, load: () => Promise<unknown>, failed: string): () => void {
  let asked = false;
  return () => {
    if (asked) return;
    asked = true;
    load().catch(() => {
      asked = false;
      place.replaceChildren(h('p', { class: 'notice' }, failed));
    });
  };
}

/** Takes a material of the maker's own into the bag and, unless it is only for the lists, makes it the shell of an option. Nothing changes if it does not parse. */
function useMaterial(id: string, material: unknown, where: string, fused: boolean): { where: string; replaced: boolean } | { why: string } {
  const { form, bag, columns, editing } = store.state;
  const replaced = bag.materials.some((m) => m.id === id);
  let next = withMaterial(form, id, material);
  let option: string | null = null;
  if (where !== 'list') {
    const from = where === 'new' ? columns[editing].option : (columns[Number(where)]?.option ?? columns[editing].option);
    option = from;
    if (where === 'new') {
      const added = withOption(next, from);
      next = added.form;
      option = added.option;
    }
    next = withShell(next, bag, { option, from, material: id, alone: fused }, text.controls.groups);
  }
  const parsed = tryParse(written(next));
  if (parsed instanceof BagError) return { why: parsed.faults.map((f) => `${f.path}: ${f.got}; expected ${f.expected}`).join('; ') };
  work.change(next, text.swatch.added(id));
  if (option === null) return { where: text.swatch.choice, replaced };
  const index = store.state.columns.findIndex((c) => c.option === option);
  store.set({ editing: index });
  return { where: text.swatch.shell(store.state.columns[index].letter), replaced };
}

function prefer(wish: Partial<Preferences>): void {
  const preferences = { ...store.state.preferences, ...wish };
  // What is too small a thing to find room finds none for the bag either.
  store.set({ preferences, ...(keepPreferences(preferences) ? {} : { saved: false }) });
  if (wish.fineness) lineUp.refresh();
}

/** Keeps what is looked at; what finds no room is told as that of the bag is. */
function look(part: Parameters<typeof keepView>[0]): void {
  if (!keepView(part)) store.set({ saved: false });
}

function tour(): void {
  void import('../tour/tour.ts').then(
    (m) => {
      m.startTour({ say: (line) => page.say(line), left: keepTour });
      document.querySelector('.tour-offer')?.remove();
    },
    () => page.say(text.tour.failed),
  );
}

const page = new Page({
  open: async (file, of) => {
    // Which of several was meant cannot be known, so none replaces the bag on the mat.
    const read = of > 1 ? { got: text.file.several(of), expected: text.file.one } : await readFile(file);
    if ('text' in read) work.take(read.text, '', true);
    else store.set({ faults: [{ path: '', ...read }] });
  },
  save: () => saveFile(store.state.bag.name, written(store.state.form)),
  startAgain: () => work.take(EXAMPLE, '', true),
  startFrom: (name) => {
    void desk()
      .then((d) => d.templates())
      .then((list) => {
        const chosen = list.find((t) => t.name === name);
        if (chosen) work.take(chosen.text, '', true);
      });
  },
  showStarts: () => {
    void import('../starts/starts.ts').then(
      async (m) => m.showStarts(await desk(), { units: store.state.preferences.units, take: (bag) => work.take(bag, '', true) }),
      () => page.say(text.file.picturesFailed),
    );
  },
  tour,
  turnTo: (question) => {
    drawFlat();
    // Called once while the page itself is still being made.
    queueMicrotask(() => {
      if (question === 'swatch') openBench();
      if (question === 'straps') openStraps();
    });
  },
  undo: () => work.travel('undo'),
  redo: () => work.travel('redo'),
});
const listen: Store['listen'] = (listener) => store.listen(listener);
const say = (line: string): void => page.say(line);
const openBench = lazily(
  page.swatch,
  async () => new (await import('../bench/bench.ts')).Bench(page.swatch, { state: () => store.state, listen, calm, say, use: useMaterial }),
  text.swatch.failed,
);
const openStraps = lazily(
  page.straps,
  async () =>
    new (await import('../straps/screen.ts')).StrapsScreen(page.straps, {
      state: () => store.state,
      listen,
      say,
      change: (form, what) => work.change(form, what),
    }),
  text.strapping.failed,
);
const work = new Work(store, history, {
  say: (line) => page.say(line),
  changed: () => lineUp.refresh(),
  redrafted: (bag) =>
    void desk()
      .then((d) => d.sewn(bag, EDGE[store.state.preferences.fineness]))
      .then((sewn) => {
        if (!sewn) return;
        lineUp.showSewn(bag, sewn.mesh, sewn.drafted);
        page.element.dataset.sewn = String(Number(page.element.dataset.sewn ?? 0) + 1);
      }),
});
const controls = new Controls(page.controls, {
  setParameter: (name, value) => work.change(withParameter(store.state.form, name, value), text.history.size(text.controls.parameter[name] ?? name, value)),
  setStance: (stance) => {
    store.set({ stance });
    lineUp.refresh();
  },
  setWanted: (wanted) =>
    work.change(withWanted(store.state.form, wanted), text.history.wanted(text.controls.wants[wanted as keyof typeof text.controls.wants] ?? wanted)),
  setLayers: (layers) => {
    const { form, bag, editing, columns, group } = store.state;
    const label = text.controls.groups[group];
    work.change(
      withLayers(form, bag, columns[editing].option, groupsOf(bag).get(group) ?? [], label, layers),
      text.history.layers(columns[editing].letter, label),
    );
  },
  setAnchor: (strap, end, side, value) => {
    const { straps } = text.controls;
    const owner = end === 'to' ? straps.otherEnd(strap) : strap;
    work.change(withAnchor(store.state.form, strap, end, side, value), straps.changed(owner, straps.from[side], value));
  },
  setStrapLength: (strap, value) => {
    const { straps } = text.controls;
    work.change(withStrapLength(store.state.form, strap, value), straps.changed(strap, straps.length, value));
  },
  setLoad: (mass) => {
    const { form, bag, stance } = store.state;
    work.change(withLoad(form, bag, stance, mass), text.controls.straps.changedLoad(mass));
  },
  edit: (editing) => store.set({ editing }),
  editGroup: (group: Group) => store.set({ group }),
  addOption: () => {
    const { form, columns, editing } = store.state;
    work.change(withOption(form, columns[editing].option).form, text.history.added);
    store.set({ editing: store.state.columns.length - 1 });
    keepFocus();
  },
  removeOption: () => {
    const { form, columns, editing } = store.state;
    work.change(withoutOption(form, columns[editing].option), text.history.removed(columns[editing].letter));
    keepFocus();
  },
  prefer,
});
/** A button that switches itself off drops the focus: it goes to the head of the option that is edited now. */
function keepFocus(): void {
  queueMicrotask(() => {
    // Some browsers leave it on the dead button until they draw.
    if (document.activeElement?.matches('body, :disabled')) mat.focusHead(store.state.editing);
  });
}
const mat = new Mat({
  edit: (editing) => store.set({ editing }),
  stop: (i) => lineUp.stop(i),
  settle: () => lineUp.solve(false),
  watch: () => {
    live?.leave();
    lineUp.solve(true);
  },
  take: () => void takeInHand(),
  turn: (by) => pictures.stage?.turnTo(by(pictures.stage.camera)),
});
const pictures = new Pictures(store, mat, { frame: page.lineUp, point: pointOut, say: (line) => page.say(line), redraw: () => redrawStills() });
const view = keptView();
let measured: Measured | null = MEASURED.find((figure) => figure === view.mark) ?? null;
if (measured !== null) pictures.measure(measured);
const table = new ComparisonTable((figure) => {
  measured = measured === figure ? null : figure;
  look({ mark: measured });
  table.mark(measured);
  page.say(measured === null ? text.measured.hidden(text.table[figure]) : text.measured.said(text.table[figure]));
  pictures.measure(measured);
});

const faultList = new FaultList(
  () => {
    const { faults } = store.state;
    store.set({ faults: [] });
    // Once the list is gone: its button held the focus.
    queueMicrotask(() => controls.focusOn(faults) || page.focusTab());
  },
  () => page.say(text.say.savedAs(saveFile(text.file.unreadName, unreadBag() ?? ''))),
);
const compare = new CompareTable((panel) => pointOut(panel));
page.lineUp.append(mat.element, table.element);
page.compare.append(compare.element);
const against = compare.element.querySelector('select')!;
against.addEventListener('change', () => look({ against: store.state.columns.find((c) => c.letter === against.value)?.option ?? '' }));
page.main.prepend(faultList.element);

let live: Live | null = null;
/** Lets the option being edited move in its bay, to be pulled about; its settled shape comes back when it is put down. */
async function takeInHand(): Promise<void> {
  const { stage } = pictures;
  if (!stage) return;
  const loaded = await import('../live/live.ts').catch(() => null);
  if (!loaded) {
    page.say(text.mat.takeFailed);
    return;
  }
  const { bag, columns, editing, stance } = store.state;
  live?.leave();
  live = new loaded.Live({
    bay: editing,
    element: mat.bayElements[editing],
    mat: mat.element,
    canvas: mat.canvas,
    stage,
    letter: columns[editing].letter,
    units: () => store.state.preferences.units,
    bag,
    option: columns[editing].option,
    stance,
    subject: (start) => lineUp.movingSubject(bag, columns[editing].option, start),
    say: (line) => page.say(line),
    left: () => {
      live = null;
      lineUp.redraw();
    },
  });
}

const easel: Easel = {
  // What settles meanwhile waits until the bag is put down.
  setSubject: (bay, subject) => live?.host.bay !== bay && pictures.stage?.setSubject(bay, subject),
  show: (bay, x, straps) => live?.host.bay !== bay && pictures.stage?.show(bay, x, straps),
  finish: (bay, result) => {
    if (pictures.flatOnly) void drawStill(bay, result);
  },
};
const lineUp = new LineUp(store, easel, calm);

/** Drawings asked for, by bay: an older one that comes late is not shown. */
const drawings: number[] = [];

/** Without WebGL: a bag's drawing, with the chosen map on it. */
async function drawStill(bay: number, result: Result): Promise<void> {
  const own = (drawings[bay] = (drawings[bay] ?? 0) + 1);
  const [d, colouring] = await Promise.all([desk(), pictures.colouring(bay, result)]);
  const drawing = await d.still(result, colouring);
  if (drawings[bay] === own) mat.showFlat(bay, drawing);
}

function redrawStills(): void {
  if (pictures.flatOnly)
    store.state.columns.forEach((c, i) => {
      if (c.result) void drawStill(i, c.result);
    });
}

/** The example opens as it settled before it was shipped; any other bag has nothing to fetch. Without those states it is merely settled here. */
async function openSettled(): Promise<void> {
  const example = tryParse(EXAMPLE);
  if (example instanceof BagError || JSON.stringify(example.bag) !== JSON.stringify(store.state.bag)) return;
  const settled = await import('../settled/settled.ts').catch(() => null);
  if (settled) lineUp.foresee(example.bag, settled.settledBefore());
}

function update(state: State, before: State | null): void {
  if (pictures.stage) pictures.stage.working = state.columns.some((c) => c.stage || c.waiting);
  if (before !== null && onlyStages(state, before)) {
    mat.tick(state.columns);
    return;
  }
  page.update(state);
  page.updateHistory(state.undo, state.redo);
  controls.update(state);
  mat.update(state);
  faultList.update(state.faults);
  if (before !== null && (before.bag !== state.bag || before.stance !== state.stance)) live?.leave();
  if (before !== null && (before.bag !== state.bag || before.editing !== state.editing || before.preferences !== state.preferences)) drawFlat();
  const chosen = choose(state);
  table.update(state.columns, chosen.index, chosen.reason, state.preferences.units);
  table.mark(measured);
  compare.update(state.columns, chosen.index, state.bag.wanted, state.preferences.units);
  const edited = state.columns[state.editing].option;
  if (before !== null && before.columns[before.editing]?.option !== edited) look({ editing: edited });
  if (before !== null && before.stance !== state.stance) look({ stance: state.stance });
  page.element.style.setProperty('--bays', String(state.columns.length));
  if (before === null || before.columns.map((c) => c.option).join() !== state.columns.map((c) => c.option).join()) {
    pictures.stage?.setBays(mat.bayElements);
    lineUp.redraw();
  }
  if (before === null || before.preferences !== state.preferences) {
    pictures.showPreferences();
    // A map that is worked out asks for its drawings itself.
    const { shade } = state.preferences;
    if (before !== null && before.preferences.shade !== shade && !isHeat(shade)) redrawStills();
  }
  state.columns.forEach((column, i) => {
    const old = before?.columns[i];
    if (column.result && old && column.result !== old.result && !column.partial)
      page.say(text.say.verdict(column.letter, column.result.verdict.word, column.result.verdict.reason));
  });
}

store.listen(update);
listenForUndo(
  () => work.travel('undo'),
  () => work.travel('redo'),
);
setTimeout(() => void desk().then(async (d) => page.offer(await d.templates())), 1500);
if (keptBag() === null && !tourAnswered()) page.element.querySelector('.top')?.append(tourOffer(tour));
document.body.append(page.element);
update(store.state, null);
against.value = store.state.columns.find((c) => c.option === view.against)?.letter ?? '';
if (against.value) against.dispatchEvent(new Event('change'));
// Solvers that took every core would hold the opening up.
void pictures.open().then(() => {
  if (pictures.flatOnly) page.noPictures();
  lineUp.redraw();
  // A bag seen for the first time falls; one whose rest is known already need not.
  void openSettled().then(() => lineUp.solve(!lineUp.foreseen()));
});
// The seconds beside a running stage count on between the worker's words: all at once, one frame a second.
setInterval(() => {
  if (store.state.columns.some((c) => c.stage)) mat.tick(store.state.columns);
}, 1000);
