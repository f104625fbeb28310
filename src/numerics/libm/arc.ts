const HALF_PI = 1.5707963267948966;
const HALF_PI_TAIL = 6.123233995736766e-17;
const QUARTER_PI = 0.7853981633974483;
const PI_TAIL = 1.2246467991473532e-16;

/** Arc tangent, rad in [-pi/2, pi/2], to 1 unit in the last place: taken to 7/16 and under by the arcs of 1/2, 1, 3/2 and infinity (fdlibm, s_atan). */
export function atan(x: number): number {
  const size = Math.abs(x);
  if (size < 0.4375) return size < 7.450580596923828e-9 ? x : x - x * series(x);
  let high = 0,
    low = 0,
    t = 0;
  if (size < 0.6875) {
    high = 0.4636476090008061;
    low = 2.2698777452961687e-17;
    t = (2 * size - 1) / (2 + size);
  } else if (size < 1.1875) {
    high = QUARTER_PI;
    low = 3.061616997868383e-17;
    t = (size - 1) / (size + 1);
  } else if (size < 2.4375) {
    high = 0.982793723247329;
    low = 1.3903311031230998e-17;
    t = (size - 1.5) / (1 + 1.5 * size);
  } else {
    high = HALF_PI;
    low = HALF_PI_TAIL;
    t = -1 / size;
  }
  const arc = high - (t * series(t) - low - t);
  return x < 0 ? -arc : arc;
}

/** 1 - arctan(t) / t for |t| up to 7/16. */
function series(t: number): number {
  const z = t * t,
    w = z * z;
  return (
    z *
      (0.3333333333333293 +
        w * (0.14285714272503466 + w * (0.09090887133436507 + w * (0.06661073137387531 + w * (0.049768779946159324 + w * 0.016285820115365782))))) +
    w * (-0.19999999999876483 + w * (-0.11111110405462356 + w * (-0.0769187620504483 + w * (-0.058335701337905735 + w * -0.036531572744216916))))
  );
}

/** Is the sign set? Of nought too. */
const negative = (x: number): boolean => x < 0 || (x === 0 && 1 / x < 0);

/** Angle of the point (x, y), rad in [-pi, pi], to 2 units in the last place; signs of nought count as the standard has it (C99, F.10.1.4). */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  let arc = 0;
  if (y !== 0 || x === 0) {
    const bothEndless = Math.abs(x) === Number.POSITIVE_INFINITY && Math.abs(y) === Number.POSITIVE_INFINITY,
      slope = bothEndless ? 1 : y === 0 ? 0 : Math.abs(y / x);
    // Upright to the last bit: x only tells which side, and that does not show.
    if (slope > 1.152921504606847e18) return y < 0 ? -HALF_PI : HALF_PI;
    arc = atan(slope);
  }
  if (negative(x)) arc = Math.PI - (arc - PI_TAIL);
  return negative(y) ? -arc : arc;
}

/** Cosine of the arc whose sine is x, or the other way about: neither factor loses what is next to 1. */
const other = (x: number): number => Math.sqrt((1 - x) * (1 + x));

/** Arc sine, rad in [-pi/2, pi/2], to 2 units in the last place; NaN beyond 1. */
export const asin = (x: number): number => atan2(x, other(x));

/** Arc cosine, rad in [0, pi], to 2 units in the last place; NaN beyond 1. */
export const acos = (x: number): number => atan2(other(x), x);
