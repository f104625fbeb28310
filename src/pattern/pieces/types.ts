/** What is cut and what is drawn on it. Metres, each piece in its first panel's frame (x right, y up, seen from the face). */
import type { EdgeRun, FinishKind, Point2, SeamType } from '../../bag/types.ts';

/** What a layer is for; decides how far it reaches into the allowances. */
export type LayerKind = 'shell' | 'lining' | 'interfacing' | 'foam' | 'board' | 'facing' | 'strap';

/** Pens of the sheet: `cut` and `stitch` lines, fold lines, marks, the grain arrow. */
export type Ink = 'cut' | 'stitch' | 'fold' | 'mark' | 'grain';

/** One line to be drawn. */
export interface PieceLine {
  readonly ink: Ink;
  readonly points: readonly Point2[];
  readonly closed: boolean;
  /** What it is, for a reader of the file: "topstitch 3 mm", "hem fold". */ readonly what: string;
}

/** One word to be placed near a line: where the first choice is, and along which direction it may slide. */
export interface Wish {
  readonly text: string;
  /** Places in order of preference, the middle of the word. */ readonly at: readonly Point2[];
}

/** How a stretch of an outline is made up. */
export type EdgeUse =
  | { readonly kind: 'seam'; readonly seam: string; readonly type: SeamType }
  | { readonly kind: 'finish'; readonly finish: FinishKind; readonly folds: readonly number[] }
  | { readonly kind: 'raw' };

/** Corners of the cut line. mitred: both allowances run on until they meet; clipped: the tip is cut off; squared: each ends square; folded: the mirror of the side. */
export type CornerKind = 'mitred' | 'clipped' | 'squared' | 'folded';

/** A stretch of a stitch line with one allowance. Points and unit directions of travel correspond; `out` is the outward side: +1 right of travel, -1 left. */
export interface Stretch {
  readonly run: EdgeRun;
  readonly use: EdgeUse;
  /** m */ readonly allowance: number;
  readonly points: readonly Point2[];
  readonly tangents: readonly Point2[];
  readonly out: 1 | -1;
  /** Smallest radius where the stretch is hollow (curves away from the cloth), m; Infinity where it is nowhere hollow. */ readonly hollow: number;
}

/** One shape to cut, with everything drawn on it. */
export interface Piece {
  /** "front", "flap + back", "front facing". */ readonly name: string;
  readonly kind: LayerKind;
  /** Id of the material; a stack of stated figures goes by its own name. */ readonly material: string;
  readonly materialName: string;
  /** Thickness of the sheet, m; 0 where none is stated. */ readonly thickness: number;
  /** kg/m2 */ readonly arealMass: number;
  /** How many, and how many of these as the mirror image. */ readonly count: number;
  readonly mirrored: number;
  /** Direction of the warp, rad counterclockwise from +x. */ readonly warp: number;
  /** Outer loop counterclockwise, then holes clockwise: the line to cut on. */ readonly cut: readonly (readonly Point2[])[];
  /** m2, of the cut line. */ readonly area: number;
  /** m2, inside the stitch line; equals `area` where nothing is added. */ readonly net: number;
  readonly lines: readonly PieceLine[];
  readonly wishes: readonly Wish[];
  /** Panels it is made of. */ readonly panels: readonly string[];
  /** Said on the piece: "no allowance at top: raw edge". */ readonly notes: readonly string[];
}

/** A length of tape, cord or thread that is cut by the metre. */
export interface Tape {
  readonly name: string;
  readonly kind: 'strap' | 'binding' | 'member' | 'closure';
  readonly material: string;
  readonly materialName: string;
  /** m */ readonly length: number;
  readonly width: number;
  readonly count: number;
  /** kg of one. */ readonly mass: number;
  /** How it comes to its length. */ readonly how: string;
}

/** What the maker decides about the pattern; every figure in metres. */
export interface CutOptions {
  /** How far interfacing ends inside the stitch line. */ readonly interfacingMargin: number;
  /** How far boards and foam end inside the stitch line. */ readonly boardMargin: number;
  /** Allowance of a lining and of facings at an open edge. */ readonly openAllowance: number;
  /** How far the raw edges of a cloth strap are turned in. */ readonly strapTurn: number;
}

/** All that is cut for one option of a bag. */
export interface Pattern {
  readonly bag: string;
  readonly option: string;
  readonly pieces: readonly Piece[];
  readonly tapes: readonly Tape[];
  readonly notes: readonly string[];
}
