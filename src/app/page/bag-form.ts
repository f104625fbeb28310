/**
 * Edits of the written bag: the page changes the file's own text form (so that what the maker wrote stays as written) and
 * lets parseBag judge it. Every function returns a new form; none mutates.
 */
import type { Bag, Join, PanelRole } from '../core.ts';

/** The written form, as far as the page touches it. Anything else in the file is carried along untouched. */
export interface BagForm {
  readonly name?: string;
  readonly wanted?: string;
  readonly parameters?: Readonly<Record<string, string | number>>;
  readonly stacks: Readonly<Record<string, StackForm>>;
  readonly options: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly straps?: Readonly<Record<string, StrapForm>>;
  readonly stances?: Readonly<Record<string, StanceForm>>;
  readonly [other: string]: unknown;
}
type Written = string | number;
type AnchorForm = { readonly [S in Side]?: Written } & { readonly [other: string]: unknown };
export interface StrapForm {
  readonly length?: Written;
  readonly from?: AnchorForm;
  readonly to?: string | AnchorForm;
  readonly [other: string]: unknown;
}
export interface StanceForm {
  readonly kind?: unknown;
  readonly contents?: unknown;
  readonly load?: Written | { readonly mass?: Written; readonly [other: string]: unknown };
  readonly [other: string]: unknown;
}
export type Side = 'from left' | 'from right';
export type End = 'from' | 'to';
type LayerForm = string | { readonly [key: string]: unknown };
type StackForm = readonly LayerForm[] | { readonly [key: string]: unknown };

/** Panels that a maker stacks alike. */
export type Group = 'wall' | 'side' | 'base' | 'rest';
const GROUP_OF: Readonly<Record<PanelRole, Group>> = {
  front: 'wall',
  back: 'wall',
  body: 'wall',
  flat: 'wall',
  side: 'side',
  gusset: 'side',
  base: 'base',
  flap: 'rest',
  pocket: 'rest',
  strap: 'rest',
  trim: 'rest',
};

export function groupsOf(bag: Bag): ReadonlyMap<Group, readonly string[]> {
  const groups = new Map<Group, string[]>();
  for (const panel of bag.panels) {
    const group = GROUP_OF[panel.role];
    groups.set(group, [...(groups.get(group) ?? []), panel.name]);
  }
  return groups;
}

/** What is edited first of an option: all panels where they have one stack, else the first group. */
export function groupFirst(bag: Bag, option: string): Group | 'all' {
  const stacks = bag.options.find((o) => o.name === option)?.stacks ?? {};
  const groups = groupsOf(bag);
  return groups.size > 1 && new Set(Object.values(stacks)).size === 1 ? 'all' : (groups.keys().next().value ?? 'wall');
}

/** Panels of a group, or all of them. */
export const panelsOf = (bag: Bag, group: Group | 'all'): readonly string[] =>
  group === 'all' ? bag.panels.map((p) => p.name) : (groupsOf(bag).get(group) ?? []);

/** A stack as the panel of controls shows it. `thickness` is the shell's own gauge as written, or ''. */
export interface Layers {
  readonly shell: string;
  readonly thickness: string;
  readonly interfacing: string | null;
  readonly join: Join;
  readonly lining: string | null;
}

const JOINS: readonly Join[] = ['loose', 'fused', 'bonded'];

function read(layer: LayerForm): { material: string; join: Join; thickness: string } {
  if (typeof layer === 'string') return { material: layer, join: 'loose', thickness: '' };
  const join = JOINS.find((j) => typeof layer[j] === 'string');
  const material = join ? String(layer[join]) : String(layer.material ?? '');
  const written = JOINS.find((j) => layer.join === j);
  return { material, join: join ?? written ?? 'loose', thickness: layer.thickness === undefined ? '' : String(layer.thickness) };
}

/** Reads a stack of up to three layers; null when it is given directly or is richer than the controls can show. */
export function layersOf(stack: StackForm | undefined, isInterfacing: (material: string) => boolean): Layers | null {
  if (!Array.isArray(stack) || stack.length === 0 || stack.length > 3) return null;
  const layers = (stack as readonly LayerForm[]).map(read);
  const last = layers.length > 1 ? layers[layers.length - 1] : null;
  const middle = layers.length === 3 ? layers[1] : last && isInterfacing(last.material) ? last : null;
  const lining = last === middle ? null : last;
  return {
    shell: layers[0].material,
    thickness: layers[0].thickness,
    interfacing: middle?.material ?? null,
    join: middle?.join ?? 'fused',
    lining: lining?.material ?? null,
  };
}

