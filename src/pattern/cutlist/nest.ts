/** How much cloth the pieces of one material take: laid by their true outlines with their grain along the roll. */
import type { Point2 } from '../../bag/types.ts';
import { libm, polygonArea, seeded } from '../../numerics/index.ts';
import { grown } from '../pieces/plane.ts';
import { type Counted, columnsOf, sharperBound } from './bound.ts';
import { type CellShape, cellsOf, Roll } from './cells.ts';

/** Side of a cell, m: lays are good to a millimetre. */
const CELL = 0.001;
/** Tries in other orders: as many as a fixed amount of work allows, and more of it while a lay is longer than FAIR times what no lay can better. */
const WORK = 900;
const MOST_TRIES = 60;
const MORE = 12;
const FAIR = 1.25;

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
  /** Length that no lay can be shorter than, m: area over width, the longest shape, or what does not go side by side (bound.ts). */ readonly bound: number;
  /** What makes that bound. */ readonly boundBy: 'area' | 'longest' | 'side by side';
  /** Sheets that it fills, and how long each is, m; absent on a roll. */ readonly sheets?: number;
  readonly sheet?: number;
}

/** A shape that is wider than the roll, or longer than the sheet, whichever way it may lie. */
export interface TooWide {
  readonly name: string;
  /** Narrowest roll that it fits on, m; of a sheet, the way it lies on that one. */ readonly width: number;
  readonly height: number;
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
 * Parameters: items; width of the roll, m; gap kept between shapes, m; length of a sheet, m, where it comes in sheets: no shape lies over the end of one.
 * Returns the shapes that are too large instead, where there are any.
 */
export function nest(
  items: readonly NestItem[],
  width: number,
  o: { readonly gap?: number; readonly anyWay?: boolean; readonly sheet?: number; readonly seed?: number; readonly tries?: number } = {},
): Lay | readonly TooWide[] {
  const gap = o.gap ?? 0;
  const quarter = o.anyWay === true ? [0, 1, 2, 3] : [0, 2];
  const cells = Math.floor(width / CELL + 1e-6);
  const sheet = o.sheet === undefined ? Number.POSITIVE_INFINITY : Math.floor(o.sheet / CELL + 1e-6);
  const ones: One[] = [];
  const wide: TooWide[] = [];
  const counted: (() => Counted)[] = [];
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
          loops: outline.map((loop) => loop.map((p) => snapped(placed(p, mirrored, turn)))),
        };
      });
      const laid = all.map(({ turn, loops }) => ({ turn, shape: cellsOf(loops, CELL) }));
      const fits = ({ shape }: (typeof laid)[number]): boolean => shape.width <= cells && shape.height <= sheet;
      const ways = laid.filter(fits);
      if (ways.length === 0 && !wide.some((w) => w.name === item.name)) {
        const least = laid.reduce((a, b) => (b.shape.width < a.shape.width ? b : a)).shape;
        wide.push({ name: item.name, width: least.width * CELL, height: least.height * CELL });
      }
      // Turned about it is as wide and as long: two ways at most differ.
      const unlike = all.slice(0, o.anyWay === true ? 2 : 1).filter((_, k) => fits(laid[k]!));
      counted.push(() => ({ count, ways: unlike.map(({ loops }) => ({ columns: columnsOf(loops, CELL), height: reach(loops) })) }));
      for (let k = 0; k < count; k++) ones.push({ item: i, mirrored, ways, area: Math.abs(area) });
    }
  });
  if (wide.length > 0) return wide;
  const area = ones.reduce((sum, one) => sum + one.area, 0);
  const longest = Math.max(0, ...ones.map((one) => Math.min(...one.ways.map((w) => w.shape.height))));
  let best: Made | null = lay(ones, cells, Number.POSITIVE_INFINITY, sheet);
  let floor = Math.max(longest, Math.ceil(area / width / CELL));
  const chance = seeded(o.seed ?? 1);
  let order: readonly One[] = ones;
  const tries = ones.length < 2 ? 0 : (o.tries ?? Math.min(MOST_TRIES, Math.ceil(WORK / ones.length)));
  for (const start of starts(ones)) {
    const made = lay(start, cells, best ? best.length - 1 : Number.POSITIVE_INFINITY, sheet);
    if (!made) continue;
    order = start;
    best = made;
  }
  let bound = Math.max(area / width, longest * CELL);
  let boundBy: Lay['boundBy'] = longest * CELL > area / width ? 'longest' : 'area';
  const better = (many: number): void => {
    for (let t = 0; t < many && best && best.length > floor; t++) {
      const next = [...order];
      const [a, b] = [Math.floor(chance() * next.length), Math.floor(chance() * next.length)];
      [next[a], next[b]] = [next[b]!, next[a]!];
      const made = lay(next, cells, best.length, sheet);
      if (!made || made.length > best.length) continue;
      order = next;
      best = made;
    }
  };
  better(tries);
  if (o.tries === undefined && best!.length * CELL > FAIR * bound) {
    const sharper = sharperBound(
      counted.map((made) => made()),
      width / CELL,
      bound,
      best!.length * CELL,
    );
    if (sharper > bound) [bound, boundBy] = [sharper, 'side by side'];
    floor = Math.max(floor, Math.ceil(bound / CELL - 1e-6));
    if (best!.length * CELL > FAIR * bound) better(MORE * tries);
  }
  const laid = best!.at.map(({ one, way, x, y }): LaidItem => {
    const { turn, shape } = one.ways[way]!;
    return { item: one.item, name: items[one.item]!.name, mirrored: one.mirrored, turn, shift: [x * CELL - shape.origin[0], y * CELL - shape.origin[1]] };
  });
  const length = best!.length * CELL;
  const used = length > 0 ? area / (width * length) : 1;
  return { width, length, laid, area, used, bound, boundBy, ...(o.sheet === undefined ? {} : { sheets: Math.ceil(best!.length / sheet), sheet: o.sheet }) };
}

/** A whole nanometre: sines of half turns leave 1e-17, which would touch a cell more. */
const snapped = ([x, y]: Point2): Point2 => [Math.round(x * 1e9) / 1e9, Math.round(y * 1e9) / 1e9];

/** How far loops reach along the roll, m. */
function reach(loops: readonly (readonly Point2[])[]): number {
  const ys = loops.flat().map((p) => p[1]);
  return Math.max(...ys) - Math.min(...ys);
}

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
function lay(ones: readonly One[], width: number, most: number, sheet: number): Made | null {
  const roll = new Roll(width, sheet);
  const at: { one: One; way: number; x: number; y: number }[] = [];
  let length = 0;
  // On sheets every shape may need one of its own.
  const total = ones.reduce((sum, one) => sum + Math.max(sheet < Number.POSITIVE_INFINITY ? sheet : 0, ...one.ways.map((w) => w.shape.height)), 0);
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
