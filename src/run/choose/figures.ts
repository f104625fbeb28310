/** What a choice weighs, costs and bulks, from the pattern alone: exact for the pattern as it is cut, so that an order by it needs no settle. */
import { thickestSeam } from '../../assembly/index.ts';
import type { Bag, BagOption, OwnMaterial, Stack } from '../../bag/types.ts';
import { layUp, sheetOf } from '../../material/index.ts';
import type { BagLaminates } from '../../material/types.ts';
import type { Draft } from '../../panels/types.ts';
import type { CutArea } from '../../pattern/cutting.ts';
import type { ChosenCut, ChosenStack } from '../../report/index.ts';
import { bought, itemFor, type Shelf, type ShelfItem, totalCost } from '../../shelf/index.ts';
import { drawnStack, groupsOf, type PanelGroup, stackNamed } from './groups.ts';
import { type Choice, drawnOf, layersOf, type Taken } from './stacks.ts';

/** m2 that every layer would take, looked up once for all choices. */
export interface Areas {
  readonly shell: (group: PanelGroup['key']) => number;
  readonly lining: (group: PanelGroup['key']) => number;
  readonly inner: (group: PanelGroup['key'], t: Taken) => number;
  /** What is the same whatever is chosen: straps and bindings. */ readonly rest: readonly CutArea[];
}

const SHELL = 'chosen shell';
const LINING = 'chosen lining';
const nameOf = (t: Taken): string => `${t.item.id} as ${t.use}`;

/** A material by another name, so that its pieces can be told from those of another use of it. */
function alias(bag: Pick<Bag, 'materials'>, id: string, material: string): OwnMaterial {
  const own = bag.materials.find((m) => m.id === material);
  if (own) return { ...own, id };
  const plain = { id, name: id, like: material, thickness: null, bendingWarp: null, bendingWeft: null, inPlane: null, shear: null, poisson: null };
  return {
    ...plain,
    arealMass: sheetOf(bag, { material, thickness: null, thicknessRange: null, join: 'loose', bond: null, angle: 0 }, 'mid').arealMass,
    source: '',
    measured: false,
  };
}

/**
 * Areas of every layer in every group, from one pattern in which each group has all of them at once. Panels of two groups that a fold joins are counted as cut apart.
 * Parameters: bag with the shelf's materials; drawn option; all that may lie inside; the shell, which a hem in leather may hang on (null: as drawn); cutAreas of src/pattern. Errors: BagError of the pattern.
 */
export function areasOf(
  bag: Bag,
  option: BagOption,
  inners: readonly Taken[],
  shell: string | null,
  cutAreas: (bag: Bag, option: string) => readonly CutArea[],
): Areas {
  const drawn = drawnOf(bag, option),
    each = [...new Map(inners.map((t) => [nameOf(t), t])).values()];
  const materials = [...bag.materials, ...each.map((t) => alias(bag, nameOf(t), t.item.material))];
  const stacks: Stack[] = [...bag.stacks],
    own: Record<string, string> = { ...option.stacks },
    groupOf = new Map<string, PanelGroup['key']>();
  for (const g of groupsOf(bag)) {
    const d = drawn.get(g.key) ?? null;
    const plain: Choice = { shell: null, lining: null, inner: { walls: [], sides: [], base: [], flap: [], others: [] } };
    if (d === null) materials.push(alias(bag, `${SHELL} ${g.key}`, shell ?? 'canvas12'));
    else materials.push(alias(bag, `${SHELL} ${g.key}`, shell ?? d.shell.material), ...(d.lining ? [alias(bag, `${LINING} ${g.key}`, d.lining.material)] : []));
    const [outer, ...rest] = d
      ? layersOf(plain, g.key, d)
      : [{ material: '', thickness: null, thicknessRange: null, join: 'loose' as const, bond: null, angle: 0 }];
    const layers = [
      { ...outer!, material: `${SHELL} ${g.key}` },
      ...each.map((t) => ({
        ...outer!,
        thickness: null,
        thicknessRange: null,
        material: nameOf(t),
        join: t.use === 'fused' ? ('fused' as const) : ('loose' as const),
        bond: null,
      })),
      ...rest.map((l) => ({ ...l, material: `${LINING} ${g.key}` })),
    ];
    stacks.push({ name: `every layer of ${g.key}`, kind: 'layers', layers });
    for (const p of g.panels) {
      own[bag.panels[p]!.name] = `every layer of ${g.key}`;
      groupOf.set(bag.panels[p]!.name, g.key);
    }
  }
  const name = 'every layer',
    // What regions add is a constant: their panels' own layers run on below them.
    panels = bag.panels.map((p) => ({ ...p, regions: [] }));
  const cut = cutAreas({ ...bag, panels, materials, stacks, options: [{ name, stacks: own, regions: {} }] }, name);
  const sums = new Map<string, number>();
  const rest: CutArea[] = [];
  for (const c of cut) {
    const group = groupOf.get(c.panels[0] ?? '');
    const role = c.material.startsWith(SHELL)
      ? `${SHELL} ${group}`
      : c.material.startsWith(LINING)
        ? `${LINING} ${group}`
        : each.some((t) => nameOf(t) === c.material)
          ? `${c.material} ${group}`
          : null;
    if (role === null || group === undefined) rest.push(c);
    else sums.set(role, (sums.get(role) ?? 0) + c.area);
  }
  return {
    shell: (g) => sums.get(`${SHELL} ${g}`) ?? 0,
    lining: (g) => sums.get(`${LINING} ${g}`) ?? 0,
    inner: (g, t) => sums.get(`${nameOf(t)} ${g}`) ?? 0,
    rest,
  };
}