function write(layers: Layers): StackForm {
  const stack: LayerForm[] = [layers.thickness ? { material: layers.shell, thickness: layers.thickness } : layers.shell];
  if (layers.interfacing) stack.push({ [layers.join]: layers.interfacing });
  if (layers.lining) stack.push({ loose: layers.lining });
  return stack;
}

const without = <T>(record: Readonly<Record<string, T>>, gone: (key: string) => boolean): Record<string, T> =>
  Object.fromEntries(Object.entries(record).filter(([key]) => !gone(key)));

export const withParameter = (form: BagForm, name: string, value: string): BagForm => ({ ...form, parameters: { ...form.parameters, [name]: value } });

/** Names in a piece of the file, wherever they stand; words that are no formula do no harm here. */
const namesIn = (part: unknown): string[] => JSON.stringify(part ?? null).match(/[\p{L}_][\p{L}\p{N}_]*/gu) ?? [];

/** Parameters that nothing in the file is written with any more, not even by way of another parameter: typing there changes no bag. */
export function idleParameters({ parameters = {}, name: _, note: __, ...rest }: BagForm): ReadonlySet<string> {
  const idle = new Set(Object.keys(parameters));
  const open = namesIn(rest);
  for (let name = open.pop(); name !== undefined; name = open.pop()) if (idle.delete(name)) open.push(...namesIn(parameters[name]));
  return idle;
}

export const withWanted = (form: BagForm, wanted: string): BagForm => ({ ...form, wanted });

/** Gives the panels of one option their own stack made of these layers. Stacks that nothing uses any more and the page made are dropped. */
export const withLayers = (form: BagForm, bag: Bag, option: string, panels: readonly string[], label: string, layers: Layers): BagForm =>
  withStack(form, bag, option, panels, label, write(layers));

function withStack(form: BagForm, bag: Bag, option: string, panels: readonly string[], label: string, stack: StackForm): BagForm {
  const name = `${option}, ${label}`;
  const choice = { ...form.options[option], ...Object.fromEntries(panels.map((p) => [p, name])) };
  const options = { ...form.options, [option]: choice };
  const stacks = { ...form.stacks, [name]: stack };
  const used = usedStacks({ ...form, options, stacks }, bag);
  const made = new RegExp(`^(${Object.keys(options).map(literally).join('|')})(, |: )`);
  return { ...form, options, stacks: without(stacks, (key) => key !== name && made.test(key) && !used.has(key)) };
}

/** Adds a material of the bag's own, or puts it in the place of the one of the same name. */
export const withMaterial = (form: BagForm, id: string, material: unknown): BagForm => ({
  ...form,
  materials: { ...(form.materials as Readonly<Record<string, unknown>> | undefined), [id]: material },
});

/**
 * Another shell for the panels of an option that have the same shell as its front (or first panel): front, back, sides, the cloth round a base board.
 * Their other layers stay, except that `alone` (a swatch of the finished, fused stack) leaves out what is fused or bonded, which it holds already.
 * Parameters: `from` is the option of the bag whose stacks are taken over (the option itself, or the one it was copied from); labels of the groups.
 */
export function withShell(
  form: BagForm,
  bag: Bag,
  to: { readonly option: string; readonly from: string; readonly material: string; readonly alone: boolean },
  labels: Readonly<Record<Group, string>>,
): BagForm {
  const stackOf = bag.options.find((o) => o.name === to.from)?.stacks ?? {};
  const shellOf = (panel: string): string | null => {
    const stack = form.stacks[stackOf[panel] ?? ''];
    return Array.isArray(stack) && stack.length > 0 ? read(stack[0] as LayerForm).material : null;
  };
  const front = bag.panels.find((p) => p.role === 'front') ?? bag.panels[0];
  const shell = shellOf(front.name);
  let out = form;
  for (const [group, panels] of groupsOf(bag)) {
    const same = panels.filter((p) => shellOf(p) === shell);
    const names = [...new Set(same.map((p) => stackOf[p]))];
    names.forEach((name, i) => {
      const stack = form.stacks[name];
      const rest = Array.isArray(stack) ? (stack as readonly LayerForm[]).slice(1) : [];
      const kept = to.alone ? rest.filter((layer) => read(layer).join === 'loose') : rest;
      const label = i === 0 ? labels[group] : `${labels[group]} ${i + 1}`;
      out = withStack(
        out,
        bag,
        to.option,
        same.filter((p) => stackOf[p] === name),
        label,
        [to.material, ...kept],
      );
    });
  }
  return out;
}

