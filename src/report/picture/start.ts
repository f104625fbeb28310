import type { BagMesh } from '../../mesh/types.ts';
import { bounds, type Frame, paperExtent, poseForView } from './camera.ts';
import { inkLines, paintBag, type Strip } from './paint.ts';
import { px } from './svg.ts';
import { RULE } from './tokens.ts';

/** A sewn bag before anything pulls on it: its picture and its outer size, m. */
export interface StartPicture {
  readonly svg: string;
  /** Width across the front, depth, height. */ readonly size: readonly [number, number, number];
  /** Mesh points as posed, 3 per point, m, and the frame in which they are drawn. */ readonly posed: Float64Array;
  readonly frame: Frame;
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
  return { svg, size: [high[0] - low[0], high[1] - low[1], high[2] - low[2]], posed, frame };
}
