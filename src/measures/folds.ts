import { leastSquares } from './linear.ts';
import type { PanelSheet } from './sheet.ts';

/** Depth from ridge to valley below which a wave is not called a fold, m (trade.md, "Measuring slump"; common practice). */
export const FOLD_DEPTH = 0.005;
const LINES = 12;

/**
 * Folds of one wall deeper than FOLD_DEPTH: the count on the level line that shows most of them.
 * Formula: 12 level lines (constant y of the flat panel, at 4 % to 100 % of its height) are laid across the wall; along each the deviation of
 * the surface (wall.ts: distance off the best-fit plane) less its least-squares parabola is taken, which removes tilt and plain bulge;
 * turning points whose swings on both sides reach FOLD_DEPTH are counted, and a fold is a ridge with its valley: ceil(count / 2).
 * A sine of amplitude a, depth 2a, k waves across gives k. Assumes that the wall still faces one way: on a heap the figure is a rough count.
 * sheet: the wall; deviation: per local vertex, m.
 */
export function countFolds(sheet: PanelSheet, deviation: Float64Array): number {
  let low = Infinity;
  let high = -Infinity;
  for (let i = 1; i < sheet.flat.length; i += 2) {
    low = Math.min(low, sheet.flat[i]);
    high = Math.max(high, sheet.flat[i]);
  }
  let most = 0;
  for (let k = 0; k < LINES; k++) {
    // Just inside the rim: a line exactly on vertices would be met twice or not at all.
    const y = low + (high - low) * (0.04 + (0.9599 * k) / (LINES - 1));
    most = Math.max(most, foldsAlong(levelLine(sheet, deviation, y)));
  }
  return most;
}

/** Deviation where the line y meets the panel's triangle edges, in order of x. */
function levelLine(sheet: PanelSheet, deviation: Float64Array, y: number): { s: number; d: number }[] {
  const points: { s: number; d: number }[] = [];
  const { flat, tris } = sheet;
  for (let t = 0; t < tris.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = tris[t + k];
      const b = tris[t + ((k + 1) % 3)];
      const ya = flat[2 * a + 1] - y;
      const yb = flat[2 * b + 1] - y;
      if (ya * yb > 0 || ya === yb) continue;
      const f = ya / (ya - yb);
      points.push({ s: flat[2 * a] + f * (flat[2 * b] - flat[2 * a]), d: deviation[a] + f * (deviation[b] - deviation[a]) });
    }
  }
  return points.sort((p, q) => p.s - q.s);
}

/** Folds of one profile; samples in order of s. */
export function foldsAlong(samples: readonly { readonly s: number; readonly d: number }[]): number {
  if (samples.length < 5) return 0;
  const s0 = samples[0].s;
  const span = samples[samples.length - 1].s - s0;
  if (!(span > 0)) return 0;
  const rows = samples.map(({ s }) => {
    const u = (2 * (s - s0)) / span - 1;
    return [1, u, u * u];
  });
  const fit = leastSquares(
    rows,
    samples.map((p) => p.d),
  );
  if (fit === null) return 0;
  const wave = samples.map((p, i) => p.d - rows[i][0] * fit[0] - rows[i][1] * fit[1] - rows[i][2] * fit[2]);
  return Math.ceil(turningPoints(wave, FOLD_DEPTH) / 2);
}

/** Inner extremes whose swings on both sides reach `depth`: the zigzag filter, so noise below `depth` never counts. */
export function turningPoints(values: readonly number[], depth: number): number {
  let count = 0;
  let low = values[0];
  let high = values[0];
  let direction = 0;
  for (const v of values) {
    if (direction >= 0 && v > high) high = v;
    if (direction <= 0 && v < low) low = v;
    const fell = direction >= 0 && high - v >= depth;
    const rose = direction <= 0 && v - low >= depth;
    if (!fell && !rose) continue;
    // The first swing only sets out; every reversal after it passes a turning point.
    if (direction !== 0) count++;
    direction = fell ? -1 : 1;
    if (fell) low = v;
    else high = v;
  }
  return count;
}
