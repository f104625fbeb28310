import type { BagEdits } from '../page/bag-edits.ts';
import {
  panelsOf,
  withAnchor,
  withLayers,
  withLoad,
  withMovedOption,
  withOption,
  withoutOption,
  withParameter,
  withRenamedOption,
  withStrapLength,
  withWanted,
} from '../page/bag-form.ts';
import { keepPreferences } from '../page/browser-storage.ts';
import type { Preferences, Store } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { Wishes } from './controls.ts';
import { withClosed, withHandles, withKind, withNewStance, withoutStance, withoutThing, withStance, withThing } from './stance-form.ts';
import { words as added } from './words.ts';

const words = text.controls;
const own = added.stance;

/** What the panel of controls asks for, as changes of the bag and of the state. `refresh` solves what has changed; `settleFocus` finds the focus a place. */
export function controlWishes(store: Store, edits: BagEdits, o: { refresh(): void; settleFocus(): void; say(line: string): void }): Wishes {
  /** Changes the stance shown. */
  const change = (parts: Readonly<Record<string, unknown>>, what: string): void => {
    const { form, bag, stance } = store.state;
    edits.change(withStance(form, bag, stance, parts), what);
  };
  const goToOption = (option: string): void => {
    const at = store.state.columns.findIndex((c) => c.option === option);
    if (at >= 0) store.set({ editing: at });
  };
  const goTo = (stance: string): void => {
    store.set({ stance });
    o.refresh();
  };
  return {
    setParameter: (name, value) => {
      const label = store.state.bag.parameters.find((p) => p.name === name)?.label ?? words.parameter[name] ?? words.sizeNamed(name);
      return edits.change(withParameter(store.state.form, name, value), text.history.size(label, value));
    },
    setStance: (stance) => {
      store.set({ stance });
      o.refresh();
    },
    setWanted: (wanted) => edits.change(withWanted(store.state.form, wanted), text.history.wanted(words.wants[wanted as keyof typeof words.wants] ?? wanted)),
    setLayers: (layers) => {
      const { form, bag, editing, columns, group } = store.state;
      const label = group === 'all' ? added.option.allPanels : words.groups[group];
      const next = withLayers(form, bag, columns[editing].option, panelsOf(bag, group), label, layers);
      edits.change(next, text.history.layers(columns[editing].letter, label));
    },
    setAnchor: (strap, end, side, value) => {
      const owner = end === 'to' ? words.straps.otherEnd(strap) : strap;
      edits.change(withAnchor(store.state.form, strap, end, side, value), words.straps.changed(owner, words.straps.from[side], value));
    },
    setStrapLength: (strap, value) => edits.change(withStrapLength(store.state.form, strap, value), words.straps.changed(strap, words.straps.length, value)),
    setLoad: (mass) => {
      const { form, bag, stance } = store.state;
      edits.change(withLoad(form, bag, stance, mass), words.straps.changedLoad(mass));
    },
    setKind: (kind) => {
      const { form, bag, stance } = store.state;
      edits.change(withKind(form, bag, stance, kind), own.changed.kind(stance, own.kinds[kind]));
    },
    setFrom: (from) => change({ from, diameter: undefined, slope: undefined, apart: undefined }, own.changed.from(own.froms[from as keyof typeof own.froms])),
    setTilt: (angle) => change({ tilt: angle === '' ? undefined : angle, ...(angle === '' ? { toward: undefined } : {}) }, own.changed.tilt(angle)),
    setToward: (toward) => change({ toward }, own.changed.toward(toward)),
    setClosed: (closure, on) => {
      const { form, bag, stance } = store.state;
      edits.change(withClosed(form, bag, stance, closure, on), own.changed.closed(closure, on, stance));
    },
    putIn: (thing) => {
      const { form, bag, stance } = store.state;
      edits.change(withThing(form, bag, stance, thing), own.putIn(thing));
    },
    takeOut: (thing) => {
      const { form, bag, stance } = store.state;
      edits.change(withoutThing(form, bag, stance, thing), own.takeOut(thing));
    },
    addHandles: () => {
      const { form, bag } = store.state;
      const sewn = withHandles(form, bag);
      if (sewn && edits.change(sewn.form, own.changed.handles)) goTo(sewn.stance);
    },
    addStance: () => {
      const { form, bag, stance } = store.state;
      const made = withNewStance(form, bag, stance);
      if (edits.change(made.form, own.changed.added(made.stance))) goTo(made.stance);
    },
    removeStance: () => {
      const { form, bag, stance } = store.state;
      edits.change(withoutStance(form, bag, stance), own.changed.removed(stance));
    },
    edit: (editing) => store.set({ editing }),
    editGroup: (group) => store.set({ group }),
    addOption: () => {
      const { form, columns, editing } = store.state;
      const { form: next, option } = withOption(form, columns[editing].option);
      edits.change(next, added.option.copied(columns[editing].letter));
      goToOption(option);
      o.settleFocus();
    },
    removeOption: () => {
      const { form, columns, editing } = store.state;
      edits.change(withoutOption(form, columns[editing].option), text.history.removed(columns[editing].letter));
      o.settleFocus();
    },
    renameOption: (name) => {
      const { form, columns, editing } = store.state;
      const { option } = columns[editing];
      if (name === '' || name === option) return;
      if (Object.hasOwn(form.options, name)) return o.say(added.option.taken(name));
      edits.change(withRenamedOption(form, option, name), added.option.renamed(name));
    },
    moveOption: (by) => {
      const { form, columns, editing } = store.state;
      const { option } = columns[editing];
      edits.change(withMovedOption(form, option, by), added.option.moved(option));
      goToOption(option);
    },
    prefer: (wish: Partial<Preferences>) => {
      const preferences = { ...store.state.preferences, ...wish };
      // What is too small a thing to find room finds none for the bag either.
      store.set({ preferences, ...(keepPreferences(preferences) ? {} : { saved: false }) });
      if (wish.fineness) o.refresh();
    },
  };
}
