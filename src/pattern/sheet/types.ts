/** A sheet of drawn pieces, millimetres: x right, y down from the upper left corner. */
import type { Ink, Piece } from '../pieces/types.ts';

/** [x, y], mm. */
export type Spot = readonly [number, number];

/** A drawn line. */
export interface SheetLine {
  readonly ink: Ink | 'frame';
  readonly points: readonly Spot[];
  readonly closed: boolean;
  readonly what: string;
  /** Number of its piece on the sheet, -1 of the sheet itself. */ readonly piece: number;
}

/** A word: x, y of the left end of its baseline. */
export interface SheetText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  /** Letter height (em), mm. */ readonly size: number;
  readonly piece: number;
}

/** Where a piece lies: its point (u, v), m, is at x + 1000 u, y - 1000 v. */
export interface Laid {
  readonly piece: Piece;
  readonly number: number;
  readonly x: number;
  readonly y: number;
}

/** All pieces of a pattern, drawn. */
export interface Sheet {
  readonly title: string;
  readonly width: number;
  readonly height: number;
  readonly laid: readonly Laid[];
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
  /** What could not be written where it belongs, or in this font. */ readonly notes: readonly string[];
}
