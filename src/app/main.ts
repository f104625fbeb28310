import './style/base.css';
import './style/bay.css';
import './style/compare.css';
import './style/controls.css';
import './style/flat.css';
import './style/mat.css';
import './style/table.css';
import harbourTote from '../../demos/harbour-tote.bag.json?raw';
import {
  type BagForm,
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
} from './bagform.ts';
import { CompareTable } from './compare.ts';
import { Controls } from './controls.ts';
import { type Bag, BagError, parseBag, type Result } from './core.ts';
import type { Desk, FlatBoard } from './cutting.ts';
import { h } from './dom.ts';
import { FaultList } from './faultlist.ts';
import { History, listenForUndo } from './history.ts';
import { keepBag, keepHistory, keepPreferences, keptBag, keptHistory, keptPreferences, readFile, saveFile } from './keeping.ts';
import { choose, columnsFor, type Easel, EDGE, LineUp } from './lineup.ts';
import { arrowScale, drawMarks, type Measured } from './marks.ts';
import { FLOOR, Mat } from './mat.ts';
import { Page } from './page.ts';
import { type Preferences, type State, Store } from './store.ts';
import { ComparisonTable } from './table.ts';
import { text } from './text.ts';
import { isSoftware, Stage } from './view/stage.ts';
import { listenForTurning } from './view/turning.ts';
import type { Where } from './where.ts';

const calm = (): boolean => window.matchMedia('(prefers-reduced-motion: reduce)').matches;

/** Parses text; the faults are handed on instead of thrown. */
function tryParse(source: string): { readonly form: BagForm; readonly bag: Bag } | BagError {
  try {
    const bag = parseBag(source);
    return { bag, form: JSON.parse(source) as BagForm };
  } catch (error) {
    if (error instanceof BagError) return error;
    throw error;
  }
}

const history = new History();

function firstState(): State {
  const kept = keptBag();
  let opened = kept === null ? null : tryParse(kept);
  // A kept bag that no longer parses (an older version) must not lock the page: the example opens instead.
  if (opened === null || opened instanceof BagError) opened = tryParse(harbourTote);
  if (opened instanceof BagError) throw opened;
  history.read(keptHistory());
  const { form, bag } = opened;
  const own = keptPreferences();
  const preferences: Preferences = {
    units: own.units === 'metric' ? 'metric' : 'inch',
    shade: own.shade === 'curvature' ? 'curvature' : 'cloth',
    fineness: own.fineness === 'quick' || own.fineness === 'fine' ? own.fineness : 'medium',
  };
  const group = groupsOf(bag).keys().next().value ?? 'wall';
  const steps = { undo: history.undoable?.what ?? null, redo: history.redoable?.what ?? null };
  return { form, bag, stance: bag.stances[0].name, faults: [], columns: columnsFor(bag, []), editing: 0, group, preferences, saved: true, ...steps };
}

const store = new Store(firstState());

let deskMade: Promise<Desk> | null = null;
/** The desk (flat panels, bags to start from) comes after the first picture: neither its script nor its worker is needed for that. */
const desk = (): Promise<Desk> => {
  deskMade ??= import('./cutting.ts').then((m) => new m.Desk());
  return deskMade;
};

let boardMade: Promise<FlatBoard> | null = null;
const board = (): Promise<FlatBoard> => {
  boardMade ??= Promise.all([import('./cutting.ts'), desk()]).then(
    ([m, d]) =>
      new m.FlatBoard(page.cutting, d, {
        commit: (bag, what) => take(bag, what),
        say: (words) => page.say(words),
        point: (panel) => pointOut(panel),
      }),
  );
  return boardMade;
};

