import { libm } from '../../numerics/index.ts';

/** Points of a handle's arch, ends included. */
const ARCH = 25;

/**
 * A handle that stands over the mouth for a picture, 3 per point, m: half an ellipse from one end to the other, as long as the strap; a strap no longer than
 * the way between its ends is that straight line. Where it would really fall is not worked out. ends: 3 numbers each, m; length: m.
 */
export function standingHandle(from: ArrayLike<number>, to: ArrayLike<number>, length: number): Float64Array {
  const line = (rise: number): Float64Array => {
    const out = new Float64Array(3 * ARCH);
    for (let i = 0; i < ARCH; i++) {
      const a = (Math.PI * i) / (ARCH - 1);
      const t = (1 - libm.cos(a)) / 2;
      for (let k = 0; k < 3; k++) out[3 * i + k] = from[k] + t * (to[k] - from[k]) + (k === 2 ? rise * libm.sin(a) : 0);
    }
    return out;
  };
  let [low, high] = [0, length];
  for (let i = 0; i < 30; i++) {
    const rise = (low + high) / 2;
    if (lengthOf(line(rise)) < length) low = rise;
    else high = rise;
  }
  return line(low);
}

function lengthOf(x: Float64Array): number {
  let sum = 0;
  for (let i = 3; i < x.length; i += 3) sum += libm.hypot(x[i] - x[i - 3], x[i + 1] - x[i - 2], x[i + 2] - x[i - 1]);
  return sum;
}
