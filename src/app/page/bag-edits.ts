import { type Bag, BagError } from '../core.ts';
import { columnsFor, MOST_ON_MAT } from '../line-up/columns.ts';
import type { BagForm } from './bag-form.ts';
import { groupFirst, groupsOf } from './bag-form.ts';
import { keepBag, keepHistory, keepId, keptId, newId } from './browser-storage.ts';
import type { History } from './history.ts';
import { type Opened, tryParse, written } from './opening.ts';
import { openingStance } from './opening-stance.ts';
import type { Store } from './store.ts';
import { text } from './text.ts';

/** Pause after a change before the whole history is kept, ms. */
const HAND_RESTS = 400;

export interface EditListeners {
  say(line: string): void;
  /** The state has another bag: what is solved may be out of date. */ changed(): void;
  /** A bag is to be kept among the maker's own. */ kept(id: string, name: string, written: string): void;
  /** The bag's pattern is another one than before. */ redrafted(bag: Bag): void;
}

/** Every change of the bag goes through here, is kept in the browser and can be taken back. */
export class BagEdits {
  private timer = 0;
  /** Which of the maker's bags is on the mat. */ id: string = keptId() ?? newId();
  constructor(
    private readonly store: Store,
    private readonly history: History,
    private readonly tell: EditListeners,
  ) {
    // The bag itself is kept at once; its history, which is longer, when the hand rests or the page goes away.
    window.addEventListener('pagehide', () => this.timer && this.keepSteps());
    document.addEventListener('visibilitychange', () => this.timer && document.visibilityState === 'hidden' && this.keepSteps());
  }

  /**
   * Takes a changed text if it parses; otherwise shows its faults and keeps the bag there is, with its history. Returns whether it was taken. `opened`: another bag;
   * id: which of the maker's own, a new one when left out.
   */
  take(source: string, what: string, opened = false, id = newId()): boolean {
    const { store, history, tell } = this;
    const result = tryParse(source);
    if (result instanceof BagError) {
      store.set({ faults: result.faults });
      tell.say(text.say.faults(result.faults.length));
      return false;
    }
    const before = written(store.state.form);
    if (before !== written(result.form)) history.keep(before, what || text.history.opened(result.bag.name), opened, this.id);
    if (opened) this.id = id;
    this.put(result, opened);
    if (opened) tell.say(text.say.opened(result.bag.name));
    return true;
  }

  readonly change = (form: BagForm, what: string): boolean => this.take(written(form), what);

  /** Steps back, or forward again, and says what was undone. */
  travel(way: 'undo' | 'redo'): void {
    const { store, history, tell } = this;
    const step = history[way](written(store.state.form), this.id);
    if (!step) {
      tell.say(way === 'undo' ? text.history.nothing : text.history.nothingAgain);
      return;
    }
    const result = tryParse(step.text);
    // Only a history that somebody else wrote into the browser's store can be broken.
    if (result instanceof BagError) store.set({ faults: result.faults });
    else {
      if (step.opened) this.id = step.id ?? newId();
      this.put(result, step.opened);
    }
    tell.say(way === 'undo' ? text.history.undone(step.what) : text.history.redone(step.what));
  }

  /** Options that stay off the mat. One that is new comes on it; where it is full, the last one that is not edited makes room. */
  private stillOff(bag: Bag): readonly string[] {
    const { state } = this.store;
    const off = state.off.filter((name) => bag.options.some((o) => o.name === name));
    const fresh = bag.options.filter((o) => !state.bag.options.some((old) => old.name === o.name)).map((o) => o.name);
    const on = bag.options.map((o) => o.name).filter((name) => !off.includes(name));
    while (on.length > MOST_ON_MAT) {
      const last = [...on].reverse().find((name) => !fresh.includes(name) && name !== state.columns[state.editing]?.option) ?? on[on.length - 1];
      on.splice(on.indexOf(last), 1);
      off.push(last);
    }
    return off;
  }

  /** Puts a kept option on the mat, in the place of the last one that is not edited where there is no room; or takes it off, unless it is the last. */
  putOnMat(option: string, on: boolean): void {
    const { bag, columns, editing } = this.store.state;
    const off = new Set(this.store.state.off);
    if (on) {
      off.delete(option);
      const last = [...columns].reverse().find((c) => c !== columns[editing]);
      if (columns.length >= MOST_ON_MAT && last) off.add(last.option);
    } else if (columns.length > 1) off.add(option);
    const edited = columns[editing].option;
    const next = columnsFor(bag, columns, [...off]);
    const at = next.findIndex((c) => c.option === edited);
    this.store.set({ off: [...off], columns: next, editing: Math.max(0, at) });
  }

  private keepSteps(): void {
    clearTimeout(this.timer);
    this.timer = 0;
    this.store.set({ stepsKept: keepHistory(this.history.write()) });
  }

  /** Puts a parsed bag on the page. `opened`: another bag, whose columns begin afresh. */
  private put({ form, bag }: Opened, opened: boolean): void {
    const { store, history, tell } = this;
    const now = store.state;
    const pattern = (b: Bag): string => JSON.stringify([b.panels, b.seams]);
    const redrafted = pattern(now.bag) !== pattern(bag);
    const off = opened ? [] : this.stillOff(bag);
    const columns = columnsFor(bag, opened ? [] : now.columns, off);
    const groups = groupsOf(bag);
    const editing = Math.min(opened ? 0 : now.editing, columns.length - 1);
    store.set({
      form,
      bag,
      columns,
      faults: [],
      refused: [],
      stance: !opened && bag.stances.some((s) => s.name === now.stance) ? now.stance : openingStance(bag),
      off,
      editing,
      group: !opened && (now.group === 'all' || groups.has(now.group)) ? now.group : groupFirst(bag, columns[editing].option),
      saved: keepBag(written(form)),
      undo: history.undoable?.what ?? null,
      redo: history.redoable?.what ?? null,
    });
    keepId(this.id);
    tell.kept(this.id, bag.name, written(form));
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.keepSteps(), HAND_RESTS);
    // First what is drawn, which is waited for by what is settled.
    if (redrafted) tell.redrafted(bag);
    tell.changed();
  }
}
