// A number and its two halves: every engine in use stores the low half first, and so does WebAssembly's memory.
const number = new Float64Array(1);
const half = new Uint32Array(number.buffer);

/** Sign, exponent and the upper 20 bits of the fraction, as 32 bits with sign. */
export function highWord(x: number): number {
  number[0] = x;
  return half[1]! | 0;
}

/** The lower 32 bits of the fraction, without sign. */
export function lowWord(x: number): number {
  number[0] = x;
  return half[0]!;
}

/** The number of two halves. */
export function fromWords(high: number, low: number): number {
  half[0] = low;
  half[1] = high;
  return number[0]!;
}

/** 2^k for k from -1022 to 1023. */
const twoTo = (k: number): number => fromWords((1023 + k) << 20, 0);

/** x 2^k, rounded once: also where 2^k itself, or the result, is too small for a full fraction. */
export function scaled(x: number, k: number): number {
  if (k > 1023) return x * 2 * twoTo(k - 1);
  return k >= -1022 ? x * twoTo(k) : x * twoTo(Math.max(-1022, k + 1000)) * twoTo(-1000);
}
