/** Every stack that a shelf allows for a bag. */
import { type Bag, BagError, type BagOption, type Fault, type Layer, type OwnMaterial, type Stack } from '../../bag/types.ts';
import { alike } from '../../numerics/index.ts';
import type { Shelf, ShelfItem, Use } from '../../shelf/types.ts';
import { addedBy, type DrawnStack, drawnStack, groupsOf, type PanelGroup, stackNamed } from './groups.ts';

/** One layer taken from the shelf. */
export interface Taken {
  readonly item: ShelfItem;
  readonly use: Use;
}

/** One choice for the whole bag. null: as drawn. */
export interface Choice {
  readonly shell: ShelfItem | null;
  /** null: as drawn, which may be none. */ readonly lining: ShelfItem | null;
  /** Between shell and lining, by group, from the face inward. */ readonly inner: Readonly<Record<PanelGroup['key'], readonly Taken[]>>;
}

/** What is asked of a shelf. */
export interface ShelfAsked {
  readonly bag: Bag;
  readonly option: BagOption;
  readonly shelf: Shelf;
  readonly keep: readonly ('shell' | 'lining')[];
}

/** More stacks than this are refused: what rules them out is looked at pair by pair. */
const MOST_STACKS = 4000;

const INNER_USES: readonly Use[] = ['fused', 'sewn in', 'foam', 'board'];
const NONE: readonly Taken[] = [];

/** Layers that may lie between a shell and a lining: none, one of each use, or a fused interfacing and foam behind it. Common practice, no source. */
function innersFor(shelf: Shelf, fusing: boolean): (readonly Taken[])[] {
  const of = (use: Use): Taken[] => shelf.items.filter((i) => i.uses.includes(use)).map((item) => ({ item, use }));
  const single = INNER_USES.filter((use) => use !== 'fused' || fusing).flatMap(of);
  const pairs = fusing
    ? of('fused').flatMap((f) =>
        of('foam')
          .filter((g) => g.item.id !== f.item.id)
          .map((g) => [f, g]),
      )
    : [];
  return [NONE, ...single.map((t) => [t]), ...pairs];
}

/** The drawn stacks of each group's first panel, walls first. */
export const drawnOf = (bag: Bag, option: BagOption): ReadonlyMap<PanelGroup['key'], DrawnStack | null> =>
  new Map(groupsOf(bag).map((g) => [g.key, drawnStack(bag, stackNamed(bag, option.stacks[bag.panels[g.panels[0]!]!.name]))]));

/**
 * Every choice: one shell for the whole bag; the drawn lining, or one of the shelf's where the option is lined and the shelf has any; between them, of the walls any of innersFor;
 * of the sides and the flap the walls' or none; of the base the walls', or a board laid in loose; pockets and trims bare. Throws BagError with every fault.
 */
export function choicesOf({ bag, option, shelf, keep }: ShelfAsked): { readonly choices: readonly Choice[]; readonly notes: readonly string[] } {
  const faults: Fault[] = [],
    notes: string[] = [];
  const groups = groupsOf(bag).map((g) => g.key),
    drawn = drawnOf(bag, option),
    lead = drawn.get(groups[0]!) ?? null;
  const shells: (ShelfItem | null)[] = keep.includes('shell') ? [null] : shelf.items.filter((i) => i.uses.includes('shell'));
  if (shells.length === 0)
    faults.push({
      path: 'items',
      got: 'nothing whose use is "shell"',
      expected: 'a material with "use": "shell", or --keep shell to keep the one in the bag file',
    });
  if (keep.includes('shell') && lead === null)
    faults.push({ path: `options.${option.name}`, got: 'a stack of stated figures', expected: 'a stack of layers, of which the first is the shell to keep' });
  const lined = [...drawn.values()].some((d) => d?.lining);
  const linings = shelf.items.filter((i) => i.uses.includes('lining'));
  if (!lined && linings.length > 0 && !keep.includes('lining')) notes.push('The bag file has no lining: none was tried.');
  if (lined && linings.length === 0 && !keep.includes('lining')) notes.push('The shelf has no lining: the one in the bag file stays.');
  if (faults.length > 0) throw new BagError(faults);
  const boards = shelf.items.filter((i) => i.uses.includes('board'));
  const choices: Choice[] = [];
  const unfusable = new Set<string>();
  for (const shell of shells)
    for (const lining of lined && linings.length > 0 && !keep.includes('lining') ? linings : [null]) {
      const fusing = shell === null || shell.takesFusing;
      if (!fusing) unfusable.add(shell.id);
      for (const walls of innersFor(shelf, fusing)) {
        const ways = (has: boolean): (readonly Taken[])[] => (!has ? [NONE] : walls.length === 0 ? [NONE] : [walls, NONE]);
        const bases = !groups.includes('base')
          ? [NONE]
          : [
              walls,
              ...boards
                .filter((b) => !(walls.length === 1 && walls[0]!.item === b && walls[0]!.use === 'board'))
                .map((item): readonly Taken[] => [{ item, use: 'board' }]),
            ];
        for (const sides of ways(groups.includes('sides')))
          for (const base of bases)
            for (const flap of ways(groups.includes('flap'))) choices.push({ shell, lining, inner: { walls, sides, base, flap, others: NONE } });
      }
    }
  if (unfusable.size > 0)
    notes.push(`Nothing is fused to ${[...unfusable].join(', ')}: the heat of a press would harm it ("takes fusing": true says otherwise).`);
  if (choices.length > MOST_STACKS)
    throw new BagError([
      { path: 'items', got: `${choices.length} stacks`, expected: `at most ${MOST_STACKS}: keep the shell or the lining, or take something off the shelf` },
    ]);
  return { choices, notes };
}

