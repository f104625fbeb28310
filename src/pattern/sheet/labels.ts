/** Words on a piece, placed so that they touch no line and no other word. */

import { libm } from '../../numerics/index.ts';
import { textWidth } from './font.ts';
import type { SheetText, Spot } from './types.ts';

/** Clear space round a word, mm. */
const CLEAR = 0.8;
/** Share of the letter height above and below the baseline that letters take. */
const UP = 0.78;
const DOWN = 0.24;

/** [left, top, right, bottom], mm. */
export type Box = readonly [number, number, number, number];
type Segment = readonly [number, number, number, number];

/** The box that a word takes, with clear space round it. */
export const wordBox = ({ x, y, size, text }: Pick<SheetText, 'x' | 'y' | 'size' | 'text'>, clear = CLEAR): Box => [
  x - clear,
  y - UP * size - clear,
  x + textWidth(text, size) + clear,
  y + DOWN * size + clear,
];

/** Does a segment pass through a box? Liang and Barsky (1984), from memory. */
export function meetsBox([x0, y0, x1, y1]: Segment, [left, top, right, bottom]: Box): boolean {
  let [t0, t1] = [0, 1];
  const [dx, dy] = [x1 - x0, y1 - y0];
  for (const [p, q] of [
    [-dx, x0 - left],
    [dx, right - x0],
    [-dy, y0 - top],
    [dy, bottom - y0],
  ] as const) {
    if (p === 0) {
      if (q < 0) return false;
      continue;
    }
    const r = q / p;
    if (p < 0) t0 = Math.max(t0, r);
    else t1 = Math.min(t1, r);
    if (t0 > t1) return false;
  }
  return true;
}

const boxesMeet = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** Lines and words that are there already, asked by box; segments are kept in cells of 20 mm. */
export class Taken {
  private readonly cells = new Map<string, Segment[]>();
  private readonly words: Box[] = [];

  line(points: readonly Spot[], closed: boolean): void {
    points.forEach((p, i) => {
      const q = points[(i + 1) % points.length]!;
      if (i === points.length - 1 && !closed) return;
      const segment: Segment = [p[0], p[1], q[0], q[1]];
      for (const key of cellsOf([Math.min(p[0], q[0]), Math.min(p[1], q[1]), Math.max(p[0], q[0]), Math.max(p[1], q[1])])) {
        const cell = this.cells.get(key);
        if (cell) cell.push(segment);
        else this.cells.set(key, [segment]);
      }
    });
  }
  word(box: Box): void {
    this.words.push(box);
  }
  free(box: Box): boolean {
    return !this.words.some((w) => boxesMeet(w, box)) && !cellsOf(box).some((key) => this.cells.get(key)?.some((s) => meetsBox(s, box)));
  }
}

const CELL = 20;
function cellsOf([x0, y0, x1, y1]: Box): string[] {
  const keys: string[] = [];
  for (let i = Math.floor(x0 / CELL); i <= Math.floor(x1 / CELL); i++)
    for (let j = Math.floor(y0 / CELL); j <= Math.floor(y1 / CELL); j++) keys.push(`${i},${j}`);
  return keys;
}

/** Several lines of words under one another, left edges in line. */
export interface Block {
  readonly lines: readonly { readonly text: string; readonly size: number }[];
}

/** The words of a block whose upper left corner is given, and the size of the block, mm. */
export function blockAt({ lines }: Block, x: number, y: number, piece: number): { texts: SheetText[]; box: Box } {
  let down = y;
  const texts = lines.map(({ text, size }): SheetText => {
    down += UP * size;
    const made = { text, x, y: down, size, piece };
    down += DOWN * size + 0.6;
    return made;
  });
  return { texts, box: [x - CLEAR, y - CLEAR, x + Math.max(...lines.map((l) => textWidth(l.text, l.size))) + CLEAR, down + CLEAR] };
}

/** A block in the shape of several sizes, the largest that finds room; within: is a place on the cloth? null where none does. */
export function placeBlock(blocks: readonly Block[], bounds: Box, taken: Taken, inside: (p: Spot) => boolean, piece: number): SheetText[] | null {
  for (const block of blocks) {
    const { box } = blockAt(block, 0, 0, piece);
    const [w, h] = [box[2] - box[0], box[3] - box[1]];
    const [across, down] = [bounds[2] - bounds[0] - w, bounds[3] - bounds[1] - h];
    if (across < 0 || down < 0) continue;
    const steps = 14;
    // From the middle outward: a title in the middle of a piece survives the cutting.
    const tries = Array.from({ length: libm.square(steps + 1) }, (_, k) => [k % (steps + 1), Math.floor(k / (steps + 1))] as const)
      .map(([i, j]) => ({ i, j, far: libm.hypot(i / steps - 0.5, j / steps - 0.5) }))
      .sort((a, b) => a.far - b.far || a.j - b.j || a.i - b.i);
    for (const { i, j } of tries) {
      const [x, y] = [bounds[0] + (across * i) / steps + CLEAR, bounds[1] + (down * j) / steps + CLEAR];
      const made = blockAt(block, x, y, piece);
      const [l, t, r, b] = made.box;
      const corners: Spot[] = [
        [l, t],
        [r, t],
        [r, b],
        [l, b],
      ];
      if (!corners.every(inside) || !taken.free(made.box)) continue;
      return made.texts;
    }
  }
  return null;
}

/** A word whose middle is at one of several places; the first that is free, at the first size that fits anywhere. */
export function placeWord(
  text: string,
  places: readonly Spot[],
  sizes: readonly number[],
  taken: Taken,
  inside: (p: Spot) => boolean,
  piece: number,
): SheetText | null {
  for (const size of sizes) {
    const half = textWidth(text, size) / 2;
    for (const [x, y] of places) {
      const made: SheetText = { text, x: x - half, y: y + ((UP - DOWN) * size) / 2, size, piece };
      const box = wordBox(made);
      const [l, t, r, b] = box;
      const corners: Spot[] = [
        [l, t],
        [r, t],
        [r, b],
        [l, b],
      ];
      if (corners.every(inside) && taken.free(box)) return made;
    }
  }
  return null;
}
