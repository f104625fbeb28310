/**
 * The few bytes of WebAssembly that the kernels need (WebAssembly core specification 2.0, chapter 5). Code is a list
 * of bytes and of further such lists; blocks and loops nest as function calls, so a kernel reads as the loop it is. The lists are written out only once, by
 * encodeModule: copied into one another at every level, 15 kB of code took 45 ms of a cold start. Here: integers and locals.
 */
export type Code = readonly (number | Code)[];

export function unsigned(value: number): number[] {
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

export const i32 = (value: number): Code => [0x41, signed(value)];
export const get = (local: number): Code => [0x20, unsigned(local)];
export const set = (local: number, value: Code): Code => [value, 0x21, unsigned(local)];
export const add = (a: Code, b: Code): Code => [a, b, 0x6a];
export const sub = (a: Code, b: Code): Code => [a, b, 0x6b];
export const mul = (a: Code, b: Code): Code => [a, b, 0x6c];
export const shl = (a: Code, bits: number): Code => [a, i32(bits), 0x74];
export const shr = (a: Code, bits: number): Code => [a, i32(bits), 0x76];
export const and = (a: Code, mask: number): Code => [a, i32(mask), 0x71];
export const less = (a: Code, b: Code): Code => [a, b, 0x49];
export const equal = (a: Code, b: Code): Code => [a, b, 0x46];
export const not = (a: Code): Code => [a, 0x45];
export const step = (local: number, by: Code): Code => set(local, add(get(local), by));

export const loadI32 = (at: Code, offset = 0): Code => [at, 0x28, 2, unsigned(offset)];
export const storeI32 = (at: Code, value: Code, offset = 0): Code => [at, value, 0x36, 2, unsigned(offset)];
