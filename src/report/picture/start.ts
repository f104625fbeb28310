import type { BagMesh } from '../../mesh/types.ts';
import { bounds, type Frame, paperExtent, poseForView } from './camera.ts';
import { inkLines, paintBag } from './paint.ts';
import { px } from './svg.ts';
import { RULE } from './tokens.ts';

/** A sewn bag before anything pulls on it: its picture and its outer size, m. */
export interface StartPicture {
  readonly svg: string;
  /** Width across the front, depth, height. */ readonly size: readonly [number, number, number];
}

/**
 * Picture of a bag as drafted and sewn, nothing settled: ink on paper over a rule for the table, in the cabinet view of every other picture.
 * Deterministic. Parameters: mesh; drafted positions, 3n, m; width and height of the picture, px (the bag fills it, so pictures are not to one scale).
 */
export function startPicture(mesh: BagMesh, drafted: Float64Array, width: number, height: number): StartPicture {
  const posed = poseForView(mesh, drafted, drafted).drafted;
  const e = paperExtent(posed);
  const pad = 8;
  const scale = Math.min((width - 2 * pad) / Math.max(e.right - e.left, 0.02), (height - 3 * pad) / Math.max(e.top, 0.02));
  const originY = height - 2 * pad;
  const frame: Frame = { originX: width / 2 - (scale * (e.left + e.right)) / 2, originY, scale };
  const { low, high } = bounds(posed);
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" class="start" viewBox="0 0 ${px(width)} ${px(height)}" aria-hidden="true"><style>${inkLines('start')}</style>` +
    `<path d="M0 ${px(originY)}H${px(width)}" stroke="${RULE}" stroke-width="1.5"/>${paintBag(mesh, posed, frame)}</svg>`;
  return { svg, size: [high[0] - low[0], high[1] - low[1], high[2] - low[2]] };
}
