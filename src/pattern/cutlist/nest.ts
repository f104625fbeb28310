/** How much cloth the pieces of one material take: laid by their true outlines with their grain along the roll. */
import type { Point2 } from '../../bag/types.ts';
import { libm, polygonArea, seeded } from '../../numerics/index.ts';
import { grown } from '../pieces/plane.ts';
import { type CellShape, cellsOf, Roll } from './cells.ts';

/** Side of a cell, m: lays are good to a millimetre. */
const CELL = 0.001;
/** Tries in other orders: as many as a fixed amount of work allows. */
const WORK = 900;
const MOST_TRIES = 60;

/** One shape to be laid, as often as `count` says, `mirrored` of these turned over. */
export interface NestItem {
  readonly name: string;
  /** Of its piece on the pattern. */ readonly number?: number;
  /** Outer loop and holes, m. */ readonly cut: readonly (readonly Point2[])[];
  /** Direction of the warp, rad counterclockwise from x. */ readonly warp: number;
  readonly count: number;
  readonly mirrored: number;
}

/** Where one shape lies: a place p of the shape, mirrored in the upright first where `mirrored`, turned by `turn`, then moved by `shift`; x across the roll, y along it, m. */
export interface LaidItem {
  readonly item: number;
  readonly name: string;
  readonly mirrored: boolean;
  readonly turn: number;
  readonly shift: Point2;
}

/** A lay: what lies where on a roll of this width, and how much of it is used. */
export interface Lay {
  readonly width: number;
  /** Length of roll, m. */ readonly length: number;
  readonly laid: readonly LaidItem[];
  /** Area of all shapes, m2; over width x length it is the share that is used. */ readonly area: number;
  readonly used: number;
  /** Length that no lay can be shorter than, m: area over width, or the longest shape. */ readonly bound: number;
}

/** A shape that is wider than the roll whichever way it may lie. */
export interface TooWide {
  readonly name: string;
  /** Narrowest roll that it fits on, m. */ readonly width: number;
}

const placed = (p: Point2, mirrored: boolean, turn: number): Point2 => {
  const [x, y] = [mirrored ? -p[0] : p[0], p[1]];
  return [x * libm.cos(turn) - y * libm.sin(turn), x * libm.sin(turn) + y * libm.cos(turn)];
};

/** The loops of a laid item where they lie on the roll, m. */
export const laidLoops = (items: readonly NestItem[], l: LaidItem): Point2[][] =>
  items[l.item]!.cut.map((loop) =>
    loop.map((p) => {
      const [x, y] = placed(p, l.mirrored, l.turn);
      return [x + l.shift[0], y + l.shift[1]];
    }),
  );

interface One {
  readonly item: number;
  readonly mirrored: boolean;
  readonly ways: readonly { readonly turn: number; readonly shape: CellShape }[];
  readonly area: number;
}

/**
 * A lay of shapes on a roll, lowest place first, in an order that a fixed number of seeded tries has not bettered. The warp runs along the roll, up or down
 * (and with `anyWay` across as well: boards, felts). Shapes never overlap: no two of them touch one cell of 1 mm. Same items, same lay.
 * Parameters: items; width of the roll, m; gap kept between shapes, m. Returns the shapes that are wider than the roll instead, where there are any.
 */
