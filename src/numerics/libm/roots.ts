import { fromWords, highWord, lowWord } from './words.ts';

/** Cube root, to 1 unit in the last place: a first guess from the exponent, a polynomial to 23 bits, one step of Newton's (fdlibm, s_cbrt, as FreeBSD has it). */
export function cbrt(x: number): number {
  if (x === 0 || !Number.isFinite(x)) return x;
  const size = Math.abs(x),
    tiny = size < 2.2250738585072014e-308;
  let t = fromWords(Math.trunc(highWord(tiny ? size * 18014398509481984 : size) / 3) + (tiny ? 696219795 : 715094163), 0);
  const q = t * t * (t / size);
  t *= 1.87595182427177 + q * (-1.8849797954337717 + q * 1.6214297201053545) + q * q * q * (-0.758397934778766 + q * 0.14599619288661245);
  // Rounded up to 23 bits, so that its square is exact.
  const low = lowWord(t);
  t = fromWords(highWord(t) + (low >= 0x80000000 ? 1 : 0), (low + 0x80000000) & 0xc0000000);
  const r = size / (t * t);
  t += t * ((r - t) / (t + t + r));
  return x < 0 ? -t : t;
}

/** Under this a sum of squares has lost bits; over the largest number it has lost everything. */
const LEAST = 1e-280;

/** Length of (x, y, z): the plain root of the sum of squares, to 1.5 units in the last place; scaled first only where the squares would leave the range of numbers. */
export function hypot(x: number, y: number, z = 0): number {
  const sum = x * x + y * y + z * z;
  return sum > LEAST && sum < Number.POSITIVE_INFINITY ? Math.sqrt(sum) : extreme([x, y, z]);
}

/** Length of a list of numbers: as `hypot`, half a unit more for every further entry. */
export function norm(v: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i]! * v[i]!;
  return sum > LEAST && sum < Number.POSITIVE_INFINITY ? Math.sqrt(sum) : extreme(v);
}

function extreme(v: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < v.length; i++) most = Math.max(most, Math.abs(v[i]!));
  if (most === 0 || !Number.isFinite(most)) return most;
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += (v[i]! / most) * (v[i]! / most);
  return most * Math.sqrt(sum);
}
