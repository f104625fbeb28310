import { formatInches, formatMm } from '../core.ts';
import type { UnitChoice } from '../page/format.ts';
import { FIXED_ANGLE_LOAD, lengthFor, type Sheet, SUPPORT_DISC } from './core.ts';
import type { Piece, Reading } from './protocol.ts';
import { ABOVE, ASIDE } from './views.ts';
import { words } from './words.ts';

/** Something drawn over the piece, in the plane of its near edge: right and up, m. */
export type Mark =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point /** px to the left of from-to */; readonly off: number; readonly label: string }
  | { readonly kind: 'angle'; readonly radius: number /** rad below level */; readonly to: number; readonly label: string }
  | { readonly kind: 'dash'; readonly from: Point; readonly to: Point; readonly label: string }
  | { readonly kind: 'circle'; readonly radius: number; readonly label: string }
  | { readonly kind: 'note'; readonly at: Point; readonly label: string }
  | { readonly kind: 'push'; readonly at: Point; readonly label: string };
type Point = readonly [number, number];

/** Where both units are wanted, millimetres first, as testers read, and the inch fraction beside them. */
export const size = (metres: number, units: UnitChoice): string =>
  units === 'metric' ? formatMm(metres, 1) : units === 'inch' ? formatInches(metres, 16) : `${formatMm(metres, 1)} (${formatInches(metres, 16)})`;

/** A difference finer than a ruler's sixteenth: hundredths of an inch, or of a millimetre. */
export const small = (metres: number, units: UnitChoice): string =>
  units === 'metric' ? formatMm(metres, 2) : `${(metres / 0.0254).toFixed(3)} in${units === 'both' ? ` (${formatMm(metres, 2)})` : ''}`;

/** Mean place of the vertices at the far end of the strip, m. */
function tipOf(piece: Pick<Piece, 'flat'>, x: ArrayLike<number>): [number, number, number] {
  let end = 0;
  for (let v = 0; 2 * v < piece.flat.length; v++) end = Math.max(end, piece.flat[2 * v]);
  const sum: [number, number, number] = [0, 0, 0];
  let n = 0;
  for (let v = 0; 2 * v < piece.flat.length; v++) {
    if (piece.flat[2 * v] < end * (1 - 1e-5)) continue;
    n++;
    for (let k = 0; k < 3; k++) sum[k] += x[3 * v + k];
  }
  return sum.map((s) => s / n) as [number, number, number];
}

/** The dimensions that a reading is made of, over the piece at rest. Parameters: reading; piece; 3n positions at rest; units of the labels. */
export function marksOf(r: Reading, piece: Piece, x: ArrayLike<number>, units: UnitChoice): Mark[] {
  const d = words.dims;
  const [tx, ty, tz] = tipOf(piece, x);
  let [left, right, low, high, back] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let i = 0; i < x.length; i += 3) {
    back = Math.max(back, x[i + 1]);
    [left, right] = [Math.min(left, x[i]), Math.max(right, x[i])];
    [low, high] = [Math.min(low, x[i + 2]), Math.max(high, x[i + 2])];
  }
  const L = r.more.length ?? 0;
  // The width runs off to the upper right; dimensions stand clear of it.
  const [aside, above] = [ASIDE * back, ABOVE * back];
  right += aside;
  const flat: Mark = { kind: 'line', from: [0, above], to: [L, above], off: 16, label: d.overhang(size(L, units)) };
  const drop: Mark = { kind: 'line', from: [tx + aside, 0], to: [tx + aside, tz], off: 16, label: d.drop(size(-tz, units)) };
  const tall = (from: number, to: number, at: number, label: string): Mark => ({ kind: 'line', from: [at, from], to: [at, to], off: -14, label });
  switch (r.test) {
    case 'cantilever': {
      const to = (r.reading * Math.PI) / 180;
      return [
        flat,
        { kind: 'angle', radius: 0.45 * Math.hypot(tx, tz), to, label: `${r.reading.toFixed(2)}${words.units.degrees}` },
        { kind: 'dash', from: [0, 0], to: [tx, tz], label: '' },
      ];
    }
    case 'tip':
    case 'board':
    case 'corner':
      return [flat, drop];
    case 'heart':
    case 'ring':
    case 'pear':
      return [tall(low, 0, right, d.height(size(r.reading * L, units)))];
    case 'standing':
      return [tall(0, r.reading, right, d.tallest(size(r.reading, units)))];
    case 'leaning':
      return [tall(0, tz, right, d.height(size(tz, units)))];
    case 'tube':
      return [tall(low, low + r.reading * r.more.diameter, right, d.height(size(r.reading * r.more.diameter, units)))];
    case 'drape':
      return [
        { kind: 'circle', radius: r.more.diameter / 2, label: d.piece(size(r.more.diameter, units)) },
        { kind: 'circle', radius: SUPPORT_DISC / 2, label: d.disc(size(SUPPORT_DISC, units)) },
        { kind: 'note', at: [0, 0], label: d.shadow(`${r.reading.toFixed(0)} ${words.units.percent}`) },
      ];
    case 'bias':
      return [
        {
          kind: 'line',
          from: [ty * 2, 0],
          to: [ty * 2, tz],
          off: 26,
          label: `${d.length(size(-tz, units))}, ${d.longer(`${(100 * r.reading).toPrecision(2)} %`)}`,
        },
      ];
    case 'slip':
      return [
        { kind: 'push', at: [left, 0], label: d.push(r.reading.toPrecision(4)) },
        { ...flat, label: d.length(size(L, units)) },
      ];
    case 'on-edge':
      return [
        { kind: 'line', from: [0, low], to: [right, low], off: -22, label: d.length(size(L, units)) },
        { kind: 'line', from: [right, low], to: [right, high], off: -14, label: d.width(size(r.more.width, units)) },
      ];
  }
}

/** What theory says at once of a sheet: overhang at 41.5 deg of a strip cut off the warp by `cut`, m. */
export const overhangOf = (sheet: Sheet, cut: number): number => lengthFor(sheet, FIXED_ANGLE_LOAD, cut);
