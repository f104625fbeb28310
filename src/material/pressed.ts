import type { Pressed } from '../bag/types.ts';
import type { Thinned } from './thinned.ts';
import type { Laminate } from './types.ts';

interface Row {
  /** Share of the drafted angle at which the seam is at rest: 0 = panels in one plane, 1 = the corner as drafted. */ readonly set: number;
  /** What is bent round the stitch line when the corner turns: nothing, both allowances as strips of their own width, or both in a crease. */
  readonly bends: 'nothing' | 'strips' | 'crease';
}

/**
 * How a plain or turned seam was pressed, as a hinge. An estimate in every row; the words and what they do to a corner: common practice, no source.
 *   unpressed: turned out and never set, the seam wants to lie flat; both allowances stand in the corner and are bent as strips;
 *   open: each allowance lies on its own panel, so that none goes round the corner: it turns freely;
 *   to one side: both allowances go round the corner onto one panel, set about half way;
 *   creased: pressed or hammered to an edge, it rests as drafted, and both layers are bent over no more than their own thickness.
 */
const ROWS: Readonly<Record<Pressed, Row>> = {
  unpressed: { set: 0, bends: 'strips' },
  open: { set: 0, bends: 'nothing' },
  'to one side': { set: 0.5, bends: 'strips' },
  creased: { set: 1, bends: 'crease' },
};

/** Shortest crease, m: cloth is not bent more sharply than over a millimetre (common practice, no source). */
const SHARPEST = 1e-3;

/** What bends at a seam; `thinned`: as it is skived, where it is. */
type Bent = Pick<Laminate, 'bending' | 'thickness'> & { readonly thinned?: Thinned };

export interface PressedHinge {
  /** N*m/rad per metre of seam */ readonly stiffness: number;
  /** Share of the drafted angle. */ readonly set: number;
}

/**
 * Hinge of a seam by how it was pressed: k = (Da + Db)/l, D the rigidities of what its two allowances hold, loose on one another. Strips: l = allowance width;
 * a crease: l = both thicknesses, at least 1 mm. Two layers of 600 uN.m: 0.12 N*m/rad per metre over 10 mm, 1.2 in a crease.
 * Estimates, for comparing ways of making; a corner strip on the bench (swatch/corner.ts) gives the seam's own figure.
 * @param a @param b what the allowances hold (SewnLayers.allowances). @param allowance m, > 0
 */
export function pressedHinge(pressed: Pressed, a: Bent, b: Bent, allowance: number): PressedHinge {
  const { set, bends } = ROWS[pressed];
  const creased = bends === 'crease',
    thick = (of: Bent): number => of.thinned?.line ?? of.thickness,
    rigid = (of: Bent): number => meanRigidity(of) * ((creased ? of.thinned?.crease : of.thinned?.across) ?? 1);
  const length = creased ? Math.max(thick(a) + thick(b), SHARPEST) : allowance;
  return { stiffness: bends === 'nothing' ? 0 : (rigid(a) + rigid(b)) / length, set };
}

/** Of warp and weft, N*m: seams run at any angle to the grain. */
export const meanRigidity = (lam: Pick<Laminate, 'bending'>): number => Math.sqrt(lam.bending[0] * lam.bending[1]);
