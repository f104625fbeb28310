import { stripRigidity } from '../material/index.ts';
import { bendingLength } from '../units/index.ts';
import type { Sheet } from './sheet.ts';

/** Bending length of a sheet, m: c = (B/w)^(1/3), B the geometric mean of strips along warp and weft. Source: BS 3356 (from memory). */
export const bendingLengthOf = (sheet: Sheet): number =>
  bendingLength(Math.sqrt(stripRigidity(sheet.bending, 0) * stripRigidity(sheet.bending, Math.PI / 2)), sheet.arealMass);
