import { type Bag, presetNames } from '../core.ts';
import { type ClothLook, clothLook } from '../view/palette.ts';
import { type Group, groupsOf } from './bag-form.ts';
import { text } from './text.ts';

/** One entry of a list of materials. */
export interface MaterialChoice {
  readonly id: string;
  readonly label: string;
  /** Heading it stands under; '' for none. */ readonly family: string;
}

const byId = new Map(presetNames().map((p) => [p.id, p] as const));

/** A preset's name without its alternatives and remarks: "canvas / duck 10 oz/yd2" is "canvas 10 oz" to whoever compares four of them. */
const shortName = (name: string): string =>
  name
    .replace(/\s*\([^)]*\)/g, '')
    .replace(/(\S+) \/ \S+/, '$1')
    .replace('/yd2', '');

/** Everything that can be laid into a stack: the file's own materials first, then the built-in ones in their families. */
export function materialChoices(bag: Bag): MaterialChoice[] {
  return [
    ...bag.materials.map((m) => ({ id: m.id, label: m.name || m.id, family: 'own' })),
    ...presetNames().map((p) => ({ id: p.id, label: shortName(p.name), family: p.family })),
  ];
}

function familyOf(bag: Bag, material: string): string | null {
  const own = bag.materials.find((m) => m.id === material);
  return byId.get(own?.like ?? material)?.family ?? null;
}

export const isInterfacing = (bag: Bag, material: string): boolean => familyOf(bag, material) === 'interlining';

/** Leather is bought by its thickness, so only there does a gauge field make sense. */
export const gaugeMatters = (material: string): boolean => byId.get(material)?.family === 'leather';

const materialName = (bag: Bag, material: string): string => bag.materials.find((m) => m.id === material)?.name ?? byId.get(material)?.name ?? material;

/** How a panel of this option is drawn: by the outermost layer of its stack. */
export function panelLook(bag: Bag, option: string, panel: string): ClothLook {
  return stackLook(bag, bag.options.find((o) => o.name === option)?.stacks[panel] ?? '');
}

/** How something made of this stack is drawn; plain cloth for an unknown one. */
export function stackLook(bag: Bag, stackName: string): ClothLook {
  const stack = bag.stacks.find((s) => s.name === stackName);
  const shell = stack?.kind === 'layers' ? stack.layers[0].material : null;
  const own = bag.materials.find((m) => m.id === shell);
  return clothLook(own?.like ?? shell, shell === null ? null : familyOf(bag, shell));
}

/** What a stack is made of, in a few words; '' for one that the file writes out in figures. */
function stackWords(bag: Bag, name: string | undefined): string {
  const stack = bag.stacks.find((s) => s.name === name);
  if (stack?.kind !== 'layers') return '';
  return stack.layers
    .map((l, i) => (i > 0 && l.join !== 'loose' ? `${shortName(materialName(bag, l.material))} ${l.join}` : shortName(materialName(bag, l.material))))
    .join(', ');
}

/** Stacks of an option by group, each with its panels' stacks in words. */
function groupStacks(bag: Bag, option: string): { readonly group: Group; readonly name: string; readonly words: string }[] {
  const choice = bag.options.find((o) => o.name === option);
  return [...groupsOf(bag)].map(([group, panels]) => {
    const name = choice?.stacks[panels[0]] ?? '';
    return { group, name, words: stackWords(bag, name) };
  });
}

/**
 * What stands over an option's bay: its name in the file, then what the page has made of it since, group by group; of one that only has the letter of its
 * column for a name, the stacks alone.
 */
function optionTitle(bag: Bag, option: string): string {
  const groups = groupStacks(bag, option).filter((g) => g.words !== '');
  const unnamed = /^[A-Z]$/.test(option);
  const told = unnamed ? groups : groups.filter((g) => g.name.startsWith(`${option}, `));
  if (told.length === 0) return option;
  // Groups of one stack are told together.
  const stacks = [...new Set(told.map((g) => g.words))].map((words) => ({
    words,
    groups: told.filter((g) => g.words === words).map((g) => text.controls.groups[g.group]),
  }));
  const all = stacks.length === 1 && stacks[0].groups.length === groups.length;
  const made = all ? stacks[0].words : stacks.map((s) => `${s.groups.join(', ')} ${s.words}`).join('; ');
  return unnamed ? made : `${option}; ${made}`;
}

/** Titles of options side by side: where two would read alike, the first group in which their stacks differ is added to each. */
export function optionTitles(bag: Bag, options: readonly string[]): string[] {
  const titles = options.map((o) => optionTitle(bag, o));
  return titles.map((title, i) => {
    const twin = titles.findIndex((t, k) => k !== i && t === title);
    if (twin < 0) return title;
    const [own, other] = [groupStacks(bag, options[i]), groupStacks(bag, options[twin])];
    const apart = own.find((g, k) => g.words !== other[k].words);
    return apart ? `${title}; ${text.controls.groups[apart.group]} ${apart.words}` : title;
  });
}
