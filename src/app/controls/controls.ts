import GUI from 'lil-gui';
import type { Fault } from '../core.ts';
import type { BagEdits } from '../page/bag-edits.ts';
import { type End, endsOf, type Group, groupsOf, type Layers, type Side } from '../page/bag-form.ts';
import { h } from '../page/dom.ts';
import { segmentedRow } from '../page/segmented.ts';
import type { Preferences, State, Store } from '../page/store.ts';
import { text } from '../page/text.ts';
import { controlWishes } from './control-wishes.ts';
import { addOption } from './option-folder.ts';
import { addBag, addStraps } from './size-folders.ts';
import { addStance } from './stance-folder.ts';
import { TypedFields } from './typed-fields.ts';

/** What the controls ask for; the page decides what becomes of it. */
export interface Wishes {
  setParameter(name: string, value: string): void;
  setStance(name: string): void;
  setWanted(wanted: string): void;
  setLayers(layers: Layers): void;
  setAnchor(strap: string, end: End, side: Side, value: string): void;
  setStrapLength(strap: string, value: string): void;
  setLoad(value: string): void;
  setKind(kind: 'standing' | 'hung'): void;
  setFrom(from: string): void;
  /** '' for a level table. */ setTilt(angle: string): void;
  setToward(side: string): void;
  /** Closes or opens a closure in the stance shown. */ setClosed(closure: string, on: boolean): void;
  putIn(thing: string): void;
  takeOut(thing: string): void;
  addHandles(): void;
  addStance(): void;
  removeStance(): void;
  edit(option: number): void;
  editGroup(group: Group | 'all'): void;
  renameOption(name: string): void;
  /** Moves the option edited one place left or right. */ moveOption(by: -1 | 1): void;
  addOption(): void;
  removeOption(): void;
  prefer(change: Partial<Preferences>): void;
}

/** The panel of controls of a bag: what it asks for goes through `edits`. */
export const makeControls = (host: HTMLElement, store: Store, edits: BagEdits, o: Parameters<typeof controlWishes>[2]): Controls =>
  new Controls(host, controlWishes(store, edits, o));

/** What a folder of the panel is made with. */
export interface FolderMaker {
  readonly wishes: Wishes;
  readonly fields: TypedFields;
  /** Adds a row of choices. */
  row(folder: GUI, legend: string, choices: readonly { value: string; label: string }[], read: (state: State) => string, choose: (value: string) => void): void;
  /** Hears of every new state, and of the first one. */ onState(sync: (state: State) => void): void;
}

const words = text.controls;

/** The panel of controls at the left: lil-gui folders, with rows of choices of our own inside them. */
export class Controls {
  private gui: GUI | null = null;
  private built = '';
  private readonly fields = new TypedFields();
  private syncs: ((state: State) => void)[] = [];
  constructor(
    private readonly host: HTMLElement,
    private readonly wishes: Wishes,
  ) {}

  update(state: State): void {
    const groups = [...groupsOf(state.bag).keys()];
    const key = JSON.stringify([
      state.bag.parameters.map((p) => [p.name, p.label]),
      state.columns.map((c) => c.option),
      state.bag.stances.map((on) => [on.name, on.kind]),
      groups,
      strapKey(state.form),
      state.bag.materials.map((m) => m.id),
    ]);
    if (key !== this.built) {
      this.built = key;
      this.rebuild(state, groups);
    }
    for (const sync of this.syncs) sync(state);
  }

  /** Goes to the field of the first of these faults that has one, else to the first of the panel. Returns false where the panel is not shown. */
  focusOn(faults: readonly Fault[]): boolean {
    const keys = faults.map(({ path }) => path.replace(/^parameters\./, 'parameter ').replace(/^stances\..*\.load.*/, 'load'));
    const fields = [...this.host.querySelectorAll<HTMLElement>('[data-key]')];
    const field = fields.find((f) => keys.includes(f.dataset.key!)) ?? fields[0];
    field?.focus();
    return field !== undefined && field === document.activeElement;
  }

  private rebuild(state: State, groups: readonly Group[]): void {
    const focused = (document.activeElement as HTMLElement | null)?.dataset.key;
    const closed = this.gui?._closed ?? window.matchMedia('(max-width: 719px)').matches;
    this.gui?.destroy();
    this.syncs = [];
    const gui = new GUI({ container: this.host, title: words.title, width: 0 });
    this.gui = gui;
    const maker: FolderMaker = {
      wishes: this.wishes,
      fields: this.fields,
      row: (folder, legend, choices, read, choose) => {
        const row = segmentedRow(legend, choices, '', choose);
        folder.$children.append(row.element);
        this.syncs.push((now) => row.set(read(now)));
      },
      onState: (sync) => this.syncs.push(sync),
    };
    if (state.bag.parameters.length > 0) addBag(maker, gui.addFolder(words.bag), state);
    addStance(maker, gui.addFolder(words.stance), state);
    if (Object.keys(state.form.straps ?? {}).length > 0) addStraps(maker, gui.addFolder(words.straps.title), state);
    const wants = Object.entries(words.wants).map(([value, label]) => ({ value, label }));
    maker.row(gui.addFolder(words.wanted), words.wanted, wants, (s) => s.bag.wanted, this.wishes.setWanted);
    addOption(maker, gui.addFolder(words.option), state, groups);
    addLook(maker, gui.addFolder(words.look));
    if (closed) gui.close();
    if (focused) this.host.querySelector<HTMLElement>(`[data-key="${CSS.escape(focused)}"]`)?.focus();
  }
}

/** Choices of the viewer: shading, units, mesh. */
function addLook({ row, wishes }: FolderMaker, folder: GUI): void {
  const add = <K extends keyof Preferences>(legend: string, key: K, labels: Readonly<Record<Preferences[K], string>>): void => {
    const choices = (Object.keys(labels) as Preferences[K][]).map((value) => ({ value, label: labels[value] }));
    folder.$children.append(h('div', { class: 'row-name', 'aria-hidden': 'true' }, legend));
    row(
      folder,
      legend,
      choices,
      (s) => s.preferences[key],
      (value) => wishes.prefer({ [key]: value } as Partial<Preferences>),
    );
  };
  add(words.shade, 'shade', words.shades);
  add(words.units, 'units', words.unit);
  add(words.fineness, 'fineness', words.finenesses);
}

/** Changes when other fields are needed for the straps. */
const strapKey = (form: State['form']): string =>
  Object.keys(form.straps ?? {})
    .map((s) => `${s}: ${endsOf(form, s).map((e) => `${e.end} ${e.side}`)}`)
    .join();
