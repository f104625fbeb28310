/** Shapes as cells of a square grid: every cell that a shape touches, row by row. */
import type { Point2 } from '../../bag/types.ts';

/** [from, to) cells of each row, sorted and apart. */
type Spans = readonly (readonly (readonly [number, number])[])[];

/** A shape on the grid, its box's lower left corner at cell 0, 0. */
export interface CellShape {
  readonly spans: Spans;
  readonly width: number;
  readonly height: number;
  /** The place of the shape's own frame that lies at the corner of cell 0, 0, m. */ readonly origin: Point2;
}

/** Touching at less than this part of a cell is rounding. */
const EPSILON = 1e-6;

/**
 * All cells whose inside a closed shape touches (outer loops and holes by the even-odd rule). Shapes whose cells are apart cannot overlap.
 * Parameters: loops, m; side of a cell, m.
 */
export function cellsOf(loops: readonly (readonly Point2[])[], cell: number): CellShape {
  const all = loops.flat();
  const x0 = Math.min(...all.map((p) => p[0]));
  const y0 = Math.min(...all.map((p) => p[1]));
  const scaled = loops.map((loop) => loop.map(([x, y]): Point2 => [(x - x0) / cell, (y - y0) / cell]));
  const tall = Math.max(1, Math.ceil(Math.max(...scaled.flat().map((p) => p[1])) - EPSILON));
  const rows: [number, number][][] = Array.from({ length: tall }, () => []);
  const middles: number[][] = Array.from({ length: tall }, () => []);
  for (const loop of scaled)
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]!;
      touched(a, b, tall, (row, from, to) => {
        // An edge along the border of two cells touches neither: what lies beside it is found by the middle line.
        const [first, end] = [Math.floor(from + EPSILON), Math.ceil(to - EPSILON)];
        if (end > first) rows[row]!.push([first, end]);
      });
      const [low, high] = a[1] < b[1] ? [a, b] : [b, a];
      for (let row = Math.max(0, Math.ceil(low[1] - 0.5)); row < tall && row + 0.5 < high[1]; row++)
        if (row + 0.5 >= low[1]) middles[row]!.push(low[0] + ((high[0] - low[0]) * (row + 0.5 - low[1])) / (high[1] - low[1]));
    });
  // Between its edges a row is inside where its middle line is.
  middles.forEach((xs, row) => {
    xs.sort((a, b) => a - b);
    for (let k = 0; k + 1 < xs.length; k += 2) rows[row]!.push([Math.floor(xs[k]! + EPSILON), Math.ceil(xs[k + 1]! - EPSILON)]);
  });
  const spans = rows.map(merged);
  return { spans, width: Math.max(...spans.flatMap((r) => r.map((s) => s[1]))), height: tall, origin: [x0, y0] };
}

/** Tells the rows that a segment passes through and from where to where, in cells. */
function touched(a: Point2, b: Point2, tall: number, tell: (row: number, from: number, to: number) => void): void {
  const [low, high] = a[1] < b[1] ? [a, b] : [b, a];
  const first = Math.min(tall - 1, Math.max(0, Math.floor(low[1] + EPSILON)));
  const last = Math.min(tall - 1, Math.max(first, Math.ceil(high[1] - EPSILON) - 1));
  const rise = high[1] - low[1];
  if (rise < EPSILON && Math.abs(low[1] - Math.round(low[1])) < EPSILON) return;
  for (let row = first; row <= last; row++) {
    const at = (y: number): number => (rise < 1e-12 ? high[0] : low[0] + ((high[0] - low[0]) * (Math.min(high[1], Math.max(low[1], y)) - low[1])) / rise);
    const [p, q] = rise < 1e-12 ? [low[0], high[0]] : [at(row), at(row + 1)];
    tell(row, Math.min(p, q), Math.max(p, q));
  }
}

function merged(spans: readonly [number, number][]): [number, number][] {
  const out: [number, number][] = [];
  for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
    const last = out[out.length - 1];
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else out.push([Math.max(0, from), to]);
  }
  return out;
}

/** What of a roll is taken: rows of cells along its length, each with its taken runs. */
export class Roll {
  private readonly rows: [number, number][][] = [];

  /** width: cells across the roll; sheet: cells from one sheet's end to the next, which no shape crosses (Infinity: a roll). */
  constructor(
    readonly width: number,
    readonly sheet = Number.POSITIVE_INFINITY,
  ) {}

  /**
   * The lowest place along the roll, and there the one furthest to the left, where a shape lies on free cells; null where it is wider than the roll.
   * below: gives up where the shape would end beyond this row.
   */
  place(shape: CellShape, below: number): { x: number; y: number } | null {
    if (shape.width > this.width) return null;
    for (let y = 0; y + shape.height <= below; y++) {
      const over = (y % this.sheet) + shape.height - this.sheet;
      if (over > 0) {
        y += this.sheet - (y % this.sheet) - 1;
        continue;
      }
      const x = this.fit(shape, y);
      if (x !== null) return { x, y };
    }
    return null;
  }

  /** Leftmost column at which the shape is free with its first row at y. */
  private fit({ spans, width }: CellShape, y: number): number | null {
    let x = 0;
    const most = this.width - width;
    // The row that stood in the way last stands there most often again.
    let from = 0;
    let clear = 0;
    while (clear < spans.length) {
      const taken = this.rows[y + from];
      const moved = taken === undefined ? x : pastTaken(taken, spans[from]!, x);
      if (moved > most) return null;
      if (moved === x) clear++;
      else {
        x = moved;
        clear = 1;
      }
      from = (from + 1) % spans.length;
    }
    return x;
  }

  take({ spans }: CellShape, x: number, y: number): void {
    spans.forEach((row, k) => {
      while (this.rows.length <= y + k) this.rows.push([]);
      this.rows[y + k] = merged([...this.rows[y + k]!, ...row.map(([a, b]): [number, number] => [a + x, b + x])]);
    });
  }
}

/** Smallest column from x on at which the spans of one row are clear of its taken runs. */
function pastTaken(taken: readonly (readonly [number, number])[], spans: readonly (readonly [number, number])[], start: number): number {
  let x = start;
  for (let again = true; again; ) {
    again = false;
    for (const [a, b] of spans)
      for (const [from, to] of taken) {
        if (from >= b + x) break;
        if (to > a + x) {
          x = to - a;
          again = true;
        }
      }
  }
  return x;
}
