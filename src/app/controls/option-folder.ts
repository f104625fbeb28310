import type GUI from 'lil-gui';
import type { Controller } from 'lil-gui';
import { type BagForm, type Group, type Layers, layersOf, panelsOf } from '../page/bag-form.ts';
import { h, refill } from '../page/dom.ts';
import { gaugeMatters, isInterfacing, type MaterialChoice, materialChoices } from '../page/materials.ts';
import type { State } from '../page/store.ts';
import { text } from '../page/text.ts';
import type { FolderMaker } from './controls.ts';
import { keyed } from './typed-fields.ts';
import { words as added } from './words.ts';

const words = text.controls;
const own = added.option;

/** Most options that a bag has on this page: a list of more is not read. */
const MOST_OPTIONS = 12;

/** The option being edited: which one, which of its panels, and the layers of their stack. */
export function addOption({ fields, wishes, row, onState }: FolderMaker, folder: GUI, state: State, groups: readonly Group[]): void {
  let layers: Layers | null = null;
  const letters = state.columns.map((c, i) => ({ value: String(i), label: c.letter }));
  row(
    folder,
    words.option,
    letters,
    (s) => String(s.editing),
    (value) => wishes.edit(Number(value)),
  );
  const name = fields.add(
    folder,
    'option name',
    own.name,
    own.nameHint,
    (value) => wishes.renameOption(value),
    () => null,
  );
  if (groups.length > 1) {
    const parts = [{ value: 'all', label: own.all }, ...groups.map((g) => ({ value: g, label: words.groupsShort[g] }))];
    row(
      folder,
      words.panels,
      parts,
      (s) => s.group,
      (value) => wishes.editGroup(value as Group | 'all'),
    );
  }
  const addLayer = (key: string, label: string, choices: readonly MaterialChoice[], change: (layers: Layers, value: string) => Layers): Controller => {
    const controller = addList(folder, fields.values, key, label, choices);
    controller.onChange((value: string) => layers && wishes.setLayers(change(layers, value)));
    return controller;
  };
  const all = materialChoices(state.bag);
  const none = { id: '', label: words.none, family: '' };
  const stiffeners = [none, ...all.filter((m) => m.family === 'interlining' || m.family === 'own')];
  const linings = [none, ...all.filter((m) => m.family !== 'interlining')];
  const joins = (Object.keys(words.joins) as (keyof typeof words.joins)[]).map((j) => ({ id: j, label: words.joins[j], family: '' }));
  const shell = addLayer('shell', words.shell, all, (l, v) => ({ ...l, shell: v, thickness: v === l.shell ? l.thickness : '' }));
  const gauge = fields.add(folder, 'gauge', words.gauge, words.gaugeHint, (value) => layers && wishes.setLayers({ ...layers, thickness: value }));
  const inter = addLayer('interfacing', words.interfacing, stiffeners, (l, v) => ({ ...l, interfacing: v || null }));
  const join = addLayer('join', words.joined, joins, (l, v) => ({ ...l, join: v as Layers['join'] }));
  const lining = addLayer('lining', words.lining, linings, (l, v) => ({ ...l, lining: v || null }));
  const note = h('p', { class: 'controls-note' });
  folder.$children.append(note);
  const buttons = {
    add: () => wishes.addOption(),
    remove: () => wishes.removeOption(),
    earlier: () => wishes.moveOption(-1),
    later: () => wishes.moveOption(1),
  };
  const add = keyed(folder.add(buttons, 'add').name(own.copy), 'add');
  const earlier = keyed(folder.add(buttons, 'earlier').name(own.earlier), 'earlier');
  const later = keyed(folder.add(buttons, 'later').name(own.later), 'later');
  const remove = keyed(folder.add(buttons, 'remove').name(words.remove), 'remove');
  onState((now) => {
    const { stacks, names } = chosenStacks(now);
    const { letter, option } = now.columns[now.editing];
    folder.title(now.group === 'all' ? own.allTitle(letter) : words.optionTitle(letter, words.groups[now.group]));
    // A letter is the name of none.
    fields.showWritten(name, 'option name', /^[A-Z]$/.test(option) ? '' : option, false);
    const l = layersOf(stacks[0], (m) => isInterfacing(now.bag, m));
    layers = l;
    Object.assign(fields.values, {
      shell: l?.shell ?? '',
      ...(fields.isTyping('gauge') ? {} : { gauge: l?.thickness ?? '' }),
      interfacing: l?.interfacing ?? '',
      join: l?.join ?? 'fused',
      lining: l?.lining ?? '',
    });
    for (const c of [shell, inter, join, lining, gauge]) c.updateDisplay().disable(l === null);
    gauge.show(l !== null && gaugeMatters(l.shell));
    join.disable(!l?.interfacing);
    refill(note, l === null ? words.direct : stacks.length > 1 ? words.mixed(names.join(', ')) : '');
    earlier.disable(now.editing === 0);
    later.disable(now.editing === now.columns.length - 1);
    add.disable(now.bag.options.length >= MOST_OPTIONS);
    remove.disable(now.columns.length <= 1);
  });
}

/** A list with the families as headings inside it. */
function addList(folder: GUI, values: Record<string, string>, key: string, label: string, choices: readonly MaterialChoice[]): Controller {
  values[key] = choices[0]?.id ?? '';
  const byLabel = Object.fromEntries(choices.map((c) => [c.label, c.id]));
  const controller = keyed(folder.add(values, key, byLabel).name(label), key);
  const select = controller.domElement.querySelector('select')!;
  // Headings inside the list; the order stays, so lil-gui's own index into its values stays right.
  const families = new Map<string, HTMLOptGroupElement>();
  [...select.options].forEach((option, i) => {
    const { family } = choices[i];
    if (!family) return;
    if (!families.has(family)) families.set(family, select.appendChild(h('optgroup', { label: words.families[family] ?? family })));
    families.get(family)!.append(option);
  });
  return controller;
}

/** The stacks of the panels being edited, without repeats. */
function chosenStacks(state: State): { readonly stacks: BagForm['stacks'][string][]; readonly names: string[] } {
  const option = state.bag.options.find((o) => o.name === state.columns[state.editing].option);
  const panels = panelsOf(state.bag, state.group);
  const names = [...new Set(panels.map((p) => option?.stacks[p] ?? ''))];
  return { names, stacks: names.map((name) => state.form.stacks[name]) };
}
