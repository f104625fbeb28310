import type { Anchor, Strap } from '../bag/types.ts';
import { INCH } from '../units/index.ts';
import { seamStrength } from './stitching.ts';

/** How a patch is stitched on: stitches per metre, and the straight-pull strength of the thread, N. */
export interface Stitching {
  readonly stitchesPerMetre: number;
  readonly thread: number;
}

/** What the stitching of one strap end comes to by the rule of thumb, N: a reference, never a promise. */
export interface StitchReference {
  /** Row that was counted, m: once round a box, once along a row. A cross is not counted. */ readonly row: number;
  /** N */ readonly strength: number;
  readonly source: string;
}

/** Stitches per inch of a stitch length, m. */
export const perInch = (stitches: number): number => stitches / INCH;

/** How a strap's ends are stitched on, as the bag states it; null where it does not. */
export const stitchingOf = ({ sewn }: Pick<Strap, 'sewn'>): Stitching | null => (sewn ? { stitchesPerMetre: 1 / sewn.stitch, thread: sewn.thread } : null);

/**
 * What the stitching of a patch comes to by the rule of thumb, N: seamStrength('301') x row of stitches; null for a patch that is not stitched flat
 * (rivet, ring loop). It takes every stitch to pull its share at once and the thread to give way before cloth and stitch holes: a reference to hold
 * a pull against, not a promise. Source: sewn-products engineering practice (see seamStrength).
 */
export function stitchReference(anchor: Pick<Anchor, 'kind' | 'width' | 'height'>, s: Stitching): StitchReference | null {
  if (anchor.kind === 'rivet' || anchor.kind === 'ring loop') return null;
  const row = anchor.kind === 'row' ? anchor.width : 2 * (anchor.width + anchor.height);
  return {
    row,
    strength: seamStrength('301', s.stitchesPerMetre, s.thread) * row,
    source: 'stitches x thread strength x 1.5, lockstitch 301 (sewn-products engineering practice)',
  };
}
