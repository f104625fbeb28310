/**
 * The bag as the rest of the house sees it: parsed, checked, resolved, SI units throughout.
 * The text form (`*.bag.json`, version 1) is described by the schema in schema.ts; parseBag turns text into this.
 * Everything here is readonly: stages take records and return new ones.
 */

import type { Closure } from './types-closures.ts';
import type { Hardware } from './types-hardware.ts';
import type { Member } from './types-members.ts';
import type { BagOption, OwnMaterial, Stack } from './types-stacks.ts';
import type { Stance } from './types-stances.ts';

export type * from './types-closures.ts';
export type * from './types-hardware.ts';
export type * from './types-members.ts';
export type * from './types-stacks.ts';
export type * from './types-stances.ts';

/** What the maker wants of the finished bag; judged against, never simulated. */
export type Wanted = 'slouchy' | 'soft' | 'structured' | 'rigid';

/** A point of a flat panel, metres, panel frame: x to the right, y up the bag, seen from the face (right side). */
export type Point2 = readonly [number, number];

/**
 * One edge of a panel outline, from corner to corner. Outlines run counterclockwise seen from the face.
 * line: straight. arc: circle through `via` (any point between the ends). cubic: Bezier with two control points.
 */
export type OutlineEdge =
  | { readonly name: string; readonly kind: 'line'; readonly from: Point2; readonly to: Point2 }
  | { readonly name: string; readonly kind: 'arc'; readonly from: Point2; readonly to: Point2; readonly via: Point2 }
  | {
      readonly name: string;
      readonly kind: 'cubic';
      readonly from: Point2;
      readonly to: Point2;
      readonly control: readonly [Point2, Point2];
    };

/** A stretch of a panel edge by arc-length fraction, 0 <= from < to <= 1 in the outline's own (counterclockwise) direction. */
export interface EdgeRun {
  readonly panel: string;
  readonly edge: string;
  readonly from: number;
  readonly to: number;
}

/** Held part of a panel. `point`: one place pinned; `edge`: every vertex of the stretch held, with its slope when `slope` is true. */
export type Clip = { readonly kind: 'point'; readonly at: Point2 } | { readonly kind: 'edge'; readonly run: EdgeRun; readonly slope: boolean };

/** A part of a panel with its own stack: a polygon (metres, panel frame, counterclockwise); curves come already flattened. */
export interface Region {
  readonly name: string;
  /** Stack in every option that does not name this region itself (see BagOption.regions). */
  readonly stack: string;
  readonly outline: readonly Point2[];
}

/**
 * A line marked inside a panel. A fold line is creased before sewing: a hinge with a spring that is at rest at the fold's angle. Any other line
 * is a line of the drawing alone; the mesh follows it.
 */
export interface InnerLine {
  readonly name: string;
  /** From end to end, m, panel frame; at least two. */ readonly points: readonly Point2[];
  /**
   * null: not folded. width: cloth taken up by the crease, m; its spring is the stack's rigidity over that width; 0 = scored or cut half through, a free
   * hinge. angle: rad between the two sides, positive = folded away from the face, or null = as the sewn bag has it.
   */
  readonly fold: { readonly width: number; readonly angle: number | null } | null;
}

/** How the panel is meant to stand in the finished bag; only used for start shape, measures and wording. */
export type PanelRole = 'front' | 'back' | 'side' | 'gusset' | 'base' | 'body' | 'flap' | 'pocket' | 'strap' | 'trim' | 'flat';

