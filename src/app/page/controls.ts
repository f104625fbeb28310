import GUI, { type Controller } from 'lil-gui';
import { type Fault, lengthIn } from '../core.ts';
import { type BagForm, type End, endsOf, type Group, groupsOf, idleParameters, type Layers, layersOf, loadOf, type Side } from './bag-form.ts';
import { h, refill } from './dom.ts';
import { inOtherUnit, stepped, steppedMass, withMassUnit, withUnitOf } from './format.ts';
import { gaugeMatters, isInterfacing, type MaterialChoice, materialChoices } from './materials.ts';
import { segmentedRow } from './segmented.ts';
import type { Preferences, State } from './store.ts';
import { text } from './text.ts';

/** What the controls ask for; the page decides what becomes of it. */
export interface Wishes {
  setParameter(name: string, value: string): void;
  setStance(name: string): void;
  setWanted(wanted: string): void;
  setLayers(layers: Layers): void;
  setAnchor(strap: string, end: End, side: Side, value: string): void;
  setStrapLength(strap: string, value: string): void;
  setLoad(value: string): void;
  edit(option: number): void;
  editGroup(group: Group): void;
  addOption(): void;
  removeOption(): void;
  prefer(change: Partial<Preferences>): void;
}

const words = text.controls;
const keyed = (controller: Controller, key: string): Controller => {
  for (const field of controller.domElement.querySelectorAll<HTMLElement>('input, select, button')) field.dataset.key = key;
  return controller;
};

/** The panel of controls at the left: lil-gui folders, with rows of choices of our own inside them. */
export class Controls {
  private gui: GUI | null = null;
  private built = '';
  private readonly fields: Record<string, string> = {};
  /** What each field held when it was last entered or shown: the same again is no news. */
  private readonly entered: Record<string, string> = {};
  /** Fields in which something has been typed and not yet entered: no news from the solver may take the letters away. */
  private readonly typing = new Set<string>();
  private layers: Layers | null = null;
  private syncs: ((state: State) => void)[] = [];
  constructor(
    private readonly host: HTMLElement,
    private readonly wishes: Wishes,
  ) {}

