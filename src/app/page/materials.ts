import { type Bag, presetNames } from '../core.ts';
import { type ClothLook, clothLook } from '../view/palette.ts';

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

/**
 * What stands over an option's bay: its name in the file, until its front (or first panel) has a stack made on the page; then what that stack is
 * made of, because the file's name no longer says it.
 */
export function optionTitle(bag: Bag, option: string): string {
  const choice = bag.options.find((o) => o.name === option);
  const panel = bag.panels.find((p) => p.role === 'front') ?? bag.panels[0];
  const stack = bag.stacks.find((s) => s.name === choice?.stacks[panel?.name ?? '']);
  if (stack?.kind !== 'layers' || !stack.name.startsWith(`${option}, `)) return option;
  return stack.layers
    .map((l, i) => (i > 0 && l.join !== 'loose' ? `${shortName(materialName(bag, l.material))} ${l.join}` : shortName(materialName(bag, l.material))))
    .join(', ');
}
