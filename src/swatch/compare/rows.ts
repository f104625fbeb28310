/** Several cloths set beside one another: the figures in which they differ, from theory alone. */
import type { Three } from '../../bag/types.ts';
import { stripRigidity } from '../../material/index.ts';
import { bendingLength, DEGREE, overhangAtFixedAngle } from '../../units/index.ts';
import { fabricPercentile } from '../published.ts';
import type { Direction } from '../readings.ts';
import type { Sheet } from '../sheet.ts';
import { droopAt, loopAt } from './curves.ts';

/** How a strip of each direction is cut, rad from the warp. */
export const CUTS: Readonly<Record<Direction, number>> = { warp: 0, weft: 90 * DEGREE, bias: 45 * DEGREE };

/** A cloth to be compared: its sheet at the soft, the typical and the stiff end of its band. */
export interface ComparedCloth {
  readonly name: string;
  readonly sheets: readonly [Sheet, Sheet, Sheet];
  /** Where its figures come from, in words. */ readonly story: string;
}

export interface ComparedRow {
  readonly name: string;
  readonly story: string;
  /** kg/m2 */ readonly arealMass: Three;
  /** Overhang at 41.5 deg, m. */ readonly overhang: Readonly<Record<Direction, Three>>;
  /** Half of it, m. */ readonly bendingLength: Readonly<Record<Direction, Three>>;
  /** Of a narrow strip, N*m. */ readonly rigidity: Readonly<Record<Direction, Three>>;
  /** Bending length of the mean of warp and weft, m, and its place among published fabrics, 0..100. */
  readonly mean: Three;
  readonly percentile: number;
  /** Typical bolt, strip of `length` along the warp: angle of the line from edge to tip below level, rad; drop of the tip, m; null where it hangs straight. */
  readonly droop: { readonly angle: number; readonly drop: number } | null;
  /** Typical bolt, heart loop of twice `length` along the warp: its height, m; null where it hangs straight. */
  readonly loop: number | null;
}

const ordered = (values: readonly number[]): Three => [...values].sort((a, b) => a - b) as unknown as Three;

/**
 * One row a cloth. Overhang O = 2c, c = (B/w)^(1/3), B of a narrow strip cut along warp (0), weft (90) or bias (45 deg); droop and loop by the exact
 * elastica. Low to high are the ends of the cloth's band, smallest first. Nothing is settled: a wide strip that cannot curl is a little stiffer.
 * Parameters: cloths; length of the strip that droop is told for, m, more than 0. Source: Peirce 1930.
 */
export function comparedRows(cloths: readonly ComparedCloth[], length: number): ComparedRow[] {
  if (!(length > 0)) throw new RangeError(`invalid length ${length} m; expected more than 0`);
  return cloths.map(({ name, story, sheets }) => {
    const each = (of: (sheet: Sheet, cut: number) => number): Record<Direction, Three> => ({
      warp: ordered(sheets.map((s) => of(s, CUTS.warp))),
      weft: ordered(sheets.map((s) => of(s, CUTS.weft))),
      bias: ordered(sheets.map((s) => of(s, CUTS.bias))),
    });
    const rigidity = (s: Sheet, cut: number): number => stripRigidity(s.bending, cut);
    const mean = ordered(sheets.map((s) => bendingLength(Math.sqrt(rigidity(s, CUTS.warp) * rigidity(s, CUTS.weft)), s.arealMass)));
    const typical = sheets[1];
    return {
      name,
      story,
      arealMass: ordered(sheets.map((s) => s.arealMass)),
      overhang: each((s, cut) => overhangAtFixedAngle(rigidity(s, cut), s.arealMass)),
      bendingLength: each((s, cut) => bendingLength(rigidity(s, cut), s.arealMass)),
      rigidity: each(rigidity),
      mean,
      percentile: fabricPercentile(mean[1]),
      droop: droopAt(typical, CUTS.warp, length),
      loop: loopAt(typical, CUTS.warp, 2 * length),
    };
  });
}