/** One flat panel: outline, holes, regions, marks and what its edges are. */
export interface Panel {
  readonly name: string;
  readonly role: PanelRole;
  readonly outline: readonly OutlineEdge[];
  /** Holes run clockwise seen from the face, so that the panel lies to the left of every edge it has. */
  readonly holes: readonly (readonly OutlineEdge[])[];
  /** Chains of edges that go by one name ("rim" of a round base), in outline order. Seams are already expanded. */
  readonly chains: Readonly<Record<string, readonly string[]>>;
  /** Angle of the warp (grain) from the panel's +y, radians, counterclockwise seen from the face. */
  readonly grain: number;
  readonly marks: readonly { readonly name: string; readonly at: Point2 }[];
  readonly clips: readonly Clip[];
  readonly regions: readonly Region[];
  /** Fold lines and other lines marked on the panel. */ readonly lines: readonly InnerLine[];
  /** Named edges that are left open on purpose (mouth, free hem). */
  readonly openings: readonly string[];
  /** Stated pose of a flat panel (start shape): origin of the panel frame and its x and y directions in world axes; z up. */
  readonly pose: {
    readonly origin: readonly [number, number, number];
    readonly x: readonly [number, number, number];
    readonly y: readonly [number, number, number];
  } | null;
}

/** A way a seam is made. */
export type SeamType = 'plain' | 'turned' | 'lapped' | 'bound' | 'topstitched' | 'fold';

/** How a plain or turned seam is pressed; creased: pressed or hammered to an edge. */
export type Pressed = 'unpressed' | 'open' | 'to one side' | 'creased';

/** A place on a panel edge by arc-length fraction. */
export interface EdgePlace {
  readonly panel: string;
  readonly edge: string;
  readonly at: number;
}

/** A stretch of a seam gathered between two notches, in no order. */
export interface Bunch {
  readonly from: EdgePlace;
  readonly to: EdgePlace;
  /** Gathered over sewn length, >= 1. */ readonly ratio: number;
  /** The two marks as written, "panel.mark". */ readonly names: readonly [string, string];
}

/** Two sides that are sewn to each other. */
export interface Seam {
  readonly name: string;
  /** The two sides, each a chain of edge stretches sewn end to end in the given order. */
  readonly sides: readonly [readonly EdgeRun[], readonly EdgeRun[]];
  /** true: side b runs against side a (the usual case for two panels seen face up); null: to be inferred. */
  readonly reversed: boolean | null;
  readonly type: SeamType;
  /** Seam allowance as it is cut, m. */
  readonly allowance: number;
  /** Width to which both allowances are trimmed once they are sewn, m; absent: as cut. */ readonly trimmed?: number;
  /** Thickness to which both allowances are skived, and over which width from their cut edges, m; absent: not skived. */
  readonly skived?: { readonly to: number; readonly over: number };
  /** Ratio of the longer side to the shorter that is meant (gathers); null: the sides should match. */
  readonly gather: number | null;
  /** Stretches gathered by a ratio of their own; the rest of the seam is sewn plain and `gather` is the largest ratio. Absent: even all along. */
  readonly bunches?: readonly Bunch[];
  /** Hinge spring of the finished seam: stiffness N*m/rad per metre of seam, and rest angle, rad (0 = panels in one plane). null: from type and stack. */
  readonly hinge: { readonly stiffness: number; readonly restAngle: number } | null;
  /** How it is pressed; absent: not stated, and a plain seam hinges freely (material/pressed.ts). */
  readonly pressed?: Pressed;
}

/** Ways an open edge is finished. */
export type FinishKind = 'raw' | 'turned once' | 'turned twice' | 'faced' | 'bound';

/** What is done to a stretch of the outline that no seam takes up. */
export interface EdgeFinish extends FinishMade {
  readonly panel: string;
  /** As written: an edge, a chain or a stretch. */ readonly edge: string;
  /** Stretches of the outline, in outline order. */ readonly runs: readonly EdgeRun[];
  /** Takes this one's place where an option makes the panel of leather; absent: none. */ readonly leather?: FinishMade;
}

/** How an edge is finished. */
export interface FinishMade {
  readonly finish: FinishKind;
  /** Finished width on the panel, m; 0 of a raw edge. */ readonly width: number;
  /** Stack of a facing or a binding; null: the panel's own shell. */ readonly stack: string | null;
}

