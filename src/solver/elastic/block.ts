/**
 * values[block] += the 3x3 (row a, column b), transposed where the block is stored the other way round. Call it from one place of a small function alone: inlined it
 * takes 13 ns; called, each of its numbers goes by the heap (three times as long).
 */
export function put(v: Float64Array, block: number, a: number, b: number, c: number, d: number, e: number, f: number, g: number, h: number, i: number): void {
  if (block >= 0) {
    const p = 9 * block;
    v[p] = v[p]! + a;
    v[p + 1] = v[p + 1]! + b;
    v[p + 2] = v[p + 2]! + c;
    v[p + 3] = v[p + 3]! + d;
    v[p + 4] = v[p + 4]! + e;
    v[p + 5] = v[p + 5]! + f;
    v[p + 6] = v[p + 6]! + g;
    v[p + 7] = v[p + 7]! + h;
    v[p + 8] = v[p + 8]! + i;
  } else {
    const p = 9 * ~block;
    v[p] = v[p]! + a;
    v[p + 1] = v[p + 1]! + d;
    v[p + 2] = v[p + 2]! + g;
    v[p + 3] = v[p + 3]! + b;
    v[p + 4] = v[p + 4]! + e;
    v[p + 5] = v[p + 5]! + h;
    v[p + 6] = v[p + 6]! + c;
    v[p + 7] = v[p + 7]! + f;
    v[p + 8] = v[p + 8]! + i;
  }
}