const layerOf = ({ item, use }: Taken): Layer => ({
  material: item.material,
  thickness: item.thickness,
  thicknessRange: null,
  join: use === 'fused' ? 'fused' : 'loose',
  bond: use === 'fused' ? item.bond : null,
  angle: 0,
});

/** A drawn layer made of something else: its angle, ease and way of joining stay. */
const instead = (drawn: Layer, item: ShelfItem | null): Layer =>
  item === null ? drawn : { ...drawn, material: item.material, thickness: item.thickness, thicknessRange: null };

/** Layers of a group's stack. */
export function layersOf(c: Choice, group: PanelGroup['key'], drawn: DrawnStack | null, added: readonly Layer[] = []): readonly Layer[] {
  const shell: Layer = drawn ? instead(drawn.shell, c.shell) : layerOf({ item: c.shell!, use: 'shell' });
  const lining = drawn?.lining ? [instead(drawn.lining, c.lining)] : [];
  return [shell, ...c.inner[group].map(layerOf), ...added, ...lining];
}

/** The bag's own materials and the shelf's; a shelf's that has the name of another of the bag's gets one of its own. */
export function withShelfMaterials(bag: Bag, shelf: Shelf): { readonly materials: readonly OwnMaterial[]; readonly shelf: Shelf } {
  const renamed = new Map<string, string>(),
    added: OwnMaterial[] = [];
  for (const own of shelf.materials) {
    const same = bag.materials.find((m) => m.id === own.id);
    if (same && alike(same, own)) continue;
    const id = same ? `${own.id} (shelf)` : own.id;
    renamed.set(own.id, id);
    added.push({ ...own, id });
  }
  const items = shelf.items.map((i) => ({ ...i, material: renamed.get(i.material) ?? i.material }));
  return { materials: [...bag.materials, ...added], shelf: { ...shelf, items } };
}

/** The bag with one option, made of a choice; `shelf` as withShelfMaterials gave it. Panels whose drawn stack is of stated figures keep it where the shell is kept. */
export function bagOfChoice({ bag, option }: Pick<ShelfAsked, 'bag' | 'option'>, materials: readonly OwnMaterial[], c: Choice, name: string): Bag {
  const stacks = new Map<string, Stack>();
  const add = (label: string, layers: readonly Layer[]): string => {
    const text = JSON.stringify(layers),
      found = [...stacks.values()].find((s) => s.kind === 'layers' && JSON.stringify(s.layers) === text);
    if (found) return found.name;
    const taken = (n: string): boolean => stacks.has(n) || bag.stacks.some((s) => s.name === n);
    let n = label;
    for (let k = 2; taken(n); k++) n = `${label} ${k}`;
    stacks.set(n, { name: n, kind: 'layers', layers });
    return n;
  };
  const own: Record<string, string> = { ...option.stacks },
    regions: Record<string, string> = { ...option.regions };
  for (const g of groupsOf(bag))
    for (const p of g.panels) {
      const panel = bag.panels[p]!,
        drawn = drawnStack(bag, stackNamed(bag, option.stacks[panel.name]));
      if (drawn === null && c.shell === null) continue;
      own[panel.name] = add(`${name}: ${g.key}`, layersOf(c, g.key, drawn));
      for (const r of panel.regions) {
        const added = addedBy(bag, option, p, r.name);
        if (added) regions[`${panel.name}/${r.name}`] = add(`${name}: ${panel.name}/${r.name}`, layersOf(c, g.key, drawn, added));
      }
    }
  return { ...bag, materials, stacks: [...bag.stacks, ...stacks.values()], options: [{ name, stacks: own, regions }] };
}
