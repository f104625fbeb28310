import { fromWords, highWord, lowWord, scaled, upper } from './words.ts';

export const square = (x: number): number => x * x;

export const cube = (x: number): number => x * x * x;

/** The nearest number to 10^n, n whole: reading a decimal is rounded once, everywhere. */
export const tenTo = (n: number): number => Number(`1e${n}`);

/** The whole number n with 10^n <= |x| < 10^(n + 1), without rounding at the powers of ten; x is finite and not 0. */
export const decimalExponent = (x: number): number => Number(x.toExponential().split('e')[1]);

/**
 * x^y for x > 0, to 1 unit in the last place: 2^(y log2 x), the logarithm and its product with y each as a sum of two numbers (fdlibm, e_pow).
 * 0 and infinity as the standard has it; NaN for x < 0, whatever y is: nothing here takes a power of what is negative but squares and cubes.
 */
export function pow(x: number, y: number): number {
  if (y === 0) return 1;
  if (!(x > 0) || !Number.isFinite(x) || !Number.isFinite(y)) return edge(x, y);
  if (x === 1 || y === 1) return x;
  const [whole, fine] = log2(x),
    high = upper(y),
    low = (y - high) * whole + y * fine,
    main = high * whole,
    both = low + main;
  if (both > 1025) return Number.POSITIVE_INFINITY;
  if (both < -1100) return 0;
  const n = Math.floor(both + 0.5),
    left = main - n,
    t = upper(low + left),
    u = t * 0.6931471824645996,
    v = (low - (t - left)) * Math.LN2 + t * -1.904654299957768e-9,
    z = u + v,
    w = v - (z - u),
    q = z * z,
    c =
      z - q * (0.16666666666666602 + q * (-0.0027777777777015593 + q * (0.00006613756321437934 + q * (-0.0000016533902205465252 + q * 4.1381367970572385e-8))));
  return scaled(1 - ((z * c) / (c - 2) - (w + z * w) - z), n);
}

function edge(x: number, y: number): number {
  if (!(x >= 0) || Number.isNaN(y) || x === 1) return Number.NaN;
  return x > 1 === y > 0 ? Number.POSITIVE_INFINITY : 0;
}

/** log2 of x > 0 as the sum of two numbers, the first with half a fraction. */
function log2(x: number): readonly [number, number] {
  const tiny = x < 2.2250738585072014e-308,
    given = tiny ? x * 9007199254740992 : x,
    word = highWord(given),
    fraction = word & 0xfffff,
    // Which of 1 and 3/2 lies nearer; over sqrt 3, 1 of the next power of two.
    middle = fraction > 0x3988e && fraction < 0xbb67a,
    up = fraction >= 0xbb67a,
    n = (word >> 20) - 1023 + (up ? 1 : 0) - (tiny ? 53 : 0),
    top = (fraction | 0x3ff00000) - (up ? 0x100000 : 0),
    a = fromWords(top, lowWord(given)),
    base = middle ? 1.5 : 1,
    u = a - base,
    v = 1 / (a + base),
    s = u * v,
    sHigh = upper(s),
    sumHigh = fromWords(((top >> 1) | 0x20000000) + 0x80000 + (middle ? 0x40000 : 0), 0),
    sLow = v * (u - sHigh * sumHigh - sHigh * (a - (sumHigh - base))),
    z = s * s,
    r =
      z *
        z *
        (0.5999999999999946 +
          z * (0.4285714285785502 + z * (0.33333332981837743 + z * (0.272728123808534 + z * (0.23066074577556175 + z * 0.20697501780033842))))) +
      sLow * (sHigh + s),
    z2 = sHigh * sHigh,
    tHigh = upper(3 + z2 + r),
    p = sHigh * tHigh,
    q = sLow * tHigh + (r - (tHigh - 3 - z2)) * s,
    pHigh = upper(p + q),
    zHigh = 0.9617967009544373 * pHigh,
    zLow = -7.028461650952758e-9 * pHigh + (q - (pHigh - p)) * 0.9617966939259756 + (middle ? 1.350039202129749e-8 : 0),
    step = middle ? 0.5849624872207642 : 0,
    whole = upper(zHigh + zLow + step + n);
  return [whole, zLow - (whole - n - step - zHigh)];
}