/** A row of topstitching on one panel. */
export interface Topstitch {
  readonly panel: string;
  /** Stretches of the outline it follows, in outline order. */ readonly runs: readonly EdgeRun[];
  /** Distance from the edge, m. */ readonly offset: number;
  /** Stitch length, m. */ readonly stitch: number;
  /** Breaking force of its thread, straight pull, N; null when none is stated. */ readonly thread: number | null;
  /** The row itself, flattened, panel frame, in the direction of the outline. */ readonly line: readonly Point2[];
}

/** Ways a strap's end is sewn on. */
export type AnchorKind = 'box' | 'box with cross' | 'row' | 'rivet' | 'ring loop';

/** Where a strap's end is sewn to a panel: an upright rectangle of cloth that carries the pull over its area. */
export interface Anchor {
  readonly panel: string;
  readonly kind: AnchorKind;
  /** Centre of the patch, panel frame, m. */ readonly at: Point2;
  /** Across the strap, m. */ readonly width: number;
  /** Along the strap, m. */ readonly height: number;
}

/** A strap with its two anchors. It carries in a hung stance; elsewhere half its weight lies on each patch. */
export interface Strap {
  readonly name: string;
  /** Finished width, m. */ readonly width: number;
  /** Between the tops of its patches, m. */ readonly length: number;
  readonly stack: string;
  /** Thicknesses of the stack in the folded strap. */ readonly layers: number;
  readonly anchors: readonly [Anchor, Anchor];
  /** Wanted distance from the top of the carrying strap down to the mouth, m; null when none is stated. */ readonly drop: number | null;
  /** How its ends are sewn on: stitch length, m, and the breaking force of the thread, straight pull, N. Absent: not stated. */
  readonly sewn?: { readonly stitch: number; readonly thread: number };
  /** `length` at the shortest setting of its adjuster, m; `length` itself is then its longest. Absent: no adjuster. */ readonly shortest?: number;
}

/** A named dimension of the bag. `text` is what the file says; `value` is SI (m, m2, rad or a plain number, as `kind` says). */
export interface Parameter {
  readonly name: string;
  readonly value: number;
  readonly text: string;
  readonly kind: 'length' | 'angle' | 'number' | 'other';
  /** What a maker calls it, in words: "Mouth dip"; absent: not stated. */ readonly label?: string;
}

/** A bag as read: panels, seams, straps, cloths, options and stances; lengths in m, angles in rad. */
export interface Bag {
  readonly version: 1;
  readonly name: string;
  readonly note: string;
  readonly wanted: Wanted;
  /** Strain up to which cloth and straps are taken to carry; left out when the file states none. */ readonly strainLimit?: number;
  /** Resolved parameter values in SI, in file order. */
  readonly parameters: readonly Parameter[];
  readonly panels: readonly Panel[];
  readonly seams: readonly Seam[];
  readonly straps: readonly Strap[];
  readonly topstitch: readonly Topstitch[];
  /** Absent: every open edge is as its panel is drawn. */ readonly finishes?: readonly EdgeFinish[];
  /** What holds it shut; absent where there is nothing. */ readonly closures?: readonly Closure[];
  /** Cords, wires, boning and the like; absent where there are none. */ readonly members?: readonly Member[];
  /** Rings, buckles, feet and the like; absent where there are none. */ readonly hardware?: readonly Hardware[];
  readonly materials: readonly OwnMaterial[];
  readonly stacks: readonly Stack[];
  readonly options: readonly BagOption[];
  readonly stances: readonly Stance[];
}

/** One fault of a bag file: where, what was found, what was expected. */
export interface Fault {
  /** JSON-like path, e.g. `panels.front.outline[2].x` */ readonly path: string;
  /** The offending value as written, shortened. */ readonly got: string;
  readonly expected: string;
}

/** Thrown by parseBag and the pattern checks; carries every fault found. */
export class BagError extends Error {
  constructor(readonly faults: readonly Fault[]) {
    super(faults.map((f) => `${f.path}: got ${f.got}; expected ${f.expected}`).join('\n'));
    this.name = 'BagError';
  }
}
