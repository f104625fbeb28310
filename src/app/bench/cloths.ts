import type { Bag } from '../core.ts';
import { materialChoices } from '../page/materials.ts';
import { type Band, type Evidence, GRAVITY, laminateOf, presets, type Sheet, stripRigidity } from './core.ts';

/** A material as the list shows it and the bench tests it, at one end of its band. */
export interface Cloth {
  readonly id: string;
  readonly name: string;
  readonly family: string;
  readonly preset: boolean;
  readonly sheet: Sheet;
  /** N*m: geometric mean of strips along warp and weft. */ readonly rigidity: number;
  /** m, of that mean. */ readonly bendingLength: number;
  readonly evidence: Evidence;
  /** Where the figures come from. */ readonly story: string;
}

/** Geometric mean of strips along warp and weft, N*m, and its bending length, m: the figures that fabrics are compared by. */
function meanOf(sheet: Sheet): { readonly rigidity: number; readonly bendingLength: number } {
  const rigidity = Math.sqrt(stripRigidity(sheet.bending, 0) * stripRigidity(sheet.bending, Math.PI / 2));
  return { rigidity, bendingLength: Math.cbrt(rigidity / (sheet.arealMass * GRAVITY)) };
}

/** Everything that can go on the bench: the bag's own materials first, then the built-in ones. */
export function clothsOf(bag: Bag, band: Band): Cloth[] {
  const built = new Set(presets().map((p) => p.id));
  return materialChoices(bag).map(({ id, label, family }) => {
    const layers = [{ material: id, thickness: null, thicknessRange: null, join: 'loose' as const, bond: null, angle: 0 }];
    const { arealMass, bending, inPlane, evidence, story } = laminateOf(bag, { name: id, kind: 'layers', layers }, band);
    const sheet: Sheet = { arealMass, bending, inPlane };
    return { id, name: label, family, preset: built.has(id) && family !== 'own', sheet, ...meanOf(sheet), evidence, story };
  });
}
