/**
 * The bag as the rest of the house sees it: parsed, checked, resolved, SI units throughout.
 * The text form (`*.bag.json`, version 1) is described by the schema in schema.ts; parseBag turns text into this.
 * Everything here is readonly: stages take records and return new ones.
 */

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

export type SeamType = 'plain' | 'turned' | 'lapped' | 'bound' | 'topstitched' | 'fold';

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

export interface Seam {
  readonly name: string;
  /** The two sides, each a chain of edge stretches sewn end to end in the given order. */
  readonly sides: readonly [readonly EdgeRun[], readonly EdgeRun[]];
  /** true: side b runs against side a (the usual case for two panels seen face up); null: to be inferred. */
  readonly reversed: boolean | null;
  readonly type: SeamType;
  /** Seam allowance, m. */
  readonly allowance: number;
  /** Ratio of the longer side to the shorter that is meant (gathers); null: the sides should match. */
  readonly gather: number | null;
  /** Stretches gathered by a ratio of their own; the rest of the seam is sewn plain and `gather` is the largest ratio. Absent: even all along. */
  readonly bunches?: readonly Bunch[];
  /** Hinge spring of the finished seam: stiffness N*m/rad per metre of seam, and rest angle, rad (0 = panels in one plane). null: from type and stack. */
  readonly hinge: { readonly stiffness: number; readonly restAngle: number } | null;
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
}

export type Join = 'loose' | 'bonded' | 'fused';

export interface Layer {
  /** Material id of src/material, or the name of one of the bag file's own materials. */
  readonly material: string;
  /** Overrides the preset's thickness, m (leather and sheet: scales B as t^3, mass and in-plane as t). null: preset. */
  readonly thickness: number | null;
  /** Low and high end when a range was written ("3-4 oz"), m; `thickness` is then its middle. null: one figure. */
  readonly thicknessRange: readonly [number, number] | null;
  /** How this layer is joined to the one before it. First layer: ignored. */
  readonly join: Join;
  /** Bond efficiency 0 (loose sum) .. 1 (shared neutral axis) for `fused`; null: the default estimate 0.5. */
  readonly bond: number | null;
  /** Turn of this layer's warp from the panel's grain, rad. */
  readonly angle: number;
  /** A loose layer cut longer than its panel, along its own warp and weft. Absent: cut to the panel. */
  readonly ease?: readonly [Ease, Ease];
}

/** How much longer than what it lies on a layer is cut: by a share of it, or by a length, m. One of the two is 0. */
export interface Ease {
  readonly share: number;
  readonly length: number;
}

/** [d11, d22, d12, d66] with 1 = along the warp, 2 = along the weft. */
export type Four = readonly [number, number, number, number];

export type Stack =
  | { readonly name: string; readonly kind: 'layers'; readonly layers: readonly Layer[] }
  | {
      readonly name: string;
      readonly kind: 'direct';
      /** kg/m2 */ readonly arealMass: number;
      /** m; 0 when not stated */ readonly thickness: number;
      /** Bending D, N*m */ readonly bending: Four;
      /** In-plane C, N/m */ readonly inPlane: Four;
      /** Warp angle of these values from the panel's grain, rad. */ readonly angle: number;
      /** Where the figures come from, in the user's words ("my swatch"), or null. */ readonly source: string | null;
    };

/** Low, mid, high. */
export type Three = readonly [number, number, number];

/** A material of the bag file's own (a swatch reading): SI, low/mid/high. null: taken from the preset `like`. */
export interface OwnMaterial {
  readonly id: string;
  readonly name: string;
  /** Preset that fills what was not measured, or null when everything is given. */
  readonly like: string | null;
  /** kg/m2 */ readonly arealMass: number;
  /** m */ readonly thickness: number | null;
  /** N*m */ readonly bendingWarp: Three | null;
  readonly bendingWeft: Three | null;
  /** N/m, along warp and weft */ readonly inPlane: Three | null;
  readonly shear: Three | null;
  readonly poisson: number | null;
  /** Where the figures come from, in the maker's words. */
  readonly source: string;
  /** The bending figures were read off the maker's own strip (an overhang or a rigidity). */
  readonly measured: boolean;
}

