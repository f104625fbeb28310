import harbourTote from '../../../demos/harbour-tote.bag.json?raw';
import { type Bag, BagError, parseBag } from '../core.ts';
import { columnsFor } from '../line-up/columns.ts';
import { type BagForm, groupFirst } from './bag-form.ts';
import { keptBag, keptHistory, keptPreferences, keptView, setAside, wouldKeep } from './browser-storage.ts';
import type { UnitChoice } from './format.ts';
import type { History } from './history.ts';
import { openingStance } from './opening-stance.ts';
import { type Preferences, SHADES, type State } from './store.ts';
import { text } from './text.ts';

const UNITS: readonly UnitChoice[] = ['inch', 'metric', 'both'];
/** Inches where the reader's language is that of a country that measures in them, millimetres elsewhere. */
const usualUnits = (): UnitChoice => (/-(US|LR|MM)\b/.test(navigator.language) ? 'inch' : 'metric');

/** The bag a first visit shows. */
export const EXAMPLE = harbourTote;

/** A bag as the page keeps it: what was written, and what it means. */
export interface Opened {
  readonly form: BagForm;
  readonly bag: Bag;
}

export const written = (form: BagForm): string => JSON.stringify(form, null, 2);

/** Parses text; the faults are handed on instead of thrown. */
export function tryParse(source: string): Opened | BagError {
  try {
    const bag = parseBag(source);
    return { bag, form: JSON.parse(source) as BagForm };
  } catch (error) {
    if (error instanceof BagError) return error;
    throw error;
  }
}

/** The page's state on opening: the kept bag with its history, or the example. Reads the browser's store. */
export function firstState(history: History): State {
  const kept = keptBag();
  let opened = kept === null ? null : tryParse(kept);
  // A kept bag that no longer parses (an older version) must not lock the page: it is put aside, its faults are told, and the example opens instead.
  const faults =
    kept !== null && opened instanceof BagError ? [{ path: '', got: text.file.unread(setAside(kept)), expected: text.file.readable }, ...opened.faults] : [];
  if (opened === null || opened instanceof BagError) opened = tryParse(EXAMPLE);
  if (opened instanceof BagError) throw opened;
  history.read(keptHistory());
  const { form, bag } = opened;
  const own = keptPreferences();
  const preferences: Preferences = {
    units: UNITS.find((u) => u === own.units) ?? usualUnits(),
    shade: SHADES.find((s) => s === own.shade) ?? 'cloth',
    fineness: own.fineness === 'quick' || own.fineness === 'fine' ? own.fineness : 'medium',
  };
  const saved = (kept !== null && faults.length === 0) || wouldKeep(written(form));
  const steps = { undo: history.undoable?.what ?? null, redo: history.redoable?.what ?? null };
  const last = keptView();
  const off = Array.isArray(last.off) ? last.off.filter((name) => bag.options.some((o) => o.name === name)) : [];
  const columns = columnsFor(bag, [], off);
  const editing = Math.max(
    0,
    columns.findIndex((c) => c.option === last.editing),
  );
  const stance = bag.stances.find((s) => s.name === last.stance)?.name ?? openingStance(bag);
  const group = groupFirst(bag, columns[editing].option);
  return { form, bag, stance, faults, refused: [], columns, off, weights: {}, editing, group, preferences, saved, stepsKept: true, ...steps };
}
