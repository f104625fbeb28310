import { type Bag, BagError } from '../core.ts';
import { columnsFor } from '../line-up/columns.ts';
import type { BagForm } from './bag-form.ts';
import { groupsOf } from './bag-form.ts';
import { keepBag, keepHistory } from './browser-storage.ts';
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
  /** The bag's pattern is another one than before. */ redrafted(bag: Bag): void;
}

/** Every change of the bag goes through here, is kept in the browser and can be taken back. */
export class BagEdits {
  private timer = 0;
  constructor(
    private readonly store: Store,
    private readonly history: History,
    private readonly tell: EditListeners,
  ) {
    // The bag itself is kept at once; its history, which is longer, when the hand rests or the page goes away.
    window.addEventListener('pagehide', () => this.timer && this.keepSteps());
    document.addEventListener('visibilitychange', () => this.timer && document.visibilityState === 'hidden' && this.keepSteps());
  }

  /** Takes a changed text if it parses; otherwise shows its faults and keeps the bag there is, with its history. Returns whether it was taken. */
  take(source: string, what: string, opened = false): boolean {
    const { store, history, tell } = this;
    const result = tryParse(source);
    if (result instanceof BagError) {
      store.set({ faults: result.faults });
      tell.say(text.say.faults(result.faults.length));
      return false;
    }
    const before = written(store.state.form);
    if (before !== written(result.form)) history.keep(before, what || text.history.opened(result.bag.name), opened);
    this.put(result, opened);
    if (opened) tell.say(text.say.opened(result.bag.name));
    return true;
  }

  readonly change = (form: BagForm, what: string): boolean => this.take(written(form), what);

  /** Steps back, or forward again, and says what was undone. */
  travel(way: 'undo' | 'redo'): void {
    const { store, history, tell } = this;
    const step = history[way](written(store.state.form));
    if (!step) {
      tell.say(way === 'undo' ? text.history.nothing : text.history.nothingAgain);
      return;
    }
    const result = tryParse(step.text);
    // Only a history that somebody else wrote into the browser's store can be broken.
    if (result instanceof BagError) store.set({ faults: result.faults });
    else this.put(result, step.opened);
    tell.say(way === 'undo' ? text.history.undone(step.what) : text.history.redone(step.what));
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
    const columns = columnsFor(bag, opened ? [] : now.columns);
    const groups = groupsOf(bag);
    store.set({
      form,
      bag,
      columns,
      faults: [],
      stance: !opened && bag.stances.some((s) => s.name === now.stance) ? now.stance : openingStance(bag),
      editing: Math.min(opened ? 0 : now.editing, columns.length - 1),
      group: groups.has(now.group) ? now.group : (groups.keys().next().value ?? 'wall'),
      saved: keepBag(written(form)),
      undo: history.undoable?.what ?? null,
      redo: history.redoable?.what ?? null,
    });
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.keepSteps(), HAND_RESTS);
    tell.changed();
    if (redrafted) tell.redrafted(bag);
  }
}
