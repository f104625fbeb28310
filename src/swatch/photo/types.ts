import type { Fault, Three } from '../../bag/types.ts';

/** A place in a picture, pixels: x to the right, y down. */
export type Pixel = readonly [number, number];

/** What is marked in one picture of a strip that hangs over a table's edge, seen from the side. */
export interface PhotoMarks {
  /** Four corners of an ID-1 card, clockwise as seen, from the start of a long side; or null. */
  readonly card: readonly Pixel[] | null;
  /** Two marks of a ruler in a picture taken square on, and how far apart they are, m; or null. */
  readonly ruler: { readonly marks: readonly Pixel[]; readonly apart: number } | null;
  /** The table's edge, where the strip leaves it; and, where marked, a second place on the table's top, which tells what is level. */
  readonly table: readonly Pixel[];
  /** 5 to 20 places along the strip, from the table's edge to the tip; the last is the tip. */
  readonly strip: readonly Pixel[];
  /** How far a card's corner or a ruler's mark may be off, m; null: 0.1 mm. */
  readonly scaleNoise?: number | null;
  /** Width and height, pixels, of a whole picture as a phone's main camera took it, neither cropped nor zoomed; null: nothing is known of the camera. */
  readonly size?: Pixel | null;
  /** Length of the strip from the edge to its tip where it was measured, and how far that may be off (one standard deviation), m; null: read off the picture. */
  readonly measured?: { readonly length: number; readonly off: number } | null;
}

/** A strip read off one picture. */
export interface PhotoReading {
  /** c = (D/w)^(1/3), m: lower end, best, upper end of the 90 % interval. */ readonly bendingLength: Three;
  /** D/w = c^3, m3. */ readonly rigidityOverWeight: number;
  /** Length of the strip from the edge to its tip, m. */ readonly length: number;
  /** Load w L^3/D. */ readonly load: number;
  /** Slope at the edge below level, rad; -3 to 3 degrees. */ readonly clampAngle: number;
  /** Angle of the line from edge to tip below level, rad. */ readonly chordAngle: number;
  /** Each place's distance from the fitted strip, m, in the order of the marks. */ readonly residuals: readonly number[];
  /** Noise of a place, m, as the residuals tell it. */ readonly noise: number;
  /** The picture could be read as a whole one of a main camera. */ readonly asWhole: boolean;
  /** The fitted strip in the picture, from edge to tip, pixels. */ readonly curve: readonly Pixel[];
  /** Picture's scale at the strip, pixels a metre. */ readonly scale: number;
  readonly warnings: readonly string[];
}

/** A reading, or everything that stands in its way; paths as in a file of readings ("card", "strip[3]"). */
export type PhotoRead = { readonly ok: true; readonly reading: PhotoReading } | { readonly ok: false; readonly faults: readonly Fault[] };
