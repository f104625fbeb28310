/** What a list comes to on a shelf. */
import { bought, boughtTrim, itemFor, type Shelf, type ShelfItem, type Taken, type TakenTrim, THREAD, totalCost, trimFor } from '../../shelf/index.ts';
import { threadLength } from './thread.ts';
import type { ListedCost, ListedLength, ListedMaterial, ListedPart, ListedPurchase, ThreadRow } from './types.ts';

const taken = (item: ShelfItem | null, found: Omit<ListedPurchase, 'item' | 'itemName'> | null): ListedPurchase | null =>
  item && found ? { item: item.id, itemName: item.name, ...found } : null;

/** What is taken of the shelf's item for a material; null without a shelf, or where the shelf has it not or does not say how it is sold. */
export function purchase(shelf: Shelf | null, material: string, of: Taken): ListedPurchase | null {
  const item = shelf && itemFor(shelf.items, material);
  return taken(item, item && bought(item, of));
}

/** The same of a trim: webbing, cords, zips, hardware, thread. size: m, null where none is known. */
export function trimPurchase(shelf: Shelf | null, kind: string, size: number | null, of: TakenTrim): ListedPurchase | null {
  const item = shelf && trimFor(shelf.items, kind, size);
  return taken(item, item && boughtTrim(item, of));
}

/** Thread of all rows, from the shelf's reels. */
export const threadPurchase = (shelf: Shelf | null, rows: readonly ThreadRow[]): ListedPurchase | null =>
  trimPurchase(shelf, THREAD, null, { length: threadLength(rows), count: 0 });

/** Costs of materials, lengths, parts and thread in all. Stitching's ends, glue and edge paint are not in it. */
export function costOf(
  shelf: Shelf | null,
  materials: readonly ListedMaterial[],
  tapes: readonly ListedLength[],
  parts: readonly ListedPart[],
  thread: ListedPurchase | null,
): ListedCost | null {
  if (!shelf) return null;
  const used = [
    ...materials.map(({ name, bought }) => ({ name, bought })),
    ...tapes.map(({ materialName, bought }) => ({ name: materialName, bought })),
    ...parts.map(({ what, bought }) => ({ name: what, bought })),
    { name: THREAD, bought: thread },
  ];
  const priced = used.filter((u) => u.bought?.cost != null);
  return {
    shelf: shelf.name,
    currency: shelf.currency,
    total: totalCost(used.map((u) => u.bought)),
    known: priced.reduce((sum, u) => sum + u.bought!.cost!, 0),
    without: [...new Set(used.filter((u) => u.bought?.cost == null).map((u) => u.name))],
  };
}