export function nest(
  items: readonly NestItem[],
  width: number,
  o: { readonly gap?: number; readonly anyWay?: boolean; readonly seed?: number; readonly tries?: number } = {},
): Lay | readonly TooWide[] {
  const gap = o.gap ?? 0;
  const quarter = o.anyWay === true ? [0, 1, 2, 3] : [0, 2];
  const cells = Math.floor(width / CELL + 1e-6);
  const ones: One[] = [];
  const wide: TooWide[] = [];
  items.forEach((item, i) => {
    const outline = gap > 0 ? grown(item.cut, gap / 2) : item.cut;
    const area = item.cut.reduce((sum, loop) => sum + polygonArea(loop), 0);
    for (const mirrored of [false, true]) {
      const count = mirrored ? item.mirrored : item.count - item.mirrored;
      if (count === 0) continue;
      // A mirrored shape's warp is mirrored with it.
      const warp = mirrored ? Math.PI - item.warp : item.warp;
      const all = quarter.map((q) => {
        const turn = Math.PI / 2 - warp + (q * Math.PI) / 2;
        return {
          turn,
          shape: cellsOf(
            outline.map((loop) => loop.map((p) => snapped(placed(p, mirrored, turn)))),
            CELL,
          ),
        };
      });
      const ways = all.filter((w) => w.shape.width <= cells);
      if (ways.length === 0 && !wide.some((w) => w.name === item.name))
        wide.push({ name: item.name, width: Math.min(...all.map((w) => w.shape.width)) * CELL });
      for (let k = 0; k < count; k++) ones.push({ item: i, mirrored, ways, area: Math.abs(area) });
    }
  });
  if (wide.length > 0) return wide;
  const area = ones.reduce((sum, one) => sum + one.area, 0);
  const longest = Math.max(0, ...ones.map((one) => Math.min(...one.ways.map((w) => w.shape.height))));
  let best: Made | null = lay(ones, cells, Number.POSITIVE_INFINITY);
  const floor = Math.max(longest, Math.ceil(area / width / CELL));
  const chance = seeded(o.seed ?? 1);
  let order: readonly One[] = ones;
  const tries = ones.length < 2 ? 0 : (o.tries ?? Math.min(MOST_TRIES, Math.ceil(WORK / ones.length)));
  for (const start of starts(ones)) {
    const made = lay(start, cells, best ? best.length - 1 : Number.POSITIVE_INFINITY);
    if (!made) continue;
    order = start;
    best = made;
  }
  for (let t = 0; t < tries && best && best.length > floor; t++) {
    const next = [...order];
    const [a, b] = [Math.floor(chance() * next.length), Math.floor(chance() * next.length)];
    [next[a], next[b]] = [next[b]!, next[a]!];
    const made = lay(next, cells, best.length);
    if (!made || made.length > best.length) continue;
    order = next;
    best = made;
  }
  const laid = best!.at.map(({ one, way, x, y }): LaidItem => {
    const { turn, shape } = one.ways[way]!;
    return { item: one.item, name: items[one.item]!.name, mirrored: one.mirrored, turn, shift: [x * CELL - shape.origin[0], y * CELL - shape.origin[1]] };
  });
  const length = best!.length * CELL;
  return { width, length, laid, area, used: length > 0 ? area / (width * length) : 1, bound: Math.max(area / width, longest * CELL) };
}

/** A whole nanometre: sines of half turns leave 1e-17, which would touch a cell more. */
const snapped = ([x, y]: Point2): Point2 => [Math.round(x * 1e9) / 1e9, Math.round(y * 1e9) / 1e9];

/** Orders to begin with: long ones first, large ones first, wide ones first; the small fill what these leave. */
function starts(ones: readonly One[]): (readonly One[])[] {
  const sizes = ones.map((one, i) => ({ one, i, h: one.ways[0]!.shape.height, w: one.ways[0]!.shape.width }));
  const by = (size: (s: (typeof sizes)[number]) => number): One[] => [...sizes].sort((a, b) => size(b) - size(a) || a.i - b.i).map(({ one }) => one);
  return [by(({ h, w }) => h + w * 1e-6), by(({ one }) => one.area), by(({ w, h }) => w + h * 1e-6)];
}

interface Made {
  readonly length: number;
  readonly at: readonly { readonly one: One; readonly way: number; readonly x: number; readonly y: number }[];
}

/** The pieces laid in their order; null once the lay would be longer than `most` cells. */
function lay(ones: readonly One[], width: number, most: number): Made | null {
  const roll = new Roll(width);
  const at: { one: One; way: number; x: number; y: number }[] = [];
  let length = 0;
  const total = ones.reduce((sum, one) => sum + Math.max(...one.ways.map((w) => w.shape.height)), 0);
  for (const one of ones) {
    let found: { way: number; x: number; y: number; end: number } | null = null;
    one.ways.forEach((w, way) => {
      const below = Math.min(most, total, found ? found.end - 1 : Number.POSITIVE_INFINITY);
      const spot = roll.place(w.shape, below);
      if (spot) found = { way, ...spot, end: spot.y + w.shape.height };
    });
    if (found === null) return null;
    const { way, x, y, end } = found as { way: number; x: number; y: number; end: number };
    roll.take(one.ways[way]!.shape, x, y);
    at.push({ one, way, x, y });
    length = Math.max(length, end);
  }
  return { length, at };
}
