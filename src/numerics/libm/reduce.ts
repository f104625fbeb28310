/** x - n pi/2 as the sum of two numbers, left here by `quarters`: the first at most a hair over pi/4 in size, the second its tail. */
export const rest = new Float64Array(2);

// pi/2 in pieces of 33 bits, each with what is left after it: a multiple of up to 20 bits of a piece is exact (fdlibm, e_rem_pio2).
const TWO_OVER_PI = 0.6366197723675814;
const FIRST = 1.5707963267341256;
const AFTER_FIRST = 6.077100506506192e-11;
const SECOND = 6.077100506303966e-11;
const AFTER_SECOND = 2.0222662487959506e-21;
const THIRD = 2.0222662487111665e-21;
const AFTER_THIRD = 8.4784276603689e-32;
/** Added and taken away again it rounds to a whole number. */
const ROUNDER = 6755399441055744;
/** 2^20 pi/2: up to here n has 20 bits. */
const FAR = 1647099.3291652855;

/**
 * The whole number n of quarter turns nearest to x, mod 4, with the rest in `rest`. Three rounds of the published reduction give 151 bits, enough for the
 * number that lies nearest to a multiple of pi/2; beyond 1.6 million the same is done in whole numbers of 1200 bits. x is finite.
 */
export function quarters(x: number): number {
  const size = Math.abs(x);
  if (size >= FAR) return far(x);
  const n = x * TWO_OVER_PI + ROUNDER - ROUNDER;
  let r = x - n * FIRST,
    w = n * AFTER_FIRST,
    y = r - w;
  // How many leading bits of x cancelled tells which round is good enough.
  if (Math.abs(y) < size * 0.0000152587890625) {
    let t = r;
    w = n * SECOND;
    r = t - w;
    w = n * AFTER_SECOND - (t - r - w);
    y = r - w;
    if (Math.abs(y) < size * 1.7763568394002505e-15) {
      t = r;
      w = n * THIRD;
      r = t - w;
      w = n * AFTER_THIRD - (t - r - w);
      y = r - w;
    }
  }
  rest[0] = y;
  rest[1] = r - y - w;
  return n & 3;
}

const BITS = 1200n;
let halfPi = 0n;

/** arctan(1/k) 2^bits, by its series. */
function arctanOf(k: bigint, bits: bigint): bigint {
  let power = (1n << bits) / k,
    sum = power;
  for (let odd = 3n; power !== 0n; odd += 2n) {
    power = -power / (k * k);
    sum += power / odd;
  }
  return sum;
}

/** pi/2 2^1200, by Machin's formula of 1706: pi/4 = 4 arctan(1/5) - arctan(1/239). */
function halfPiOf(): bigint {
  const spare = BITS + 32n;
  return (8n * arctanOf(5n, spare) - 2n * arctanOf(239n, spare)) >> 32n;
}

/** `quarters` for what is too large for the pieces: x is a whole number over 2^33 at most. */
function far(x: number): number {
  if (halfPi === 0n) halfPi = halfPiOf();
  const whole = BigInt(x * (Math.abs(x) < 9007199254740992 ? 4294967296 : 1)) << (Math.abs(x) < 9007199254740992 ? BITS - 32n : BITS);
  let n = whole / halfPi,
    left = whole - n * halfPi;
  if (2n * (left < 0n ? -left : left) > halfPi) {
    const up = left < 0n ? -1n : 1n;
    n += up;
    left -= up * halfPi;
  }
  // 250 bits behind the point are left: the rest is over 2^-62 for every x, and 106 bits of it are wanted.
  const short = left >> (BITS - 250n);
  const y = Number(short);
  rest[0] = y * 5.527147875260445e-76;
  rest[1] = Number(short - BigInt(y)) * 5.527147875260445e-76;
  return Number(BigInt.asUintN(2, n));
}
