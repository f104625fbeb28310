/**
 * Trade weights and gauges to SI and back. Each is one factor of the trade or a definition; none is a material property.
 */
import { FOOT, INCH, OUNCE, YARD } from './constants.ts';

/** kg/m2 of one ounce per square yard: 0.028349523125/0.83612736 = 0.0339057... Source: definition of yard and ounce. */
export const OZ_PER_YD2 = OUNCE / (YARD * YARD);

/** kg/m2 of one ounce per square foot (some leather merchants). Source: definition. */
export const OZ_PER_FT2 = OUNCE / (FOOT * FOOT);

/** m of one leather ounce, 1/64 in. Trade charts round to 0.4 mm. Source: common practice. */
export const LEATHER_OUNCE = INCH / 64;

/** m2 of the piece by which numbered duck is weighed, 36 x 22 in. */
const DUCK_PIECE = 36 * INCH * 22 * INCH;

/**
 * Ounces per 36 x 22 in piece of a numbered duck: 19 - N, and 18 + N for the naught ducks N/0.
 * Parameters: number, "1".."12" or "1/0".."12/0" (the part before "/0"). Returns null for text that is no duck number.
 * Source: numbered-duck rule, US Dept of Commerce simplified practice (as quoted in public reference tables).
 */
export function duckOunces(number: string): number | null {
  const naught = /^\s*(\d{1,2})\s*\/\s*0\s*$/.exec(number);
  if (naught) {
    const n = Number(naught[1]);
    return n >= 1 && n <= 12 ? 18 + n : null;
  }
  const plain = /^\s*(\d{1,2})\s*$/.exec(number);
  if (!plain) return null;
  const n = Number(plain[1]);
  return n >= 1 && n <= 12 ? 19 - n : null;
}

/** Areal mass of a numbered duck, kg/m2, or null: (19 - N) oz over 36 x 22 in. Source: as duckOunces. */
export function duckArealMass(number: string): number | null {
  const ounces = duckOunces(number);
  return ounces === null ? null : (ounces * OUNCE) / DUCK_PIECE;
}
