import type { Bag } from '../../bag/types.ts';
import { allPieces } from './cut-pattern.ts';
import type { CutOptions, LayerKind } from './types.ts';

/** Area of one piece that is cut, by its material and the panels it is for. */
export interface CutArea {
  readonly material: string;
  readonly kind: LayerKind;
  readonly panels: readonly string[];
  /** m2 at the cut line, all of its copies. */ readonly area: number;
  /** kg/m2 */ readonly arealMass: number;
}

/** Areas of everything that is cut for one option, panels and straps; tapes are not in it. Parameters and errors: as cutPattern. */
export const cutAreas = (bag: Bag, optionName?: string, cut: Partial<CutOptions> = {}): readonly CutArea[] =>
  allPieces(bag, optionName, cut).pieces.map(({ material, kind, panels, count, area, arealMass }) => ({
    material,
    kind,
    panels,
    area: count * area,
    arealMass,
  }));
