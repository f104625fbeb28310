/** What a use of material comes to: how much is taken, what that costs, and what the stock lacks. */
import type { Bought, ShelfItem, Taken } from './types.ts';

const UNIT = { metre: 'm', area: 'm2', sheet: 'sheets' } as const;
/** Rounding of an area that fills a sheet to its edge. */
const EPSILON = 1e-9;

/**
 * What is taken of an item: metres = area / width (or the lay's length), hide = area / (1 - waste), sheets = area / (width x length), whole ones (or the lay's). Cost = amount x price.
 * Sheets by area alone are the least that can do: pieces may not fill them. null where nothing is stated of how it is sold.
 * Parameters: the item; m2 of pieces. Source: arithmetic; waste of hides: common practice, no source.
 */
export function bought(item: Pick<ShelfItem, 'sold' | 'stock'>, { area, length, toBuy, sheets }: Taken): Bought | null {
  const { sold, stock } = item;
  if (sold === null) return null;
  const amount =
    sold.by === 'metre'
      ? (length ?? area / sold.width)
      : sold.by === 'area'
        ? (toBuy ?? area / (1 - sold.waste))
        : (sheets ?? Math.ceil(area / (sold.width * sold.length) - EPSILON));
  return {
    unit: UNIT[sold.by],
    amount,
    cost: sold.price === null ? null : amount * sold.price,
    short: stock === null ? null : Math.max(0, amount - stock),
  };
}

/** The item that a material of a bag is taken from: the one of that id, else the first with that material. null: not on the shelf. */
export const itemFor = <T extends Pick<ShelfItem, 'id' | 'material'>>(items: readonly T[], material: string): T | null =>
  items.find((i) => i.id === material) ?? items.find((i) => i.material === material) ?? null;

/** Cost of several uses in all; null where any has no price. */
export const totalCost = (all: readonly (Bought | null)[]): number | null =>
  all.reduce<number | null>((sum, b) => (sum === null || b === null || b.cost === null ? null : sum + b.cost), 0);
