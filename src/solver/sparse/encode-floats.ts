import { type Code, unsigned } from './encode-integers.ts';

// Numbers of the bag: 64-bit floating point, one or two at a time.

export const load = (at: Code, offset = 0): Code => [at, 0x2b, 3, unsigned(offset)];
export const store = (at: Code, value: Code, offset = 0): Code => [at, value, 0x39, 3, unsigned(offset)];
export const fadd = (a: Code, b: Code): Code => [a, b, 0xa0];
export const fsub = (a: Code, b: Code): Code => [a, b, 0xa1];
export const fmul = (a: Code, b: Code): Code => [a, b, 0xa2];
export const fdiv = (a: Code, b: Code): Code => [a, b, 0xa3];
export const fsqrt = (a: Code): Code => [a, 0x9f];
export const positive = (a: Code): Code => [a, f64(0), 0x64];
export const one: Code = f64(1);
export const fzero: Code = f64(0);

function f64(value: number): Code {
  return [0x44, Array.from(new Uint8Array(new Float64Array([value]).buffer))];
}

// Two numbers at a time. Alignment hint 3: panels are aligned to 8 bytes, tiles in fronts no better.
const simd = (op: number): Code => [0xfd, unsigned(op)];
export const load2 = (at: Code, offset = 0): Code => [at, simd(0x00), 3, unsigned(offset)];
export const store2 = (at: Code, value: Code, offset = 0): Code => [at, value, simd(0x0b), 3, unsigned(offset)];
export const loadBoth = (at: Code, offset = 0): Code => [at, simd(0x0a), 3, unsigned(offset)];
export const add2 = (a: Code, b: Code): Code => [a, b, simd(0xf0)];
export const sub2 = (a: Code, b: Code): Code => [a, b, simd(0xf1)];
export const mul2 = (a: Code, b: Code): Code => [a, b, simd(0xf2)];

/** One of the two numbers. */
export const lane = (a: Code, which: number): Code => [a, simd(0x21), which];
export const pair = (low: Code, high: Code): Code => [low, simd(0x14), high, simd(0x22), 1];
/** Low numbers of both, high numbers of both. */
export const unpackLow = (a: Code, b: Code): Code => [a, b, simd(0x0d), 0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23];
export const unpackHigh = (a: Code, b: Code): Code => [a, b, simd(0x0d), 8, 9, 10, 11, 12, 13, 14, 15, 24, 25, 26, 27, 28, 29, 30, 31];
export const zero2: Code = [simd(0x0c), new Array<number>(16).fill(0)];