/** A word as a pattern that matches only itself. */
const literally = (word: string): string => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

function usedStacks(form: BagForm, bag: Bag): Set<string> {
  const used = new Set(Object.values(form.options).flatMap((choice) => Object.values(choice)));
  for (const panel of bag.panels) for (const region of panel.regions) used.add(region.stack);
  return used;
}

/** A further option, a copy of an existing one to be changed. */
export function withOption(form: BagForm, from: string): { readonly form: BagForm; readonly option: string } {
  const taken = new Set(Object.keys(form.options));
  // The letter its column will have on the mat, wherever that is free.
  const letters = 'ABCDEFGH'.slice(taken.size) + 'ABCDEFGH'.slice(0, taken.size);
  const option = letters.split('').find((l) => !taken.has(l)) ?? `${from} 2`;
  return { option, form: { ...form, options: { ...form.options, [option]: { ...form.options[from] } } } };
}

/** An option under another name. Stacks made for it are taken along under names that no longer speak: what it is called now says what it is. */
export function withRenamedOption(form: BagForm, option: string, name: string): BagForm {
  const renamed = (stack: string): string =>
    stack.startsWith(`${option}, `) || stack.startsWith(`${option}: `) ? `${name}: ${stack.slice(option.length + 2)}` : stack;
  const shared = new Set(Object.entries(form.options).flatMap(([other, choice]) => (other === option ? [] : Object.values(choice))));
  const free = (stack: string): string => (shared.has(stack) || Object.hasOwn(form.stacks, renamed(stack)) ? stack : renamed(stack));
  const options = Object.fromEntries(
    Object.entries(form.options).map(([other, choice]) =>
      other === option ? [name, Object.fromEntries(Object.entries(choice).map(([panel, stack]) => [panel, free(stack)]))] : [other, choice],
    ),
  );
  const stacks = Object.fromEntries(Object.entries(form.stacks).map(([stack, layers]) => [free(stack), layers]));
  return { ...form, options, stacks };
}

/** An option one place further left (-1) or right (1); the same form where there is none. */
export function withMovedOption(form: BagForm, option: string, by: -1 | 1): BagForm {
  const order = Object.entries(form.options);
  const at = order.findIndex(([name]) => name === option);
  const to = at + by;
  if (at < 0 || to < 0 || to >= order.length) return form;
  [order[at], order[to]] = [order[to], order[at]];
  return { ...form, options: Object.fromEntries(order) };
}

export const withoutOption = (form: BagForm, option: string): BagForm => ({ ...form, options: without(form.options, (key) => key === option) });

/** Ends of a strap that are written with a distance of their own: a mirrored end follows the other. */
export function endsOf(form: BagForm, strap: string): readonly { readonly end: End; readonly side: Side; readonly written: string }[] {
  const own = form.straps?.[strap];
  return (['from', 'to'] as const).flatMap((end) => {
    const anchor = own?.[end];
    if (typeof anchor !== 'object') return [];
    const side = (['from left', 'from right'] as const).find((s) => anchor[s] !== undefined);
    return side ? [{ end, side, written: String(anchor[side]) }] : [];
  });
}

const withStrap = (form: BagForm, strap: string, change: StrapForm): BagForm => ({
  ...form,
  straps: { ...form.straps, [strap]: { ...form.straps?.[strap], ...change } },
});

export function withAnchor(form: BagForm, strap: string, end: End, side: Side, value: string): BagForm {
  return withStrap(form, strap, { [end]: { ...(form.straps?.[strap]?.[end] as AnchorForm), [side]: value } });
}

export const withStrapLength = (form: BagForm, strap: string, value: string): BagForm => withStrap(form, strap, { length: value });

/** Mass of a stance's contents as written, '' for an empty bag. */
export function loadOf(form: BagForm, stance: string): string {
  const load = form.stances?.[stance]?.load;
  return String((typeof load === 'object' ? load.mass : load) ?? '');
}

/** Other contents in one stance, '' for none. A file that states no stances is given those that it has had without stating them. */
export function withLoad(form: BagForm, bag: Bag, stance: string, mass: string): BagForm {
  const stances: Readonly<Record<string, StanceForm>> = form.stances ?? Object.fromEntries(bag.stances.map((s) => [s.name, { kind: s.kind }]));
  const { load, ...rest } = stances[stance] ?? {};
  const next = mass === '' ? {} : { load: typeof load === 'object' ? { ...load, mass } : mass };
  return { ...form, stances: { ...stances, [stance]: { ...rest, ...next } } };
}