export interface BagOption {
  readonly name: string;
  /** Panel name -> stack name, complete for every panel. */
  readonly stacks: Readonly<Record<string, string>>;
  /** "panel/region" -> stack name, complete for every region. */
  readonly regions: Readonly<Record<string, string>>;
}

/** Loose contents of a bag, filled in level. */
export interface Load {
  /** kg */ readonly mass: number;
  /** Depth of the fill over the drafted height, 0..1. */ readonly fill: number;
  /** Angle of repose of the contents, rad: how little they push sideways. */ readonly repose: number;
}

/** A rigid thing in a bag, as it is put in: its length (a block: its height) along a world axis. Sizes m, kg. */
export interface Thing {
  readonly thing: string;
  readonly mass: number;
  readonly body:
    | { readonly form: 'block'; readonly size: readonly [number, number, number]; readonly round: number }
    | { readonly form: 'roll'; readonly diameter: number; readonly length: number; readonly round: number }
    | { readonly form: 'ball'; readonly diameter: number };
  readonly along: 'x' | 'y' | 'z';
  /** About the plumb line, rad. */ readonly turn: number;
  /** Where it is put in, from the bag's middle, m; null: side by side with the others. */ readonly at: readonly [number, number] | null;
  /** Against cloth, table and other things. */ readonly friction: number;
}

/** What a bag hangs from: a bent hook that draws the straps together, a level bar, a rounded bar that slopes like a shoulder, or two hands that each hold half of the straps. */
export type HangsFrom = 'hook' | 'bar' | 'shoulder' | 'hands';

/** World directions of a bag that stands: front is -y, right is +x. */
export type Side = 'front' | 'back' | 'left' | 'right';

/** A rigid thing beside or under the bag. Sizes m; `at` its middle, world axes (bag's middle over x = y = 0, table at z = 0). */
export type Form = { readonly at: readonly [number, number, number] /** Against the cloth. */; readonly friction: number } & (
  | {
      readonly form: 'block';
      readonly size: readonly [number, number, number];
      readonly round: number /** Turn about the plumb line, rad. */;
      readonly turn: number;
    }
  | { readonly form: 'egg'; readonly size: readonly [number, number, number]; readonly turn: number }
  | { readonly form: 'ball'; readonly diameter: number }
  | { readonly form: 'roll'; readonly diameter: number; readonly length: number; readonly along: 'x' | 'y' | 'z'; readonly round: number }
  | { readonly form: 'bolster'; readonly diameter: number /** Its round ends included. */; readonly length: number; readonly along: 'x' | 'y' | 'z' }
);

/** What a standing bag stands on, where that is not simply a level table. */
export interface Ground {
  readonly on: 'table' | 'nothing';
  /** Slope of the whole, rad. */ readonly tilt: number;
  /** Where the slope falls. */ readonly toward: Side;
  /** glued: every point of the base is held; hinged: only the line where the walls meet it. */ readonly base: 'free' | 'hinged' | 'glued';
  readonly forms: readonly Form[];
}

export type Stance =
  | {
      readonly name: string;
      readonly kind: 'standing';
      readonly friction: number;
      readonly load: Load | null;
      /** Rigid contents; absent where there are none. */ readonly contents?: readonly Thing[];
      /** null or absent: a level table. */ readonly ground?: Ground | null;
    }
  | { readonly name: string; readonly kind: 'held' }
  | {
      readonly name: string;
      readonly kind: 'hung';
      readonly from: HangsFrom;
      /** Of the hook's wire, the bar, the shoulder or the hands' grip, m. */ readonly diameter: number;
      /** Fall of a shoulder from the neck outward, rad. */ readonly slope: number;
      /** From the middle of one hand to the middle of the other, m; 0 of what is no pair of hands. */ readonly apart: number;
      /** Straps over it. */ readonly friction: number;
      /** Names of the straps that carry; the others hang loose and only weigh. */ readonly straps: readonly string[];
      readonly load: Load | null;
      /** Rigid contents; absent where there are none. */ readonly contents?: readonly Thing[];
    };

/** A named dimension of the bag. `text` is what the file says; `value` is SI (m, m2, rad or a plain number, as `kind` says). */
export interface Parameter {
  readonly name: string;
  readonly value: number;
  readonly text: string;
  readonly kind: 'length' | 'angle' | 'number' | 'other';
}

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
