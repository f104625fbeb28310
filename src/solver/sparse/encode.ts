/**
 * The few bytes of WebAssembly that the kernels need (WebAssembly core specification 2.0, chapter 5). Code is a plain list
 * of bytes; blocks and loops nest as function calls, so a kernel reads as the loop it is.
 */
export type Code = readonly number[];

const I32 = 0x7f;
const V128 = 0x7b;
const F64 = 0x7c;
const VOID = 0x40;

function unsigned(value: number): number[] {
  const out: number[] = [];
  let v = value;
  do {
    const low = v % 128;
    v = Math.floor(v / 128);
    out.push(v > 0 ? low | 0x80 : low);
  } while (v > 0);
  return out;
}

function signed(value: number): number[] {
  const out: number[] = [];
  let v = value;
  for (;;) {
    const low = v & 0x7f;
    v >>= 7;
    const done = (v === 0 && (low & 0x40) === 0) || (v === -1 && (low & 0x40) !== 0);
    out.push(done ? low : low | 0x80);
    if (done) return out;
  }
}

export const i32 = (value: number): Code => [0x41, ...signed(value)];
export const get = (local: number): Code => [0x20, ...unsigned(local)];
export const set = (local: number, value: Code): Code => [...value, 0x21, ...unsigned(local)];
export const add = (a: Code, b: Code): Code => [...a, ...b, 0x6a];
export const sub = (a: Code, b: Code): Code => [...a, ...b, 0x6b];
export const mul = (a: Code, b: Code): Code => [...a, ...b, 0x6c];
export const shl = (a: Code, bits: number): Code => [...a, ...i32(bits), 0x74];
export const shr = (a: Code, bits: number): Code => [...a, ...i32(bits), 0x76];
export const and = (a: Code, mask: number): Code => [...a, ...i32(mask), 0x71];
export const less = (a: Code, b: Code): Code => [...a, ...b, 0x49];
export const equal = (a: Code, b: Code): Code => [...a, ...b, 0x46];
export const not = (a: Code): Code => [...a, 0x45];
export const times = (count: number, code: (i: number) => Code): Code => Array.from({ length: count }, (_, i) => code(i)).flat();
export const step = (local: number, by: Code): Code => set(local, add(get(local), by));

export const loadI32 = (at: Code, offset = 0): Code => [...at, 0x28, 2, ...unsigned(offset)];
export const storeI32 = (at: Code, value: Code, offset = 0): Code => [...at, ...value, 0x36, 2, ...unsigned(offset)];
export const load = (at: Code, offset = 0): Code => [...at, 0x2b, 3, ...unsigned(offset)];
export const store = (at: Code, value: Code, offset = 0): Code => [...at, ...value, 0x39, 3, ...unsigned(offset)];
export const fadd = (a: Code, b: Code): Code => [...a, ...b, 0xa0];
export const fsub = (a: Code, b: Code): Code => [...a, ...b, 0xa1];
export const fmul = (a: Code, b: Code): Code => [...a, ...b, 0xa2];
export const fdiv = (a: Code, b: Code): Code => [...a, ...b, 0xa3];
export const fsqrt = (a: Code): Code => [...a, 0x9f];
export const positive = (a: Code): Code => [...a, ...f64(0), 0x64];
export const one: Code = f64(1);
export const fzero: Code = f64(0);

function f64(value: number): number[] {
  return [0x44, ...new Uint8Array(new Float64Array([value]).buffer)];
}

// Two numbers at a time. Alignment hint 3: panels are aligned to 8 bytes, tiles in fronts no better.
const simd = (op: number): number[] => [0xfd, ...unsigned(op)];
export const load2 = (at: Code, offset = 0): Code => [...at, ...simd(0x00), 3, ...unsigned(offset)];
export const store2 = (at: Code, value: Code, offset = 0): Code => [...at, ...value, ...simd(0x0b), 3, ...unsigned(offset)];
export const loadBoth = (at: Code, offset = 0): Code => [...at, ...simd(0x0a), 3, ...unsigned(offset)];
export const add2 = (a: Code, b: Code): Code => [...a, ...b, ...simd(0xf0)];
export const sub2 = (a: Code, b: Code): Code => [...a, ...b, ...simd(0xf1)];
export const mul2 = (a: Code, b: Code): Code => [...a, ...b, ...simd(0xf2)];

/** One of the two numbers. */
export const lane = (a: Code, which: number): Code => [...a, ...simd(0x21), which];
export const pair = (low: Code, high: Code): Code => [...low, ...simd(0x14), ...high, ...simd(0x22), 1];
/** Low numbers of both, high numbers of both. */
export const unpackLow = (a: Code, b: Code): Code => [...a, ...b, ...simd(0x0d), 0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23];
export const unpackHigh = (a: Code, b: Code): Code => [...a, ...b, ...simd(0x0d), 8, 9, 10, 11, 12, 13, 14, 15, 24, 25, 26, 27, 28, 29, 30, 31];
export const zero2: Code = [...simd(0x0c), ...new Array<number>(16).fill(0)];

export const when = (condition: Code, body: Code): Code => [...condition, 0x04, VOID, ...body, 0x0b];
export const result = (value: Code): Code => [...value, 0x0f];

/** body while local < end (unsigned, so a count below zero ends it too), tested before each turn; `next` moves the local on. */
export const whileLess = (local: number, end: Code, body: Code, next: Code): Code => [
  ...[0x02, VOID, ...get(local), ...end, 0x4f, 0x0d, 0],
  ...[0x03, VOID, ...body, ...next, ...get(local), ...end, 0x49, 0x0d, 0, 0x0b],
  0x0b,
];

export interface Kernel {
  readonly name: string;
  /** Integer parameters. */ readonly params: number;
  /** Integer locals, numbered after the parameters. */ readonly ints: number;
  readonly floats: number;
  readonly pairs: number;
  /** true when it leaves an integer. */ readonly returns: boolean;
  readonly body: Code;
}

/** A module that imports one memory as m.m and exports the kernels. */
export function encodeModule(kernels: readonly Kernel[]): Uint8Array<ArrayBuffer> {
  const name = (text: string): number[] => [text.length, ...Array.from(text, (c) => c.charCodeAt(0))];
  const list = (items: readonly Code[]): number[] => [...unsigned(items.length), ...items.flat()];
  const section = (id: number, content: Code): number[] => [id, ...unsigned(content.length), ...content];
  const types = kernels.map((k) => [0x60, ...list(Array.from({ length: k.params }, () => [I32])), ...list(k.returns ? [[I32]] : [])]);
  const bodies = kernels.map((k) => {
    const locals = [
      [...unsigned(k.ints), I32],
      [...unsigned(k.floats), F64],
      [...unsigned(k.pairs), V128],
    ];
    const code = [...list(locals), ...k.body, 0x0b];
    return [...unsigned(code.length), ...code];
  });
  return new Uint8Array([
    ...[0, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, list(types)),
    ...section(2, list([[...name('m'), ...name('m'), 2, 0, 0]])),
    ...section(3, list(kernels.map((_, i) => unsigned(i)))),
    ...section(7, list(kernels.map((k, i) => [...name(k.name), 0, ...unsigned(i)]))),
    ...section(10, list(bodies)),
  ]);
}
