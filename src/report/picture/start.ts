import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { bounds, type Frame, paperExtent, poseForView } from './camera.ts';
import { inkLines, paintBag, type Strip } from './paint.ts';
import { px } from './svg.ts';
import { RULE } from './tokens.ts';

/** A sewn bag before anything pulls on it: its picture and its outer size, m. */
export interface StartPicture {
  readonly svg: string;
  /** Width across the front, depth, height. */ readonly size: readonly [number, number, number];
}

/** Points of a handle's arch, ends included. */
const ARCH = 25;

/**
 * A handle that stands over the mouth for a picture, 3 per point, m: half an ellipse from one end to the other, as long as the strap; a strap no longer than
 * the way between its ends is that straight line. Where it would really fall is not worked out. ends: 3 numbers each, m; length: m.
 */
export function standingHandle(from: ArrayLike<number>, to: ArrayLike<number>, length: number): Float64Array {
  const line = (rise: number): Float64Array => {
    const out = new Float64Array(3 * ARCH);
    for (let i = 0; i < ARCH; i++) {
      const a = (Math.PI * i) / (ARCH - 1);
      const t = (1 - libm.cos(a)) / 2;
      for (let k = 0; k < 3; k++) out[3 * i + k] = from[k] + t * (to[k] - from[k]) + (k === 2 ? rise * libm.sin(a) : 0);
    }
    return out;
  };
  let [low, high] = [0, length];
  for (let i = 0; i < 30; i++) {
    const rise = (low + high) / 2;
    if (lengthOf(line(rise)) < length) low = rise;
    else high = rise;
  }
  return line(low);
}

function lengthOf(x: Float64Array): number {
  let sum = 0;
  for (let i = 3; i < x.length; i += 3) sum += libm.hypot(x[i] - x[i - 3], x[i + 1] - x[i - 2], x[i + 2] - x[i - 1]);
  return sum;
}

/**
 * Picture of a bag as drafted and sewn, nothing settled: ink on paper over a rule for the table, in the cabinet view of every other picture.
 * Deterministic. Parameters: mesh; drafted positions, 3n, m; width and height of the picture, px (the bag fills it, so pictures are not to one scale);
 * straps: lines in the same frame (3 per point, m) and widths, m; hung: there is no table under it.
 */
export function startPicture(mesh: BagMesh, drafted: Float64Array, width: number, height: number, straps: readonly Strip[] = [], hung = false): StartPicture {
  const { drafted: posed, beside } = poseForView(
    mesh,
    drafted,
    drafted,
    straps.map((s) => s.line),
  );
  const all = [posed, ...beside].map(paperExtent);
  const [left, right, top] = [Math.min(...all.map((e) => e.left)), Math.max(...all.map((e) => e.right)), Math.max(...all.map((e) => e.top))];
  const pad = 8;
  const scale = Math.min((width - 2 * pad) / Math.max(right - left, 0.02), (height - 3 * pad) / Math.max(top, 0.02));
  const originY = height - 2 * pad;
  const frame: Frame = { originX: width / 2 - (scale * (left + right)) / 2, originY, scale };
  const { low, high } = bounds(posed);
  const table = hung ? '' : `<path d="M0 ${px(originY)}H${px(width)}" stroke="${RULE}" stroke-width="1.5"/>`;
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" class="start" viewBox="0 0 ${px(width)} ${px(height)}" aria-hidden="true"><style>${inkLines('start')}` +
    `.start .strap{fill:none;stroke-linecap:round}</style>${table}${paintBag(
      mesh,
      posed,
      frame,
      straps.map((s, i) => ({ width: s.width, line: beside[i] })),
    )}</svg>`;
  return { svg, size: [high[0] - low[0], high[1] - low[1], high[2] - low[2]] };
}
