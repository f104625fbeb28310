/** What the materials of a list come to on a shelf. */
import { bought, itemFor, type Shelf, type Taken, totalCost } from '../../shelf/index.ts';
import type { ListedCost, ListedLength, ListedMaterial, ListedPurchase } from './types.ts';

/** What is taken of the shelf's item for a material; null without a shelf, or where the shelf has it not or does not say how it is sold. */
export function purchase(shelf: Shelf | null, material: string, taken: Taken): ListedPurchase | null {
  const item = shelf && itemFor(shelf.items, material);
  const found = item && bought(item, taken);
  return item && found ? { item: item.id, itemName: item.name, ...found } : null;
}

/** Costs of materials and of bindings that are cut from one, in all. Lengths and parts that no shelf holds (webbing, zips, cords, hardware) are not in it. */
export function costOf(shelf: Shelf | null, materials: readonly ListedMaterial[], tapes: readonly ListedLength[]): ListedCost | null {
  if (!shelf) return null;
  const used = [...materials, ...tapes.filter((t) => t.kind === 'binding')];
  const priced = used.filter((m) => m.bought?.cost != null);
  return {
    shelf: shelf.name,
    currency: shelf.currency,
    total: totalCost(used.map((m) => m.bought)),
    known: priced.reduce((sum, m) => sum + m.bought!.cost!, 0),
    without: [...new Set(used.filter((m) => m.bought?.cost == null).map((m) => m.material))],
  };
}
