/** What to buy and to cut. SI: m, m2, kg; money in the currency of the shelf. */
import type { Evidence } from '../../material/types.ts';
import type { Shelf } from '../../shelf/types.ts';
import type { LayerKind, Tape } from '../pieces/types.ts';
import type { Lay, NestItem } from './nest.ts';

/** One line of the list: a shape, how often, of what. Masses and areas are of all of them together. */
export interface ListedPiece {
  /** As on the pattern. */ readonly number: number;
  readonly name: string;
  readonly kind: LayerKind;
  readonly material: string;
  readonly count: number;
  readonly mirrored: number;
  /** Size of its box with the grain upright, m. */ readonly width: number;
  readonly height: number;
  /** m2, at the cut line. */ readonly area: number;
  /** kg */ readonly mass: number;
  readonly notes: readonly string[];
}

/** What of the shelf is taken for a material, and what that comes to. */
export interface ListedPurchase {
  /** Of the shelf. */ readonly item: string;
  readonly itemName: string;
  readonly unit: 'm' | 'm2' | 'sheets' | 'pieces' | 'reels';
  readonly amount: number;
  /** In the shelf's currency; null where no price is stated. */ readonly cost: number | null;
  /** Beyond the stock, in the same unit; null where no stock is stated. */ readonly short: number | null;
}

/** What one material comes to. */
export interface ListedMaterial {
  readonly material: string;
  readonly name: string;
  readonly pieces: number;
  /** m2 at the cut lines. */ readonly area: number;
  /** kg */ readonly mass: number;
  /** Cloth and boards: a lay on a roll or a sheet of a width. */ readonly lay: Lay | null;
  /** What `lay` lays, in its order. */ readonly items: readonly NestItem[];
  /** Why the lay is longer than 1.25 times the area over the width; null where it is not. */ readonly reason: string | null;
  /** Leather: hide to buy, m2, with the waste that was stated. */ readonly hide: number | null;
  /** Share of the hide that is lost; null of what is no hide. */ readonly waste: number | null;
  /** Sheets that the pieces fill; null of what comes off a roll or a hide. */ readonly sheets: number | null;
  /** null without a shelf, or where the shelf has it not or does not say how it is sold. */ readonly bought: ListedPurchase | null;
}

/** A length that is cut: `mass` is of one, `count` of these. */
export interface ListedLength extends Tape {
  /** Bindings of cloth as of a material, all else as of a trim. */ readonly bought: ListedPurchase | null;
}

/** Something bought by the piece. */
export interface ListedPart {
  readonly name: string;
  readonly kind: string;
  readonly what: string;
  /** Panels it sits on. */ readonly on: readonly string[];
  readonly count: number;
  /** m; null where none is known. */ readonly size: number | null;
  /** kg of one; null where the bag's weight does not count it. */ readonly mass: number | null;
  readonly evidence: Evidence | null;
  readonly bought: ListedPurchase | null;
}

/** Mass of one part of the finished bag; all of them are what the bag weighs. */
export interface FinishedPart {
  readonly kind: 'panel' | 'strap' | 'member' | 'hardware' | 'closure';
  readonly name: string;
  /** kg */ readonly mass: number;
}

/** What the materials come to in money. */
export interface ListedCost {
  /** Name of the shelf. */ readonly shelf: string;
  readonly currency: string;
  /** Of materials, lengths, parts and thread; null where one of them has no price. */ readonly total: number | null;
  /** Of those that have one. */ readonly known: number;
  /** Names of what has no price on the shelf. */ readonly without: readonly string[];
}

/** Thread of one row of stitches. */
export interface ThreadRow {
  readonly name: string;
  /** m, of one row times the rows. */ readonly length: number;
  /** m */ readonly stitch: number;
  /** What is sewn through, m. */ readonly thickness: number;
  /** m, needle and bobbin together. */ readonly thread: number;
}

/** One step of the sewing order. */
export interface SewingStep {
  readonly phase: string;
  readonly text: string;
}

/** What the maker states for the list. */
export interface ListOptions {
  /** Usable width of rolls, m, where neither `widths` (by material id or name) nor the shelf has one. */ readonly width: number;
  readonly widths: Readonly<Record<string, number>>;
  /** Kept between pieces, m. */ readonly gap: number;
  /** Share of a hide that is lost to its shape and flaws; null: as the shelf says, else 30 %. */ readonly waste: number | null;
  /** Stitch length of seams, m. */ readonly stitch: number;
  /** Tape beyond the chain at each end of a zip, m. */ readonly zipEnds: number;
  /** Cord beyond the channel at each end of a drawstring, m. */ readonly cordEnds: number;
  /** Where prices, widths and sheets come from; null: none. */ readonly shelf: Shelf | null;
  /** Masses of the finished bag by part (finishedParts of src/run); empty: not told. */ readonly finished: readonly FinishedPart[];
}

/** The cutting list of one option. */
export interface CutList {
  readonly bag: string;
  readonly option: string;
  readonly pieces: readonly ListedPiece[];
  readonly materials: readonly ListedMaterial[];
  readonly tapes: readonly ListedLength[];
  readonly parts: readonly ListedPart[];
  readonly thread: readonly ThreadRow[];
  /** Thread of all rows; null without a shelf that has some. */ readonly threadBought: ListedPurchase | null;
  /** kg of all pieces, lengths and parts as cut; thread and glue are not in it. */ readonly mass: number;
  readonly finished: readonly FinishedPart[];
  /** null without a shelf. */ readonly cost: ListedCost | null;
  readonly order: readonly SewingStep[];
  readonly notes: readonly string[];
  readonly stated: Omit<ListOptions, 'shelf' | 'finished'>;
}
