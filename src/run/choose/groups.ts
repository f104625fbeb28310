/** Which panels get one stack, and what of the drawn option stays. */
import type { Bag, BagOption, Layer, PanelRole, Stack } from '../../bag/types.ts';

/** Panels that a maker gives one stack. */
export interface PanelGroup {
  readonly key: 'walls' | 'sides' | 'base' | 'flap' | 'others';
  /** Indices into bag.panels. */ readonly panels: readonly number[];
}

const ROLES: readonly (readonly [PanelGroup['key'], readonly PanelRole[]])[] = [
  ['walls', ['front', 'back', 'body']],
  ['sides', ['side', 'gusset']],
  ['base', ['base']],
  ['flap', ['flap']],
  ['others', ['pocket', 'strap', 'trim', 'flat']],
];

/** Groups that the bag has, in this order; the first is the one that leads (walls, or else what there is). */
export const groupsOf = (bag: Bag): readonly PanelGroup[] =>
  ROLES.map(([key, roles]): PanelGroup => ({ key, panels: bag.panels.flatMap((p, i) => (roles.includes(p.role) ? [i] : [])) })).filter(
    (g) => g.panels.length > 0,
  );

/** Interlinings, foams and boards: what between shell and lining is neither. Common practice, no source. */
const INNER = /^(fus_|sewin|nwboard|leatherboard|fibreboard|pp\d|ldpe|hdpe|fleece|foam|pefoam|spacermesh|neoprene|felt)/;

const kindOf = (bag: Pick<Bag, 'materials'>, material: string): string => {
  const own = bag.materials.find((m) => m.id === material);
  return own ? (own.like ?? '') : material;
};

/** The layers of a drawn stack by what they are for; null of a stack of stated figures. */
export interface DrawnStack {
  readonly shell: Layer;
  readonly lining: Layer | null;
}

export function drawnStack(bag: Bag, stack: Stack | undefined): DrawnStack | null {
  if (stack?.kind !== 'layers') return null;
  const [shell, ...rest] = stack.layers;
  const last = rest[rest.length - 1];
  return { shell: shell!, lining: last && !INNER.test(kindOf(bag, last.material)) ? last : null };
}

export const stackNamed = (bag: Bag, name: string | undefined): Stack | undefined => bag.stacks.find((s) => s.name === name);

/**
 * What a region adds to its panel's stack in the drawn option: its layers that the panel has not, or null where it is a thing of its own (another shell, stated figures)
 * and stays as it is drawn.
 */
export function addedBy(bag: Bag, option: BagOption, panel: number, region: string): readonly Layer[] | null {
  const { name, regions } = bag.panels[panel]!;
  const of = stackNamed(bag, option.regions[`${name}/${region}`] ?? regions.find((r) => r.name === region)?.stack),
    under = stackNamed(bag, option.stacks[name]);
  if (of?.kind !== 'layers' || under?.kind !== 'layers' || of.layers[0]!.material !== under.layers[0]!.material) return null;
  const left = under.layers.map((l) => l.material);
  return of.layers.slice(1).filter((l) => {
    const at = left.indexOf(l.material, 1);
    if (at < 0) return true;
    left.splice(at, 1);
    return false;
  });
}
