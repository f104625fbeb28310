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
  const start = new Int32Array(size[0] * size[1] * size[2] + 1);
  const each = (i: number, f: (c: number) => void) => forCells(low, cell, size, boxes, i, f);
  for (let i = 0; i < count; i++) each(i, (c) => void start[c + 1]!++);
  for (let c = 0; c < start.length - 1; c++) start[c + 1]! += start[c]!;
  const items = new Int32Array(start[start.length - 1]!),
    at = start.slice();
  for (let i = 0; i < count; i++) each(i, (c) => void (items[at[c]!++] = i));
  return { low: low as unknown as [number, number, number], cell, size, start, items };
}

function forCells(low: readonly number[], cell: number, size: readonly number[], boxes: Float64Array, i: number, f: (c: number) => void): void {
  const q = 6 * i,
    clamp = (v: number, k: number) => Math.min(size[k]! - 1, Math.max(0, Math.floor((v - low[k]!) / cell)));
  const x0 = clamp(boxes[q]!, 0),
    x1 = clamp(boxes[q + 3]!, 0),
    y0 = clamp(boxes[q + 1]!, 1),
    y1 = clamp(boxes[q + 4]!, 1),
    z0 = clamp(boxes[q + 2]!, 2),
    z1 = clamp(boxes[q + 5]!, 2);
  for (let z = z0; z <= z1; z++) for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) f((z * size[1]! + y) * size[0]! + x);
}

/** Calls f(item) once for every stored box that overlaps box i of `query`; `seen` (one stamp per item) keeps it to once. */
export function overlaps(grid: Grid, boxes: Float64Array, query: Float64Array, i: number, seen: Int32Array, stamp: number, f: (item: number) => void): void {
  const q = 6 * i,
    a0 = query[q]!,
    a1 = query[q + 1]!,
    a2 = query[q + 2]!,
    b0 = query[q + 3]!,
    b1 = query[q + 4]!,
    b2 = query[q + 5]!;
  forCells(grid.low, grid.cell, grid.size, query, i, (c) => {
    for (let p = grid.start[c]!; p < grid.start[c + 1]!; p++) {
      const item = grid.items[p]!;
      if (seen[item] === stamp) continue;
      seen[item] = stamp;
      const r = 6 * item;
      if (boxes[r]! > b0 || boxes[r + 3]! < a0 || boxes[r + 1]! > b1 || boxes[r + 4]! < a1 || boxes[r + 2]! > b2 || boxes[r + 5]! < a2) continue;
      f(item);
    }
  });
}
