import { quarters, rest } from './reduce.ts';
import { upper } from './words.ts';

const QUARTER_PI = 0.7853981633974483;
const QUARTER_PI_TAIL = 3.061616997868383e-17;

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

/** tan(x + y) likewise, or -1 / tan(x + y): a polynomial of degree 27, near pi/4 of what is missing to it (fdlibm, k_tan). */
function tanNear(at: number, tail: number, turned: boolean): number {
  const large = Math.abs(at) >= 0.67434,
    sign = at < 0 ? -1 : 1;
  let x = at,
    y = tail;
  if (large) {
    x = QUARTER_PI - sign * at + (QUARTER_PI_TAIL - sign * tail);
    y = 0;
  }
  const z = x * x,
    w = z * z,
    odd =
      0.13333333333320124 +
      w * (0.021869488294859542 + w * (0.0035920791075913124 + w * (0.0005880412408202641 + w * (0.00007817944429395571 + w * -0.000018558637485527546)))),
    even =
      z *
      (0.05396825397622605 +
        w * (0.0088632398235993 + w * (0.0014562094543252903 + w * (0.0002464631348184699 + w * (0.00007140724913826082 + w * 0.00002590730518636337))))),
    s = z * x,
    r = y + z * (s * (odd + even) + y) + 0.3333333333333341 * s,
    sum = x + r;
  if (large) {
    const v = turned ? -1 : 1;
    return sign * (v - 2 * (x - ((sum * sum) / (sum + v) - r)));
  }
  if (!turned) return sum;
  // -1 / (x + r) to the last bit but one: the quotient of the upper halves, put right by what they leave.
  const high = upper(sum),
    low = r - (high - x),
    whole = -1 / sum,
    t = upper(whole);
  return t + whole * (1 + t * high + t * low);
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

/** Tangent of x rad, to 1 unit in the last place. */
export function tan(x: number): number {
  if (Math.abs(x) <= QUARTER_PI) return Math.abs(x) < 7.450580596923828e-9 ? x : tanNear(x, 0, false);
  if (!Number.isFinite(x)) return Number.NaN;
  const n = quarters(x);
  return tanNear(rest[0]!, rest[1]!, (n & 1) === 1);
}
