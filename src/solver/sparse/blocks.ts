import type { BlockPattern } from './types.ts';

/** Number of the block of a row and a column <= the row, -1 where the pattern has none. */
export function blockAt({ rowPtr, colIdx }: BlockPattern, row: number, column: number): number {
  let low = rowPtr[row]!,
    high = rowPtr[row + 1]! - 1;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (colIdx[mid]! < column) low = mid + 1;
    else high = mid;
  }
  return colIdx[low] === column ? low : -1;
}

/** 3x3 blocks of one pattern laid into a wider one: block p to place[p], zeros elsewhere, over `blocks` of them. Mutates `into`. */
export function widen(values: Float64Array, place: Int32Array, into: Float64Array, blocks: number): void {
  into.fill(0, 0, 9 * blocks);
  for (let p = 0; p < place.length; p++) {
    const to = 9 * place[p]!,
      from = 9 * p;
    for (let k = 0; k < 9; k++) into[to + k] = values[from + k]!;
  }
}
