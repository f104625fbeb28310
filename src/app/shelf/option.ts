import type { BagForm } from '../page/bag-form.ts';
import type { WrittenChoice } from './core.ts';

/** A name that none of these has: the wished one, or with a number behind it. */
export function free(wished: string, taken: (name: string) => boolean): string {
  let n = 1,
    name = wished;
  while (taken(name)) name = `${wished} ${++n}`;
  return name;
}

/** The bag with a choice from the shelf as a further option. Nothing of the bag's own is written over: a stack or a material of the same name stays. */
export function withChosen(form: BagForm, chosen: WrittenChoice, wished: string): { readonly form: BagForm; readonly option: string } {
  const option = free(wished, (name) => Object.hasOwn(form.options, name));
  const own = (form.materials ?? {}) as Readonly<Record<string, unknown>>,
    materials: Record<string, unknown> = { ...own };
  const nameOf = new Map<string, string>();
  for (const [id, material] of Object.entries(chosen.materials)) {
    const same = JSON.stringify(own[id]) === JSON.stringify(material);
    const name = same ? id : free(id, (n) => Object.hasOwn(own, n));
    nameOf.set(id, name);
    materials[name] = material;
  }
  const renamed = (layer: unknown): unknown => {
    if (typeof layer === 'string') return nameOf.get(layer) ?? layer;
    return Object.fromEntries(
      Object.entries(layer as object).map(([key, value]) => [
        key,
        ['material', 'loose', 'fused', 'bonded'].includes(key) ? (nameOf.get(String(value)) ?? value) : value,
      ]),
    );
  };
  const stacks: Record<string, BagForm['stacks'][string]> = { ...form.stacks };
  const stackOf = new Map<string, string>();
  for (const [key, layers] of Object.entries(chosen.stacks)) {
    const name = free(`${option}: ${key}`, (n) => Object.hasOwn(stacks, n));
    stackOf.set(key, name);
    stacks[name] = layers.map(renamed) as BagForm['stacks'][string];
  }
  const choice = Object.fromEntries(Object.entries(chosen.option).map(([part, stack]) => [part, stackOf.get(stack) ?? stack]));
  const more = Object.keys(materials).length > 0 ? { materials } : {};
  return { option, form: { ...form, ...more, stacks, options: { ...form.options, [option]: choice } } };
}
