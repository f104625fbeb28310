import { plateRigidity, stripRigidity, turned } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import { bendingLength } from '../units/index.ts';
import { onEdgeLoad } from './elastica.ts';
import type { Sheet } from './sheet.ts';

/** Bending length of a sheet, m: c = (B/w)^(1/3), B the geometric mean of strips along warp and weft. Source: BS 3356 (from memory). */
export const bendingLengthOf = (sheet: Sheet): number =>
  bendingLength(Math.sqrt(stripRigidity(sheet.bending, 0) * stripRigidity(sheet.bending, Math.PI / 2)), sheet.arealMass);

/**
 * Load w L^3, N*m, at which a long strip cut at `cut` rad from the warp and held on edge tips over sideways, and whether theory covers it: a cut off
 * the axes makes a strip twist when it bends, which the formula leaves out. Source: as onEdgeLoad.
 */
export function onEdgeOf(sheet: Sheet, cut: number): { readonly load: number; readonly known: boolean } {
  const [, , twist, , c16, c26] = turned(sheet.bending, cut);
  const known = libm.hypot(c16, c26) < 1e-6 * plateRigidity(sheet.bending, cut);
  return { load: onEdgeLoad(stripRigidity(sheet.bending, cut), twist), known };
}
