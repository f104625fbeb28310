import { libm } from '../../numerics/index.ts';
import { DEGREE } from '../../units/index.ts';
import { CARD, fromRectangle, type Homography, inverse, mapped } from './homography.ts';
import { movedMarks } from './scale.ts';
import type { PhotoMarks, Pixel } from './types.ts';

/** How far a card that stands on the table may lean, rad (one standard deviation): the table, the card, the eye. An estimate. */
const CARD_LEAN = 0.5 * DEGREE;
/** A picture held by hand and taken as level, rad (one standard deviation). An estimate. */
const PICTURE_LEAN = 1 * DEGREE;
/** The strip's own plane: metres, x out from the table's edge, y down. */
export interface Plane {
  /** The marked places of the strip, the edge as origin. */ readonly strip: readonly Pixel[];
  readonly toPlane: (at: Pixel) => Pixel;
  readonly toPicture: (at: Pixel) => Pixel;
  /** The second place on the table tells what is level; else the card's side or the picture's does, off by so much, rad. */
  readonly level: { readonly by: 'table'; readonly reach: number } | { readonly by: 'card' | 'picture'; readonly lean: number };
}

const minus = (a: Pixel, b: Pixel): Pixel => [a[0] - b[0], a[1] - b[1]];
const dot = (a: Pixel, b: Pixel): number => a[0] * b[0] + a[1] * b[1];
const unit = (a: Pixel): Pixel => {
  const size = libm.hypot(a[0], a[1]);
  return [a[0] / size, a[1] / size];
};

/** Picture to plane in the card's or ruler's own frame, m. */
function scaleOf(marks: PhotoMarks): Homography {
  if (marks.card) return inverse(fromRectangle(CARD, marks.card));
  const { marks: two, apart } = marks.ruler!;
  const [dx, dy] = minus(two[1]!, two[0]!);
  const s = apart / libm.hypot(dx, dy);
  return [s, 0, 0, 0, s, 0, 0, 0, 1];
}

/** Which way is down in the scale's frame: square to the table's top where it is marked, else a side of the card (or the picture) nearest to the picture's down. */
function downOf(marks: PhotoMarks, map: Homography): Pixel {
  const at = (p: Pixel): Pixel => mapped(map, p);
  const edge = marks.table[0]!;
  const tip = minus(at(marks.strip.at(-1)!), at(edge));
  if (marks.table.length > 1) {
    const along = unit(minus(at(edge), at(marks.table[1]!)));
    const down: Pixel = [-along[1], along[0]];
    return dot(down, tip) >= 0 ? down : [-down[0], -down[1]];
  }
  if (!marks.card) return [0, 1];
  const below = unit(minus(at([edge[0], edge[1] + 1]), at(edge)));
  const axes: readonly Pixel[] = [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ];
  return axes.reduce((best, axis) => (dot(axis, below) > dot(best, below) ? axis : best));
}

/** The plane with the scale's marks moved as scale.ts has them. */
export function planeWith(marks: PhotoMarks, parts: readonly number[]): Plane {
  const moved = movedMarks(marks, parts);
  return planeOf(marks.card ? { ...marks, card: moved } : { ...marks, ruler: { ...marks.ruler!, marks: moved } });
}

/** The plane of a picture whose marks have passed `markFaults`. Strips that hang to the left are turned to the right. */
export function planeOf(marks: PhotoMarks): Plane {
  const map = scaleOf(marks);
  const back = inverse(map);
  const origin = mapped(map, marks.table[0]!);
  const down = downOf(marks, map);
  const right: Pixel = [down[1], -down[0]];
  const sum = marks.strip.reduce((s, p) => s + dot(minus(mapped(map, p), origin), right), 0);
  const out: Pixel = sum >= 0 ? right : [-right[0], -right[1]];
  const toPlane = (p: Pixel): Pixel => {
    const from = minus(mapped(map, p), origin);
    return [dot(from, out), dot(from, down)];
  };
  const toPicture = ([x, y]: Pixel): Pixel => mapped(back, [origin[0] + x * out[0] + y * down[0], origin[1] + x * out[1] + y * down[1]]);
  const behind = marks.table[1] === undefined ? null : toPlane(marks.table[1]);
  return {
    strip: marks.strip.map(toPlane),
    toPlane,
    toPicture,
    level: behind ? { by: 'table', reach: libm.hypot(...behind) } : marks.card ? { by: 'card', lean: CARD_LEAN } : { by: 'picture', lean: PICTURE_LEAN },
  };
}
