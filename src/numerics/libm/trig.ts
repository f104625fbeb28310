import { quarters, rest } from './reduce.ts';

const QUARTER_PI = 0.7853981633974483;

/** sin(x + y) for |x| up to pi/4, y the tail of x: a polynomial of degree 13 (fdlibm, k_sin). */
function sinNear(x: number, y: number): number {
  const z = x * x,
    v = z * x,
    r = 0.00833333333332249 + z * (-0.0001984126982985795 + z * (0.0000027557313707070068 + z * (-2.5050760253406863e-8 + z * 1.58969099521155e-10)));
  return x - (z * (0.5 * y - v * r) - y - v * -0.16666666666666632);
}

/** cos(x + y) likewise, of degree 14: 1 - x^2/2 is rounded once, and what that loses is put back (fdlibm, k_cos). */
function cosNear(x: number, y: number): number {
  const z = x * x,
    w = z * z,
    r =
      z * (0.0416666666666666 + z * (-0.001388888888887411 + z * 0.00002480158728947673)) +
      w * w * (-2.7557314351390663e-7 + z * (2.087572321298175e-9 + z * -1.1359647557788195e-11)),
    half = 0.5 * z,
    main = 1 - half;
  return main + (1 - main - half + (z * r - x * y));
}

/** Sine of x rad, to 1 unit in the last place. */
export function sin(x: number): number {
  if (Math.abs(x) <= QUARTER_PI) return Math.abs(x) < 7.450580596923828e-9 ? x : sinNear(x, 0);
  if (!Number.isFinite(x)) return Number.NaN;
  const n = quarters(x),
    y = (n & 1) === 0 ? sinNear(rest[0]!, rest[1]!) : cosNear(rest[0]!, rest[1]!);
  return n < 2 ? y : -y;
}

/** Cosine of x rad, to 1 unit in the last place. */
export function cos(x: number): number {
  if (Math.abs(x) <= QUARTER_PI) return cosNear(x, 0);
  if (!Number.isFinite(x)) return Number.NaN;
  const n = quarters(x),
    y = (n & 1) === 0 ? cosNear(rest[0]!, rest[1]!) : sinNear(rest[0]!, rest[1]!);
  return n === 0 || n === 3 ? y : -y;
}

/** Tangent of x rad, to 2 units in the last place: the quotient of the two above, which are good to under 0.8 each. */
export const tan = (x: number): number => sin(x) / cos(x);
