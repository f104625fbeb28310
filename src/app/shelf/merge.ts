import type { ShelfValue } from './keeper.ts';
import { free } from './option.ts';

export interface Merged {
  readonly value: ShelfValue;
  readonly added: number;
  /** Were there already, to the letter. */ readonly same: number;
  /** Of the added: under another name, because theirs was taken. */ readonly renamed: number;
}

const text = (v: unknown): string => JSON.stringify(v);

/** The name under which the very same thing is there: its own, or its own with a number behind it; null: it is not. */
function there(all: Readonly<Record<string, unknown>>, id: string, what: unknown): string | null {
  const known = Object.keys(all).find((name) => (name === id || /^ \d+$/.test(name.slice(id.length))) && name.startsWith(id) && text(all[name]) === text(what));
  return known ?? null;
}

/** Another shelf's materials added to one; nothing of the one is written over: what has a name that is taken gets a number behind it, and so does a swatch of its own. */
export function merged(into: ShelfValue, from: ShelfValue): Merged {
  const items: Record<string, unknown> = { ...into.items },
    materials: Record<string, unknown> = { ...into.materials };
  const nameOf = new Map<string, string>();
  for (const [id, own] of Object.entries(from.materials ?? {})) {
    const name = there(materials, id, own) ?? free(id, (n) => Object.hasOwn(materials, n));
    nameOf.set(id, name);
    materials[name] = own;
  }
  let [added, same, renamed] = [0, 0, 0];
  for (const [id, form] of Object.entries(from.items)) {
    const made = form as { readonly material?: unknown };
    const item = { ...made, material: nameOf.get(String(made.material)) ?? made.material };
    if (there(items, id, item) !== null) {
      same++;
      continue;
    }
    const name = free(id, (n) => Object.hasOwn(items, n));
    if (name !== id) renamed++;
    items[name] = item;
    added++;
  }
  const currency = into.currency || from.currency;
  const value: ShelfValue = {
    ...into,
    ...(currency ? { currency } : {}),
    items,
    ...(Object.keys(materials).length > 0 ? { materials } : {}),
  };
  return { value, added, same, renamed };
}
