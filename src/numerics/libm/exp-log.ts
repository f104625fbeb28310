import { fromWords, highWord, lowWord, scaled } from './words.ts';

const LN2 = 0.6931471803691238;
const LN2_TAIL = 1.9082149292705877e-10;

/** e^x, to 1 unit in the last place: 2^k times e^r, r at most ln 2 / 2 in size (fdlibm, e_exp). */
export function exp(x: number): number {
  if (Number.isNaN(x) || x > 709.782712893384) return x * Number.POSITIVE_INFINITY;
  if (x < -745.1332191019411) return 0;
  // The polynomial would give e its last bit but one.
  if (x === 1) return Math.E;
  const k = Math.abs(x) > 0.34657359027997264 ? Math.trunc(Math.LOG2E * x + (x < 0 ? -0.5 : 0.5)) : 0,
    high = x - k * LN2,
    low = k * LN2_TAIL,
    r = high - low,
    t = r * r,
    c =
      r - t * (0.16666666666666602 + t * (-0.0027777777777015593 + t * (0.00006613756321437934 + t * (-0.0000016533902205465252 + t * 4.1381367970572385e-8))));
  return scaled(1 - (low - (r * c) / (2 - c) - high), k);
}

/** Natural logarithm, to 1 unit in the last place; NaN below 0. x = 2^k (1 + f), with 1 + f between sqrt(1/2) and sqrt 2 (fdlibm, e_log). */
export function log(x: number): number {
  if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
  if (x === Number.POSITIVE_INFINITY) return x;
  const tiny = x < 2.2250738585072014e-308,
    whole = tiny ? x * 18014398509481984 : x,
    word = highWord(whole),
    fraction = word & 0xfffff,
    up = (fraction + 0x95f64) & 0x100000,
    k = (word >> 20) - 1023 + (up >> 20) - (tiny ? 54 : 0),
    f = fromWords(fraction | (up ^ 0x3ff00000), lowWord(whole)) - 1,
    s = f / (2 + f),
    z = s * s,
    w = z * z,
    R =
      w * (0.3999999999940942 + w * (0.22222198432149784 + w * 0.15313837699209373)) +
      z * (0.6666666666666735 + w * (0.2857142874366239 + w * (0.1818357216161805 + w * 0.14798198605116586))),
    half = 0.5 * f * f;
  return k * LN2 - (half - (s * (half + R) + k * LN2_TAIL) - f);
}
