/** Layers, stacks, materials of one's own and options, resolved, SI. */

export type Join = 'loose' | 'bonded' | 'fused';

/** One layer of a stack, from the face inward. */
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
  /** Is it sewn into the seams, or cut back to the stitch line? Absent: not stated (caught-layers.ts). */
  readonly inSeams?: 'caught' | 'cut out';
  /** How far inside the seam line it ends where it is cut out, m. Absent: 5 mm of an interfacing or a board, 0 of foam, fleece and the rest (caught-layers.ts). */
  readonly inset?: number;
}

/** How much longer than what it lies on a layer is cut: by a share of it, or by a length, m. One of the two is 0. */
export interface Ease {
  readonly share: number;
  readonly length: number;
}

/** [d11, d22, d12, d66] with 1 = along the warp, 2 = along the weft. */
export type Four = readonly [number, number, number, number];

/** What a panel is made of: layers, or the stated figures of a finished stack (SI). */
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

/** softest, median, stiffest; or the 90 % interval of one more swatch by Student's t. */
export type SwatchRule = 'min median max' | 't interval';

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
  /** Its band is that of so many swatches, by this rule. Absent: one figure, or three that were written. */
  readonly swatches?: { readonly count: number; readonly rule: SwatchRule };
}

/** A named choice of stacks, one for each panel and region. */
export interface BagOption {
  readonly name: string;
  /** Panel name -> stack name, complete for every panel. */
  readonly stacks: Readonly<Record<string, string>>;
  /** "panel/region" -> stack name, complete for every region. */
  readonly regions: Readonly<Record<string, string>>;
  /** Panel name -> factor on the bending rigidity of its stack and its regions' stacks. Never in a file: a search sets it (run/need). Absent: 1. */
  readonly bending?: Readonly<Record<string, number>>;
  /** With `bending`: 'grows' where what stiffens the panel weighs as an interfacing would (material/stiffened.ts). Absent: its mass stays. */
  readonly bendingMass?: 'grows';
}

/** What a stack is laid on: the grain of the panel, rad, and how far it reaches, which tells what share an ease by length is. */
export interface Laid {
  readonly grain: number;
  /** Distance of the two lines that just hold it, square to a direction, m. Parameter: rad counterclockwise from x of the panel's frame. */
  reach(direction: number): number;
}
