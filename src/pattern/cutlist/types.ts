/** What to buy and to cut. SI: m, m2, kg. */
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
  /** Usable width of rolls and sheets, m; `widths` by material id or name. */ readonly width: number;
  readonly widths: Readonly<Record<string, number>>;
  /** Kept between pieces, m. */ readonly gap: number;
  /** Share of a hide that is lost to its shape and flaws. */ readonly waste: number;
  /** Stitch length of seams, m. */ readonly stitch: number;
}

/** The cutting list of one option. */
export interface CutList {
  readonly bag: string;
  readonly option: string;
  readonly pieces: readonly ListedPiece[];
  readonly materials: readonly ListedMaterial[];
  readonly tapes: readonly Tape[];
  readonly thread: readonly ThreadRow[];
  /** kg of all pieces and tapes as cut; thread, hardware and glue are not in it. */ readonly mass: number;
  readonly order: readonly SewingStep[];
  readonly notes: readonly string[];
  readonly stated: ListOptions;
}
