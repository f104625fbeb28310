/** A growing list of fixed-width integer records. */
export class Records {
  data: Int32Array;
  count = 0;
  constructor(readonly width: number) {
    this.data = new Int32Array(width * 1024);
  }
  clear(): void {
    this.count = 0;
  }
  push2(a: number, b: number): void {
    if (this.count * this.width + this.width > this.data.length) {
      const next = new Int32Array(2 * this.data.length);
      next.set(this.data);
      this.data = next;
    }
    this.data[this.count * this.width] = a;
    this.data[this.count * this.width + 1] = b;
    this.count++;
  }
}

/** Uniform grid over boxes (6 numbers each: low xyz, high xyz), filled by counting sort: deterministic, no hashing. */
export interface Grid {
  readonly low: readonly [number, number, number];
  readonly cell: number;
  readonly size: readonly [number, number, number];
  readonly start: Int32Array;
  readonly items: Int32Array;
}

/** At most this many cells: a bag that throws one corner far away must not blow the grid up. */
const MOST_CELLS = 200_000;

export function buildGrid(boxes: Float64Array, cellAtLeast: number): Grid {
  const count = boxes.length / 6,
    low = [1e9, 1e9, 1e9],
    high = [-1e9, -1e9, -1e9];
  let mean = 0;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) {
      const a = boxes[6 * i + k]!,
        b = boxes[6 * i + 3 + k]!;
      if (a < low[k]!) low[k] = a;
      if (b > high[k]!) high[k] = b;
      mean += (b - a) / 3;
    }
  }
  let cell = Math.max(cellAtLeast, mean / Math.max(1, count));
  const cells = () => low.map((l, k) => Math.max(1, Math.ceil((high[k]! - l) / cell)));
  while (cells().reduce((p, c) => p * c, 1) > MOST_CELLS) cell *= 1.3;
  const size = cells() as unknown as [number, number, number];
  const grid = {
    low: low as unknown as [number, number, number],
    cell,
    size,
    start: new Int32Array(size[0] * size[1] * size[2] + 1),
    items: new Int32Array(0),
  };
  const { start } = grid;
  const [nx, nxy] = [size[0], size[0] * size[1]];
  const at = new Int32Array(6 * count);
  for (let i = 0; i < count; i++) {
    cellsOf(grid, boxes, 6 * i, at, 6 * i);
    for (let z = at[6 * i + 2]!; z <= at[6 * i + 5]!; z++)
      for (let y = at[6 * i + 1]!; y <= at[6 * i + 4]!; y++)
        for (let c = z * nxy + y * nx + at[6 * i]!, end = c + at[6 * i + 3]! - at[6 * i]!; c <= end; c++) start[c + 1] = start[c + 1]! + 1;
  }
  for (let c = 0; c < start.length - 1; c++) start[c + 1] = start[c + 1]! + start[c]!;
  const items = new Int32Array(start[start.length - 1]!),
    next = start.slice();
  for (let i = 0; i < count; i++)
    for (let z = at[6 * i + 2]!; z <= at[6 * i + 5]!; z++)
      for (let y = at[6 * i + 1]!; y <= at[6 * i + 4]!; y++)
        for (let c = z * nxy + y * nx + at[6 * i]!, end = c + at[6 * i + 3]! - at[6 * i]!; c <= end; c++) {
          items[next[c]!] = i;
          next[c] = next[c]! + 1;
        }
  return { ...grid, items };
}

/** First and last cell of a box (6 numbers at q) along each axis, written to out at o: x0 y0 z0 x1 y1 z1. */
function cellsOf(grid: Pick<Grid, 'low' | 'cell' | 'size'>, boxes: Float64Array, q: number, out: Int32Array, o: number): void {
  for (let k = 0; k < 6; k++) {
    const axis = k % 3,
      c = Math.floor((boxes[q + k]! - grid.low[axis]!) / grid.cell);
    out[o + k] = c < 0 ? 0 : c >= grid.size[axis]! ? grid.size[axis]! - 1 : c;
  }
}

const RANGE = new Int32Array(6);

/** Writes every stored box that overlaps box i of `query` to `found`, each once; returns how many. `seen` (one stamp per item) keeps it to once. */
export function overlaps(grid: Grid, boxes: Float64Array, query: Float64Array, i: number, seen: Int32Array, stamp: number, found: Int32Array): number {
  const q = 6 * i,
    a0 = query[q]!,
    a1 = query[q + 1]!,
    a2 = query[q + 2]!,
    b0 = query[q + 3]!,
    b1 = query[q + 4]!,
    b2 = query[q + 5]!,
    { start, items } = grid,
    nx = grid.size[0],
    nxy = nx * grid.size[1];
  cellsOf(grid, query, q, RANGE, 0);
  const x0 = RANGE[0]!,
    y0 = RANGE[1]!,
    x1 = RANGE[3]!,
    y1 = RANGE[4]!,
    z1 = RANGE[5]!;
  let count = 0;
  for (let z = RANGE[2]!; z <= z1; z++) {
    for (let y = y0; y <= y1; y++) {
      const row = z * nxy + y * nx;
      // The cells of a row lie one after another, so their items do too.
      for (let p = start[row + x0]!, end = start[row + x1 + 1]!; p < end; p++) {
        const item = items[p]!;
        if (seen[item] === stamp) continue;
        seen[item] = stamp;
        const r = 6 * item;
        if (boxes[r]! > b0 || boxes[r + 3]! < a0 || boxes[r + 1]! > b1 || boxes[r + 4]! < a1 || boxes[r + 2]! > b2 || boxes[r + 5]! < a2) continue;
        found[count++] = item;
      }
    }
  }
  return count;
}