  update(state: State): void {
    const groups = [...groupsOf(state.bag).keys()];
    const key = JSON.stringify([
      state.bag.parameters.map((p) => p.name),
      state.columns.map((c) => c.option),
      state.bag.stances,
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
    this.addBag(gui.addFolder(words.bag), state);
    if (state.bag.stances.length > 1) {
      const choices = state.bag.stances.map((s) => ({ value: s.name, label: s.name }));
      this.addRow(gui.addFolder(words.stance), words.stance, choices, (s) => s.stance, this.wishes.setStance);
    }
    if (Object.keys(state.form.straps ?? {}).length > 0) this.addStraps(gui.addFolder(words.straps.title), state);
    const wants = Object.entries(words.wants).map(([value, label]) => ({ value, label }));
    this.addRow(gui.addFolder(words.wanted), words.wanted, wants, (s) => s.bag.wanted, this.wishes.setWanted);
    this.addOption(gui.addFolder(words.option), state, groups);
    this.addLook(gui.addFolder(words.look));
    if (closed) gui.close();
    if (focused) this.host.querySelector<HTMLElement>(`[data-key="${CSS.escape(focused)}"]`)?.focus();
  }

  private addRow(
    folder: GUI,
    legend: string,
    choices: readonly { value: string; label: string }[],
    read: (state: State) => string,
    choose: (value: string) => void,
  ): void {
    const row = segmentedRow(legend, choices, '', choose);
    folder.$children.append(row.element);
    this.syncs.push((state) => row.set(read(state)));
  }

  /** A typed field that reports on Enter or on leaving, and steps with the arrow keys. */
  private addTyped(folder: GUI, key: string, label: string, hint: string, report: (value: string) => void, step = stepped): Controller {
    this.fields[key] ??= '';
    const controller = keyed(folder.add(this.fields, key).name(label), key);
    const input = controller.domElement.querySelector('input')!;
    const finish = (value: string): void => {
      this.typing.delete(key);
      if (value === this.entered[key]) return;
      this.entered[key] = value;
      report(value.trim());
    };
    input.title = hint;
    input.addEventListener('focus', () => input.select());
    input.addEventListener('input', () => this.typing.add(key));
    input.addEventListener('focusout', () => this.typing.delete(key));
    // Ahead of lil-gui, which would leave the field: the arrow keys are to go on from what was entered.
    const enter = (event: KeyboardEvent): void => {
      if (event.key !== 'Enter') return;
      event.stopImmediatePropagation();
      finish(input.value);
      input.select();
    };
    input.addEventListener('keydown', enter, { capture: true });
    input.addEventListener('keydown', (event) => {
      if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
      const next = step(input.value, event.key === 'ArrowUp' ? 1 : -1, event.shiftKey);
      if (next === null) return;
      event.preventDefault();
      this.fields[key] = this.entered[key] = next;
      this.typing.delete(key);
      controller.updateDisplay();
      report(next);
    });
    controller.onFinishChange(finish);
    return controller;
  }

  /** Shows a field's value, in the field that has the focus as well (lil-gui leaves that one alone), unless letters are being typed there. */
  private showTyped(controller: Controller, key: string): void {
    controller.updateDisplay();
    const input = controller.domElement.querySelector('input')!;
    if (this.typing.has(key)) return;
    this.entered[key] = this.fields[key];
    if (input.value !== this.fields[key]) input.value = this.fields[key];
  }

  private addBag(folder: GUI, state: State): void {
    let [form, idle]: [BagForm | null, ReadonlySet<string>] = [null, new Set()];
    this.syncs.push((now) => {
      if (form !== now.form) idle = idleParameters(now.form);
      form = now.form;
    });
    for (const { name } of state.bag.parameters) {
      const key = `parameter ${name}`;
      const field = this.addTyped(folder, key, words.parameter[name] ?? name, words.dimensionHint, (value) =>
        this.wishes.setParameter(name, withUnitOf(value, written)),
      );
      const beside = h('small', { class: 'other-unit' });
      field.$name.append(beside);
      let written = '';
      this.syncs.push((now) => {
        const parameter = now.bag.parameters.find((p) => p.name === name);
        written = parameter?.text ?? '';
        const fault = now.faults.some((f) => f.path === `parameters.${name}`);
        // Beside a refused value the size of the one before would be taken for its own.
        const size = !fault && parameter?.kind === 'length' ? inOtherUnit(parameter.value, written) : '';
        refill(beside, size, !fault && idle.has(name) ? h('span', { class: 'idle', title: words.idleHint }, words.idle) : '');
        field.domElement.querySelector('input')!.setAttribute('aria-invalid', String(fault));
        if (!fault && !this.typing.has(key)) this.fields[key] = String(now.form.parameters?.[name] ?? '');
        this.showTyped(field, key);
      });
    }
  }

  /** Where each strap is sewn on, how long it is, and what the bag carries; there while the bag hangs. */
  private addStraps(folder: GUI, state: State): void {
    const wish = this.wishes;
    for (const strap of Object.keys(state.form.straps ?? {})) {
      const path = `straps.${strap}`;
      const several = endsOf(state.form, strap).length > 1;
      for (const { end, side } of endsOf(state.form, strap)) {
        const owner = end === 'to' && several ? words.straps.otherEnd(strap) : strap;
        const read = (form: BagForm): string => endsOf(form, strap).find((e) => e.end === end)?.written ?? '';
        this.addWritten(folder, `${path}.${end}.${side}`, words.straps.from[side], owner, read, (value) => wish.setAnchor(strap, end, side, value));
      }
      const read = (form: BagForm): string => String(form.straps?.[strap]?.length ?? '');
      this.addWritten(folder, `${path}.length`, words.straps.length, strap, read, (value) => wish.setStrapLength(strap, value));
    }
    const key = 'load';
    let written = '';
    const load = this.addTyped(folder, key, words.straps.load, words.straps.loadHint, (value) => wish.setLoad(withMassUnit(value, written)), steppedMass);
    folder.$children.append(h('p', { class: 'controls-note' }, text.cut.caution));
    this.syncs.push((now) => {
      folder.show(now.bag.stances.some((s) => s.name === now.stance && s.kind === 'hung'));
      written = loadOf(now.form, now.stance);
      this.showWritten(
        load,
        key,
        written,
        now.faults.some((f) => f.path.startsWith(`stances.${now.stance}.load`)),
      );
    });
  }

  /** A typed length of a strap in the bag file, kept under its path there. */
  private addWritten(folder: GUI, path: string, label: string, owner: string, read: (form: BagForm) => string, report: (value: string) => void): void {
    let written = '';
    const field = this.addTyped(folder, path, label, words.dimensionHint, (value) => report(withUnitOf(value, written)));
    const beside = h('small', { class: 'other-unit' });
    field.$name.append(beside);
    this.syncs.push((now) => {
      written = read(now.form);
      const fault = now.faults.some((f) => f.path === path);
      const size = fault ? null : lengthIn(now.bag, written);
      refill(beside, owner, size === null ? '' : h('br'), size === null ? '' : inOtherUnit(size, written));
      this.showWritten(field, path, written, fault);
    });
  }

  /** Shows what the file says, unless what was typed last is at fault and still stands there. */
  private showWritten(field: Controller, key: string, written: string, fault: boolean): void {
    field.domElement.querySelector('input')!.setAttribute('aria-invalid', String(fault));
    if (!fault && !this.typing.has(key)) this.fields[key] = written;
    this.showTyped(field, key);
  }

  private addOption(folder: GUI, state: State, groups: readonly Group[]): void {
    const letters = state.columns.map((c, i) => ({ value: String(i), label: c.letter }));
    this.addRow(
      folder,
      words.option,
      letters,
      (s) => String(s.editing),
      (value) => this.wishes.edit(Number(value)),
    );
    if (groups.length > 1) {
      const parts = groups.map((g) => ({ value: g, label: words.groupsShort[g] }));
      this.addRow(
        folder,
        words.panels,
        parts,
        (s) => s.group,
        (value) => this.wishes.editGroup(value as Group),
      );
    }
    const all = materialChoices(state.bag);
    const none = { id: '', label: words.none, family: '' };
    const cloths = all.filter((m) => m.family !== 'interlining');
    const shell = this.addLayer(folder, 'shell', words.shell, all, (l, v) => ({ ...l, shell: v, thickness: v === l.shell ? l.thickness : '' }));
    const gauge = this.addTyped(
      folder,
      'gauge',
      words.gauge,
      words.gaugeHint,
      (value) => this.layers && this.wishes.setLayers({ ...this.layers, thickness: value }),
    );
    const inter = this.addLayer(
      folder,
      'interfacing',
      words.interfacing,
      [none, ...all.filter((m) => m.family === 'interlining' || m.family === 'own')],
      (l, v) => ({ ...l, interfacing: v || null }),
    );
    const joins = (Object.keys(words.joins) as (keyof typeof words.joins)[]).map((j) => ({ id: j, label: words.joins[j], family: '' }));
    const join = this.addLayer(folder, 'join', words.joined, joins, (l, v) => ({ ...l, join: v as Layers['join'] }));
    const lining = this.addLayer(folder, 'lining', words.lining, [none, ...cloths], (l, v) => ({ ...l, lining: v || null }));
    const note = h('p', { class: 'controls-note' });
    folder.$children.append(note);
    const buttons = { add: () => this.wishes.addOption(), remove: () => this.wishes.removeOption() };
    const add = keyed(folder.add(buttons, 'add').name(words.add), 'add');
    const remove = keyed(folder.add(buttons, 'remove').name(words.remove), 'remove');
    this.syncs.push((now) => {
      const { stacks, names } = chosenStacks(now);
      const column = now.columns[now.editing];
      folder.title(words.optionTitle(column.letter, words.groups[now.group]));
      this.layers = layersOf(stacks[0], (m) => isInterfacing(now.bag, m));
      const l = this.layers;
      Object.assign(this.fields, {
        shell: l?.shell ?? '',
        ...(this.typing.has('gauge') ? {} : { gauge: l?.thickness ?? '' }),
        interfacing: l?.interfacing ?? '',
        join: l?.join ?? 'fused',
        lining: l?.lining ?? '',
      });
      for (const c of [shell, inter, join, lining, gauge]) c.updateDisplay().disable(l === null);
      gauge.show(l !== null && gaugeMatters(l.shell));
      join.disable(!l?.interfacing);
      refill(note, l === null ? words.direct : stacks.length > 1 ? words.mixed(names.join(', ')) : '');
      add.disable(now.columns.length >= 4);
      remove.disable(now.columns.length <= 1);
    });
  }

  private addLayer(folder: GUI, key: string, label: string, choices: readonly MaterialChoice[], change: (layers: Layers, value: string) => Layers): Controller {
    this.fields[key] = choices[0]?.id ?? '';
    const byLabel = Object.fromEntries(choices.map((c) => [c.label, c.id]));
    const controller = keyed(folder.add(this.fields, key, byLabel).name(label), key);
    const select = controller.domElement.querySelector('select')!;
    // Headings inside the list; the order stays, so lil-gui's own index into its values stays right.
    const families = new Map<string, HTMLOptGroupElement>();
    [...select.options].forEach((option, i) => {
      const { family } = choices[i];
      if (!family) return;
      if (!families.has(family)) families.set(family, select.appendChild(h('optgroup', { label: words.families[family] ?? family })));
      families.get(family)!.append(option);
    });
    controller.onChange((value: string) => this.layers && this.wishes.setLayers(change(this.layers, value)));
    return controller;
  }

  private addLook(folder: GUI): void {
    const row = <K extends keyof Preferences>(legend: string, key: K, labels: Readonly<Record<Preferences[K], string>>): void => {
      const choices = (Object.keys(labels) as Preferences[K][]).map((value) => ({ value, label: labels[value] }));
      folder.$children.append(h('div', { class: 'row-name', 'aria-hidden': 'true' }, legend));
      this.addRow(
        folder,
        legend,
        choices,
        (s) => s.preferences[key],
        (value) => this.wishes.prefer({ [key]: value } as Partial<Preferences>),
      );
    };
    row(words.shade, 'shade', words.shades);
    row(words.units, 'units', words.unit);
    row(words.fineness, 'fineness', words.finenesses);
  }
}

/** The stacks of the panels being edited, without repeats. */
function chosenStacks(state: State): { readonly stacks: BagForm['stacks'][string][]; readonly names: string[] } {
  const option = state.bag.options[state.editing];
  const panels = groupsOf(state.bag).get(state.group) ?? [];
  const names = [...new Set(panels.map((p) => option?.stacks[p] ?? ''))];
  return { names, stacks: names.map((name) => state.form.stacks[name]) };
}

/** Changes when other fields are needed for the straps. */
const strapKey = (form: BagForm): string =>
  Object.keys(form.straps ?? {})
    .map((s) => `${s}: ${endsOf(form, s).map((e) => `${e.end} ${e.side}`)}`)
    .join();