/** Lights a panel up wherever it is shown. */
function pointOut(panel: string | null): void {
  if (panel === pointed) return;
  pointed = panel;
  stage?.pointOut(panel);
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

let benchAsked = false;
/** Sets up the bench when it is first looked at; nothing of it is loaded before. */
function openBench(): void {
  if (benchAsked) return;
  benchAsked = true;
  void import('./bench/bench.ts').then(
    ({ Bench }) =>
      new Bench(page.swatch, {
        state: () => store.state,
        listen: (listener) => store.listen(listener),
        calm,
        say: (line) => page.say(line),
        use: useMaterial,
      }),
    () => {
      // Asked for again when the view is next turned to.
      benchAsked = false;
      page.swatch.replaceChildren(h('p', { class: 'notice' }, text.swatch.failed));
    },
  );
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
  change(next, text.swatch.added(id));
  if (option === null) return { where: text.swatch.choice, replaced };
  const index = store.state.columns.findIndex((c) => c.option === option);
  store.set({ editing: index });
  return { where: text.swatch.shell(store.state.columns[index].letter), replaced };
}

const written = (form: BagForm): string => JSON.stringify(form, null, 2);

let historyTimer = 0;
/** The bag itself is kept at once; its history, which is longer, when the hand rests or the page goes away. */
function keepSteps(): void {
  clearTimeout(historyTimer);
  historyTimer = 0;
  keepHistory(history.write());
}
window.addEventListener('pagehide', () => historyTimer && keepSteps());
document.addEventListener('visibilitychange', () => historyTimer && document.visibilityState === 'hidden' && keepSteps());

/** Puts a parsed bag on the page. `opened`: another bag, whose columns begin afresh. */
function put({ form, bag }: { readonly form: BagForm; readonly bag: Bag }, opened: boolean): void {
  const now = store.state;
  const pattern = (b: Bag): string => JSON.stringify([b.panels, b.seams]);
  const redrafted = pattern(now.bag) !== pattern(bag);
  const columns = columnsFor(bag, opened ? [] : now.columns);
  const groups = groupsOf(bag);
  store.set({
    form,
    bag,
    columns,
    faults: [],
    stance: bag.stances.some((s) => s.name === now.stance) ? now.stance : bag.stances[0].name,
    editing: Math.min(opened ? 0 : now.editing, columns.length - 1),
    group: groups.has(now.group) ? now.group : (groups.keys().next().value ?? 'wall'),
    saved: keepBag(written(form)),
    undo: history.undoable?.what ?? null,
    redo: history.redoable?.what ?? null,
  });
  clearTimeout(historyTimer);
  historyTimer = window.setTimeout(keepSteps, 400);
  lineUp.refresh();
  if (redrafted)
    void desk()
      .then((d) => d.sewn(bag, EDGE[store.state.preferences.fineness]))
      .then((sewn) => {
        if (!sewn) return;
        lineUp.showSewn(bag, sewn.mesh, sewn.drafted);
        page.element.dataset.sewn = String(Number(page.element.dataset.sewn ?? 0) + 1);
      });
}

/** Takes a changed text if it parses; otherwise shows its faults and keeps the bag there is, with its history. Returns whether it was taken. */
function take(source: string, what: string, opened = false): boolean {
  const result = tryParse(source);
  if (result instanceof BagError) {
    store.set({ faults: result.faults });
    page.say(text.say.faults(result.faults.length));
    return false;
  }
  const before = written(store.state.form);
  if (before !== written(result.form)) history.keep(before, what || text.history.opened(result.bag.name), opened);
  put(result, opened);
  if (opened) page.say(text.say.opened(result.bag.name));
  return true;
}

const change = (form: BagForm, what: string): boolean => take(written(form), what);

function travel(way: 'undo' | 'redo'): void {
  const step = history[way](written(store.state.form));
  if (!step) {
    page.say(way === 'undo' ? text.history.nothing : text.history.nothingAgain);
    return;
  }
  const result = tryParse(step.text);
  // Only a history that somebody else wrote into the browser's store can be broken.
  if (result instanceof BagError) store.set({ faults: result.faults });
  else put(result, step.opened);
  page.say(way === 'undo' ? text.history.undone(step.what) : text.history.redone(step.what));
}

function prefer(wish: Partial<Preferences>): void {
  const preferences = { ...store.state.preferences, ...wish };
  keepPreferences(preferences);
  store.set({ preferences });
  if (wish.fineness) lineUp.refresh();
}

const page = new Page({
  open: async (file) => {
    const read = await readFile(file);
    if ('text' in read) take(read.text, '', true);
    else store.set({ faults: [{ path: '', ...read }] });
  },
  save: () => saveFile(store.state.bag.name, written(store.state.form)),
  startAgain: () => take(harbourTote, '', true),
  startFrom: (name) => {
    void desk()
      .then((d) => d.templates())
      .then((list) => {
        const chosen = list.find((t) => t.name === name);
        if (chosen) take(chosen.text, '', true);
      });
  },
  turnTo: (question) => {
    drawFlat();
    if (question === 'swatch') openBench();
  },
  undo: () => travel('undo'),
  redo: () => travel('redo'),
});
const controls = new Controls(page.controls, {
  setParameter: (name, value) => change(withParameter(store.state.form, name, value), text.history.size(text.controls.parameter[name] ?? name, value)),
  setStance: (stance) => {
    store.set({ stance });
    lineUp.refresh();
  },
  setWanted: (wanted) =>
    change(withWanted(store.state.form, wanted), text.history.wanted(text.controls.wants[wanted as keyof typeof text.controls.wants] ?? wanted)),
  setLayers: (layers) => {
    const { form, bag, editing, columns, group } = store.state;
    const label = text.controls.groups[group];
    change(withLayers(form, bag, columns[editing].option, groupsOf(bag).get(group) ?? [], label, layers), text.history.layers(columns[editing].letter, label));
  },
  setAnchor: (strap, end, side, value) => {
    const { straps } = text.controls;
    const owner = end === 'to' ? straps.otherEnd(strap) : strap;
    change(withAnchor(store.state.form, strap, end, side, value), straps.changed(owner, straps.from[side], value));
  },
  setStrapLength: (strap, value) => {
    const { straps } = text.controls;
    change(withStrapLength(store.state.form, strap, value), straps.changed(strap, straps.length, value));
  },
  setLoad: (mass) => {
    const { form, bag, stance } = store.state;
    change(withLoad(form, bag, stance, mass), text.controls.straps.changedLoad(mass));
  },
  edit: (editing) => store.set({ editing }),
  editGroup: (group: Group) => store.set({ group }),
  addOption: () => {
    const { form, columns, editing } = store.state;
    change(withOption(form, columns[editing].option).form, text.history.added);
    store.set({ editing: store.state.columns.length - 1 });
  },
  removeOption: () => {
    const { form, columns, editing } = store.state;
    change(withoutOption(form, columns[editing].option), text.history.removed(columns[editing].letter));
  },
  prefer,
});
const mat = new Mat({
  edit: (editing) => store.set({ editing }),
  stop: (i) => lineUp.stop(i),
  settle: () => lineUp.solve(false),
  watch: () => lineUp.solve(true),
  turn: (by) => stage?.turnTo(by(stage.camera)),
});
let pointed: string | null = null;
let measured: Measured | null = null;
/** px from the mat's top, as last drawn. */
let tapeZero = 0;
let where: typeof import('./where.ts') | null = null;
const table = new ComparisonTable((figure) => {
  measured = measured === figure ? null : figure;
  table.mark(measured);
  page.say(measured === null ? text.measured.hidden(text.table[figure]) : text.measured.said(text.table[figure]));
  void import('./where.ts').then((m) => {
    where = m;
    stage?.ask();
  });
});

/** Places are worked out once a result, not once a drawing. */
const places = new WeakMap<Result, Where>();
function placesOf(m: typeof import('./where.ts'), result: Result, settled: Float64Array): Where {
  const known = places.get(result) ?? m.whereMeasured(store.state.bag, result.mesh, result.drafted, settled);
  places.set(result, known);
  return known;
}

const leadOf = (result: Result): Result['runs'][number] | undefined => result.runs.find((r) => r.band === 'mid') ?? result.runs[0];

/** Redraws what is written over the bags: the panel pointed out, the dimension line of the figure asked for. */
function drawAllMarks(): void {
  const { columns, preferences } = store.state;
  const runs = columns.flatMap((c) => (c.result && !c.stale ? [leadOf(c.result)] : []));
  const scale = arrowScale(runs.flatMap((r) => r?.hung?.straps.flatMap((s) => s.anchors.map((a) => a.size)) ?? []));
  mat.bayElements.forEach((bay, i) => {
    const result = columns[i]?.result;
    const run = result && !columns[i].stale ? leadOf(result) : null;
    const at = pointed === null ? null : (stage?.middleOf(i, pointed) ?? null);
    drawMarks(
      {
        bay,
        project: (p) => stage?.project(i, p) ?? null,
        pointed: pointed !== null && at ? { panel: pointed, at } : null,
        measured: measured !== null && where && result && run ? { figure: measured, where: placesOf(where, result, run.positions) } : null,
        pulls: measured === 'pulls' && run?.hung ? { hung: run.hung, scale, foot: Math.min(tapeZero + 12, mat.canvas.clientHeight - 28) } : null,
      },
      preferences.units,
    );
  });
}
const faultList = new FaultList(() => store.set({ faults: [] }));
const compare = new CompareTable((panel) => pointOut(panel));
page.lineUp.append(mat.element, table.element);
page.compare.append(compare.element);
page.main.prepend(faultList.element);

function openStage(software: boolean): Stage | null {
  try {
    const made = new Stage(mat.canvas, software);
    made.setFloor(FLOOR);
    made.onScale = (scale, zero) => {
      tapeZero = zero;
      mat.setScale(scale, zero, store.state.preferences.units);
      drawAllMarks();
    };
    mat.canvas.addEventListener('pointermove', (event) => {
      if (event.buttons === 0) pointOut(made.panelAt(event.offsetX, event.offsetY));
    });
    mat.canvas.addEventListener('pointerleave', () => pointOut(null));
    mat.canvas.addEventListener('blur', () => pointOut(null));
    mat.canvas.addEventListener('keydown', (event) => {
      if (event.key.toLowerCase() !== 'n' || event.ctrlKey || event.metaKey || event.altKey) return;
      const names = made.panelNames;
      const next = names.indexOf(pointed ?? '') + (event.shiftKey ? -1 : 1);
      const panel = names[(next + names.length) % names.length] ?? null;
      pointOut(panel);
      if (panel) page.say(panel);
    });
    made.onNeed = (height) => mat.element.style.setProperty('--need', `${height}px`);
    listenForTurning(
      mat.canvas,
      () => made.camera,
      (camera) => made.turnTo(camera),
      () => made.scale,
    );
    const redraw = (): void => {
      // The canvas is as wide as what can be seen of the mat, however far the bays reach beyond it.
      mat.element.style.setProperty('--seen', `${page.lineUp.clientWidth}px`);
      made.ask();
    };
    new ResizeObserver(redraw).observe(page.lineUp);
    page.lineUp.addEventListener('scroll', redraw, { passive: true });
    return made;
  } catch {
    page.noPictures();
    return null;
  }
}

let stage: Stage | null = null;
/** true: this browser draws no three-dimensional pictures. */
let flatOnly = false;

/** The page is painted first; WebGL is asked for in a worker and then opened in a task of its own, so that none is long. */
function openPictures(): Promise<void> {
  return isSoftware().then((software) => {
    stage = openStage(software);
    flatOnly = stage === null;
    stage?.setBays(mat.bayElements);
    showPreferences();
    lineUp.redraw();
  });
}

function showPreferences(): void {
  const { units, shade } = store.state.preferences;
  stage?.set({ map: shade === 'curvature', rule: units === 'inch' ? [0.0254, 0.1016] : [0.02, 0.1] });
}
const easel: Easel = {
  setSubject: (bay, subject) => stage?.setSubject(bay, subject),
  show: (bay, x) => stage?.show(bay, x),
  finish: (bay, result) => {
    if (flatOnly) void desk().then(async (d) => mat.showFlat(bay, await d.still(result)));
  },
};
const lineUp = new LineUp(store, easel, calm);

function update(state: State, before: State | null): void {
  page.update(state);
  page.updateHistory(state.undo, state.redo);
  controls.update(state);
  mat.update(state);
  faultList.update(state.faults);
  if (before !== null && (before.bag !== state.bag || before.editing !== state.editing || before.preferences !== state.preferences)) drawFlat();
  const chosen = choose(state);
  table.update(state.columns, chosen.index, chosen.reason, state.preferences.units);
  table.mark(measured);
  compare.update(state.columns, chosen.index, state.bag.wanted, state.preferences.units);
  page.element.style.setProperty('--bays', String(state.columns.length));
  if (before === null || before.columns.map((c) => c.option).join() !== state.columns.map((c) => c.option).join()) {
    stage?.setBays(mat.bayElements);
    lineUp.redraw();
  }
  if (before === null || before.preferences !== state.preferences) {
    showPreferences();
  }
  state.columns.forEach((column, i) => {
    const old = before?.columns[i];
    if (column.result && old && column.result !== old.result)
      page.say(text.say.verdict(column.letter, column.result.verdict.word, column.result.verdict.reason));
  });
}

store.listen(update);
listenForUndo(
  () => travel('undo'),
  () => travel('redo'),
);
setTimeout(() => void desk().then(async (d) => page.offer(await d.templates())), 1500);
document.body.append(page.element);
update(store.state, null);
// Solvers that took every core would hold the opening up.
void openPictures().then(() => lineUp.solve(true));
// The seconds beside a running stage count on between the worker's words.
setInterval(() => {
  if (store.state.columns.some((c) => c.stage)) mat.tick(store.state.columns);
}, 200);
