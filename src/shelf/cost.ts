/** What a use of material comes to: how much is taken, what that costs, and what the stock lacks. */
import type { Bought, ShelfItem, Taken, TakenTrim } from './types.ts';
import { SOLD_UNIT } from './words.ts';

/** Rounding of an area that fills a sheet to its edge. */
const EPSILON = 1e-9;

/**
 * What is taken of an item: metres = area / width (or the lay's length), hide = area / (1 - waste), sheets = area / (width x length), whole ones (or the lay's). Cost = amount x price.
 * Sheets by area alone are the least that can do: pieces may not fill them. null where nothing is stated of how it is sold.
 * Parameters: the item; m2 of pieces. Source: arithmetic; waste of hides: common practice, no source.
 */
export function bought(item: Pick<ShelfItem, 'sold' | 'stock'>, { area, length, toBuy, sheets }: Taken): Bought | null {
  const { sold } = item;
  if (sold === null || sold.by === 'length' || sold.by === 'piece' || sold.by === 'reel') return null;
  const amount =
    sold.by === 'metre'
      ? (length ?? area / sold.width)
      : sold.by === 'area'
        ? (toBuy ?? area / (1 - sold.waste))
        : (sheets ?? Math.ceil(area / (sold.width * sold.length) - EPSILON));
  return comesTo(item, sold, amount);
}

const comesTo = ({ stock }: Pick<ShelfItem, 'stock'>, sold: NonNullable<ShelfItem['sold']>, amount: number): Bought => ({
  unit: SOLD_UNIT[sold.by],
  amount,
  cost: sold.price === null ? null : amount * sold.price,
  short: stock === null ? null : Math.max(0, amount - stock),
});

/** What is taken of a trim: its metres, its pieces, or whole reels. null where nothing is stated of how it is sold, or it is no trim. Source: arithmetic. */
export function boughtTrim(item: Pick<ShelfItem, 'sold' | 'stock'>, { length, count }: TakenTrim): Bought | null {
  const { sold } = item;
  if (sold?.by === 'length') return length > 0 ? comesTo(item, sold, length) : null;
  if (sold?.by === 'piece') return comesTo(item, sold, count);
  return sold?.by === 'reel' ? comesTo(item, sold, Math.ceil(length / sold.length - EPSILON)) : null;
}

/** The item that a material of a bag is taken from: the one of that id, else the first with that material. null: not on the shelf. */
export function itemFor<T extends Pick<ShelfItem, 'id' | 'material' | 'uses'>>(items: readonly T[], material: string): T | null {
  const sheets = items.filter((i) => !i.uses.includes('trim'));
  return sheets.find((i) => i.id === material) ?? sheets.find((i) => i.material === material) ?? null;
}

/** Sizes nearer than this are the same, m: a nominal 25 mm webbing is 25.4 wide. */
const SAME_SIZE = 0.5e-3;

/** The trim of a kind (or of that id) and size: one of that size before one of any; null: not on the shelf. size: m, null where the bag states none. */
export function trimFor<T extends Pick<ShelfItem, 'id' | 'material' | 'uses' | 'size'>>(items: readonly T[], kind: string, size: number | null): T | null {
  const alike = items.filter((i) => i.uses.includes('trim') && (i.id === kind || i.material === kind));
  return (
    alike.find((i) => i.size !== null && size !== null && Math.abs(i.size - size) <= SAME_SIZE) ?? alike.find((i) => i.size === null || size === null) ?? null
  );
}

/** Cost of several uses in all; null where any has no price. */
export const totalCost = (all: readonly (Pick<Bought, 'cost'> | null)[]): number | null =>
  all.reduce<number | null>((sum, b) => (sum === null || b === null || b.cost === null ? null : sum + b.cost), 0);
