import type { Wanted } from '../../bag/types.ts';
import type { Band } from '../../material/types.ts';
import type { Status } from '../../solver/types.ts';
import type { Fit, VerdictWord } from '../types.ts';

/** The bag settled once with the bending rigidity of the asked panels times `factor`. */
export interface NeedTry {
  /** On the bending of the option's own stacks; 1 as drawn. */ readonly factor: number;
  readonly word: VerdictWord;
  readonly fit: Fit | null;
  /** Side of what is wanted; null without a verdict. */ readonly side: 'soft' | 'meets' | 'stiff' | null;
  /** As Verdict.margin; null without a verdict. */ readonly margin: number | null;
  readonly status: Status;
  readonly residual: number;
}

/** Where what is wanted begins, or ends: two settled states and what lies between them. */
export interface NeedEdge {
  /** The nearest state tried that meets what is wanted. */ readonly met: NeedTry;
  /** The nearest beyond the edge that does not. */ readonly missed: NeedTry;
  /** Stiffer of the two over the softer, less 1: the uncertainty of the edge on this mesh. */ readonly gap: number;
  /** The same two on a finer mesh; absent where that was not asked. */
  readonly finer?: { readonly edgeLength: number; readonly vertices: number; readonly met: NeedTry; readonly missed: NeedTry; readonly agrees: boolean };
}

/** What was found of one end of the material band. */
export interface NeedSearch {
  readonly band: Band;
  /** Least factor that meets; null where no edge was found: see `tries`. */ readonly least: NeedEdge | null;
  /** Most that meets, where what is wanted can be too stiff; null where it was not asked or no edge was found. */ readonly most: NeedEdge | null;
  /** Does anything that was tried meet what is wanted? */ readonly met: boolean;
  /** Every state tried, softest first. */ readonly tries: readonly NeedTry[];
  /** Tries that contradict the edges (softer than the least and met, or between the two and not), or whose word is worse than that of a softer one. Empty where words go one way. */ readonly odd: readonly NeedTry[];
}

/** A stack as a maker tests it: a strip cut up the panel. */
export interface NeedStack {
  readonly stack: string;
  /** Panels whose own stack it is, of those that were asked. */ readonly panels: readonly string[];
  readonly band: Band;
  /** kg/m2 */ readonly arealMass: number;
  /** Of a strip up the bag, N*m. */ readonly rigidity: number;
  /** Geometric mean of warp and weft, N*m: what an interfacing adds to. */ readonly mean: number;
  /** At 41.5 deg, of a strip up the bag, m. */ readonly overhang: number;
}

/** One stance's answer. */
export interface NeedStance {
  readonly stance: string;
  readonly hung: boolean;
  readonly mid: NeedSearch;
  /** With a soft bolt; null where the band has one figure. */ readonly low: NeedSearch | null;
}

/** What one group of panels comes to when it alone is made stiffer or softer. */
export interface NeedPanels {
  readonly panels: readonly string[];
  readonly stance: string;
  readonly search: NeedSearch;
}

/** The least (and most) bending rigidity of the asked panels at which a bag is what is wanted of it. */
export interface NeedReport {
  readonly bag: string;
  readonly option: string;
  readonly wanted: Wanted;
  readonly panels: readonly string[];
  /** All panels of the bag. */ readonly every: boolean;
  /** Mesh of the search, m. */ readonly edgeLength: number;
  /** Did the mass grow as an interfacing's would, or stay? */ readonly mass: 'stays' | 'grows';
  /** Was a soft bolt asked for as well? */ readonly softBolt: boolean;
  readonly vertices: number;
  /** Settles that this took. */ readonly runs: number;
  /** Of the middle of the band, walls first, then of its soft end where that differs. */ readonly stacks: readonly NeedStack[];
  readonly stances: readonly NeedStance[];
  /** Each group of panels alone, the one that needs least first; empty where that was not asked. */ readonly alone: readonly NeedPanels[];
}
