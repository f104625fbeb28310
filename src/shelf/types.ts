/** What a maker owns or can buy. The written form (`*.shelf.json`) is described in schema.ts; parseShelf turns text into this. SI; prices in the file's own currency. */
import type { OwnMaterial } from '../bag/types.ts';

/** What a material may be used as. */
export type Use = 'shell' | 'fused' | 'sewn in' | 'lining' | 'board' | 'foam' | 'trim';

/**
 * How it is sold, and at what price; price null: not stated.
 * metre: off a bolt of this usable width, m. area: hides, price per m2, of which a share `waste` is lost to shape and flaws. sheet: whole sheets of width x length, m.
 * Trims: length: per metre of them; piece: one by one; reel: whole reels of thread of this length, m.
 */
export type Sold =
  | { readonly by: 'metre'; readonly price: number | null; readonly width: number }
  | { readonly by: 'area'; readonly price: number | null; readonly waste: number }
  | { readonly by: 'sheet'; readonly price: number | null; readonly width: number; readonly length: number }
  | { readonly by: 'length'; readonly price: number | null }
  | { readonly by: 'piece'; readonly price: number | null }
  | { readonly by: 'reel'; readonly price: number | null; readonly length: number };

/** One material on the shelf. */
export interface ShelfItem {
  readonly id: string;
  readonly name: string;
  /** Built-in material, one of the shelf's own, or a kind of trim. */ readonly material: string;
  readonly uses: readonly Use[];
  /** Gauge of a hide or a sheet, m; null: the material's own. */ readonly thickness: number | null;
  /** Of a trim, m: webbing's width, a zip's chain, a ring's or a magnet's size; null: any. */ readonly size: number | null;
  /** Bond of a fused layer, 0 to 1; null: the usual estimate. */ readonly bond: number | null;
  /** May something be fused to it? Waxed and coated cloth cannot take the heat of a press. */ readonly takesFusing: boolean;
  /** null: neither width nor sheet nor price is stated. */ readonly sold: Sold | null;
  /** In the unit it is sold by: metres, m2, sheets, pieces, reels; null: not stated. */ readonly stock: number | null;
  /** Colour of the face, as written; null: not stated. */ readonly colour: string | null;
}

/** All of it. */
export interface Shelf {
  readonly version: 1;
  readonly name: string;
  readonly note: string;
  /** As prices are told: "EUR", "GBP"; '' where none is stated. */ readonly currency: string;
  /** Swatches of the maker's own that items refer to. */ readonly materials: readonly OwnMaterial[];
  readonly items: readonly ShelfItem[];
}

/** What is taken of one material. */
export interface Taken {
  /** m2 of pieces at the cut lines. */ readonly area: number;
  /** Length of roll that a lay needs, m, where one was made; else area over width, which no lay can better. */ readonly length?: number;
  /** m2 to buy, waste included, where that is known better than by the item's own waste. */ readonly toBuy?: number;
  /** Sheets that a lay fills, where one was made; else by area, the least that can do. */ readonly sheets?: number;
}

/** What is taken of a trim: metres in all and how many pieces they are, or pieces alone (length 0). */
export interface TakenTrim {
  readonly length: number;
  readonly count: number;
}

/** What that comes to, in the unit the material is sold by. */
export interface Bought {
  readonly unit: 'm' | 'm2' | 'sheets' | 'pieces' | 'reels';
  readonly amount: number;
  /** In the shelf's currency; null where no price is stated. */ readonly cost: number | null;
  /** Beyond the stock, in the same unit; 0 where it is enough, null where no stock is stated. */ readonly short: number | null;
}

/** What the file says, as plain JSON data: the thing that is edited and printed. */
export interface ShelfDocument {
  readonly value: Readonly<Record<string, unknown>>;
}
