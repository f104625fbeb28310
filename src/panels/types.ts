import type { Curve } from '../bag/index.ts';
import type { InnerLine, OutlineEdge, Point2 } from '../bag/types.ts';

/** One edge of a panel: outline edges first, then the edges of each hole. */
export interface DraftEdge {
  readonly name: string;
  readonly edge: OutlineEdge;
  readonly curve: Curve;
  /** m */ readonly length: number;
  /** 0 = outline, h = hole h - 1. */ readonly loop: number;
  /** Next edge round the same loop (index into DraftPanel.edges), and the one before. */
  readonly next: number;
  readonly previous: number;
  /** true when the cloth lies to the left of the direction of travel (a counterclockwise outline, a clockwise hole). */
  readonly clothOnLeft: boolean;
}

export interface DraftPanel {
  readonly name: string;
  readonly edges: readonly DraftEdge[];
  /** Edge indices of each loop in order; loop 0 is the outline. */ readonly loops: readonly (readonly number[])[];
  /** Outline area less holes, m2, positive. */ readonly area: number;
  /** Outline length without holes, m. */ readonly perimeter: number;
  /** [minX, minY, maxX, maxY], m, from the outline. */ readonly bounds: readonly [number, number, number, number];
  /** Interior angle at the start of each edge, rad (0..2 pi), by edge index. */ readonly cornerAngle: readonly number[];
  /** Pairs of edge names that cross or touch away from their shared corner; empty for a sound outline. */
  readonly crossings: readonly (readonly [string, string])[];
}

/** A stretch of one panel edge as sewn: walked from `from` to `to` when forward, else from `to` to `from`. */
export interface SideRun {
  readonly panel: number;
  readonly edge: number;
  readonly from: number;
  readonly to: number;
  readonly forward: boolean;
  /** m */ readonly length: number;
  /** Start and end along the whole side, as fractions of the side's length. */ readonly u0: number;
  readonly u1: number;
}

/** One side of a seam, runs in pairing order: fraction u of side a is sewn to the matched fraction of side b. */
export interface SeamSide {
  readonly runs: readonly SideRun[];
  /** m */ readonly length: number;
}

/** A stretch of a seam gathered between two notches. */
export interface DraftBunch {
  /** The two marks as written. */ readonly names: readonly [string, string];
  /** Ratio stated, and the one that the drawn lengths of both sides make of it. */ readonly stated: number;
  readonly drawn: number;
  /** Its ends [u on a, u on b]. */ readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

export interface DraftSeam {
  readonly name: string;
  readonly sides: readonly [SeamSide, SeamSide];
  /**
   * Matched places [u on a, u on b], increasing, from [0, 0] to [1, 1]: corners within cutting tolerance are sewn corner to corner, equal
   * fractions between them.
   */
  readonly knots: readonly (readonly [number, number])[];
  /** Longer over shorter, >= 1: ease, or the gather ratio. */ readonly ratio: number;
  /** Which side is longer: 0 = a, 1 = b. */ readonly longer: 0 | 1;
  /** true when side b is walked against its outline direction in the pairing (given or inferred). */ readonly reversed: boolean;
  /** true when the pairing direction had to be inferred. */ readonly inferred: boolean;
  /** Gathers bunched between notches; absent when the seam is even. */ readonly bunches?: readonly DraftBunch[];
  /** true when one bunch begins before the one before it ends. */ readonly overlaps?: boolean;
  /** Length that the bunches' ratios ask of the other side over what it is drawn; absent likewise. */ readonly bunched?: number;
  /** true when the two sides run the same way with cloth on the same hand: one panel is sewn wrong side out. */ readonly faceFlips: boolean;
}

/** The line on which a panel with boxed corners turns from base to wall, from one cut-out's inner corner to another's. */
export interface BaseLine {
  readonly from: Point2;
  readonly to: Point2;
  /** Where the upright edges of the finished bag, square to the line at its two ends, run out of the panel; null where they do not. */
  readonly tops: readonly [Point2 | null, Point2 | null];
  /** The base lies to the left of from -> to. */ readonly baseOnLeft: boolean;
}

/** A panel part of which becomes the bag's flat bottom when its cut-outs are sewn shut. */
export interface BoxedPanel {
  readonly lines: readonly BaseLine[];
}

/** A line inside a panel that the mesh follows. */
export interface DraftLine {
  readonly points: readonly Point2[];
  readonly fold: InnerLine['fold'];
  /** What boxed corners make of it: the base line, an upright edge of the bag, or nothing. */ readonly turn: 'base' | 'upright' | null;
}

/** Flat panels with exact lengths, and seams as matched stretches. Panel and edge numbers are those of bag.panels and DraftPanel.edges. */
export interface Draft {
  readonly panels: readonly DraftPanel[];
  readonly seams: readonly DraftSeam[];
  /** Per panel: its boxed corners, or null. */ readonly boxed: readonly (BoxedPanel | null)[];
  /** Per panel: fold lines and other lines marked on it, then the base lines of its boxed corners. */ readonly lines: readonly (readonly DraftLine[])[];
}