/** What a choice's name says: shell, what lies inside, lining; then where a group differs from the walls. */
function wordsOf(bag: Bag, option: BagOption, c: Choice): string {
  const groups = groupsOf(bag).map((g) => g.key);
  const inner = (list: readonly Taken[]): string => list.map((t) => `${t.item.id}${t.item.uses.length > 1 ? ` (${t.use})` : ''}`).join(' + ');
  const shell = c.shell?.id ?? drawnStack(bag, stackNamed(bag, option.stacks[bag.panels[0]!.name]))?.shell.material ?? 'as drawn';
  const same = (a: readonly Taken[], b: readonly Taken[]): boolean => inner(a) === inner(b);
  const { walls } = c.inner;
  const others = groups.slice(1).filter((g) => g !== 'others' && !same(c.inner[g], walls));
  return [
    [shell, inner(walls), c.lining?.id ?? ''].filter((w) => w !== '').join(' + '),
    ...others.map((g) => `${g} ${c.inner[g].length === 0 ? 'without' : `with ${inner(c.inner[g])}`}`),
  ].join('; ');
}

/** Everything that is told of a choice before it is settled, but for its place. Parameters: the bag made of it, with its laminates at the middle of the band. */
export function figuresOf(
  { bag, option, shelf, draft, areas }: { readonly bag: Bag; readonly option: BagOption; readonly shelf: Shelf; readonly draft: Draft; readonly areas: Areas },
  c: Choice,
  made: Bag,
  laminates: BagLaminates,
): Omit<ChosenStack, 'place'> {
  const taken = new Map<string, { item: ShelfItem | null; name: string; area: number; mass: number }>();
  const drawn = drawnOf(bag, option);
  let layers = 0;
  const take = (item: ShelfItem | null, material: string, area: number, mass: number): void => {
    const key = item?.id ?? material,
      known = taken.get(key);
    if (known) {
      known.area += area;
      known.mass += mass;
    } else taken.set(key, { item, name: item?.name ?? material, area, mass });
  };
  for (const g of groupsOf(bag)) {
    const d = drawn.get(g.key) ?? null;
    if (d === null && c.shell === null) continue;
    const all = layersOf(c, g.key, d);
    all.forEach((layer, i) => {
      const inner = c.inner[g.key][i - 1],
        isLining = i > 0 && !inner;
      const area = i === 0 ? areas.shell(g.key) : inner ? areas.inner(g.key, inner) : areas.lining(g.key);
      const item = i === 0 ? c.shell : inner ? inner.item : isLining ? c.lining : null;
      take(item ?? itemFor(shelf.items, layer.material), layer.material, area, area * sheetOf(made, layer, 'mid').arealMass);
      layers += g.panels.length;
    });
  }
  for (const { material, area, arealMass } of areas.rest) take(itemFor(shelf.items, material), material, area, area * arealMass);
  const cut = [...taken.values()].map(({ item, name, area }): ChosenCut => ({ item: item?.id ?? name, name, area, bought: item && bought(item, { area }) }));
  return {
    name: wordsOf(bag, option, c),
    weight: [...taken.values()].reduce((sum, t) => sum + t.mass, 0),
    // What the shelf does not have is the same for every choice, and has no price.
    cost: totalCost([...taken.values()].flatMap(({ item, area }) => (item ? [bought(item, { area })] : []))),
    bulk: thickestSeam(made, draft, laminates),
    layers,
    cut,
  };
}

/** Laminates of the one option of a bag made of a choice. */
export const laminatesOf = (made: Bag): BagLaminates => layUp(made, made.options[0]!.name, 'mid');
