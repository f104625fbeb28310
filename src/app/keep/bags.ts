import { BAGS, came, withStore } from './database.ts';

/** One of the maker's bags. */
export interface KeptBag {
  readonly id: string;
  readonly name: string;
  /** The bag file. */ readonly text: string;
  /** Date.now() of the last change. */ readonly changed: number;
}

/** All bags, the one changed last first. Errors: this browser keeps none. */
export const allBags = async (): Promise<KeptBag[]> => {
  const all = (await withStore(BAGS, 'readonly', (store) => came(store.getAll()))) as KeptBag[];
  return all.sort((a, b) => b.changed - a.changed);
};

/** Errors: no room, or this browser keeps none. */
export const keepBagAs = (bag: KeptBag): Promise<void> =>
  withStore(BAGS, 'readwrite', async (store) => {
    store.put(bag);
  });

export const dropBag = (id: string): Promise<void> =>
  withStore(BAGS, 'readwrite', async (store) => {
    store.delete(id);
  });

/** What marks a file that holds several bags, with its version. */
const MANY = 'slumpline bags';

interface ManyBags {
  readonly [MANY]: 1;
  readonly bags: readonly { readonly name: string; readonly changed: number; readonly bag: unknown }[];
  readonly preferences?: unknown;
  readonly swatch?: unknown;
}

/** Everything as one file's text: the bags with the materials in them, what the page prefers, and the readings on the bench. */
export function writeMany(bags: readonly KeptBag[], others: { readonly preferences: unknown; readonly swatch: unknown }): string {
  const many: ManyBags = { [MANY]: 1, bags: bags.map(({ name, changed, text }) => ({ name, changed, bag: JSON.parse(text) as unknown })), ...others };
  return JSON.stringify(many, null, 1);
}

/** Bags of such a file as texts; null for any other file. */
export function readMany(text: string): readonly { readonly name: string; readonly text: string }[] | null {
  try {
    const value = JSON.parse(text) as Partial<ManyBags> | null;
    if (value === null || typeof value !== 'object' || value[MANY] !== 1 || !Array.isArray(value.bags)) return null;
    return value.bags.map((one, i) => ({ name: typeof one?.name === 'string' ? one.name : `bag ${i + 1}`, text: JSON.stringify(one?.bag ?? null, null, 2) }));
  } catch {
    return null;
  }
}

/** A name that none of these bags has: the wished one, or with a number behind it. */
export function freeName(wished: string, taken: readonly string[]): string {
  if (!taken.includes(wished)) return wished;
  let n = 2;
  while (taken.includes(`${wished} ${n}`)) n++;
  return `${wished} ${n}`;
}
