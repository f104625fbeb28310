import type { Stage } from '../view/stage.ts';

type V3 = readonly [number, number, number];

/** How near to a mesh point the pointer must come down to take hold of it, px. */
const NEAR = 26;

/** The mesh point under the pointer, of those near it the one nearest to the viewer; null beside the bag. Parameters: px from the mat's left (of the bay) and top. */
export function pointAt(stage: Stage, bay: number, x: Float32Array, left: number, top: number): number | null {
  const { turn } = stage.camera;
  let [found, nearest] = [null as number | null, Number.POSITIVE_INFINITY];
  for (let v = 0; 3 * v < x.length; v++) {
    const p: V3 = [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
    const at = stage.project(bay, p);
    if (!at || Math.hypot(at[0] - left, at[1] - top) > NEAR) continue;
    const depth = Math.sin(turn) * p[0] + Math.cos(turn) * p[1];
    // Of points at nearly one depth the one under the pointer.
    const score = depth + 0.001 * Math.hypot(at[0] - left, at[1] - top);
    if (score < nearest) [found, nearest] = [v, score];
  }
  return found;
}

/** A move by what the viewer sees as right, up and away, m, in world axes: the picture plane stays upright (view/projection.ts). */
export function viewed(turn: number, right: number, up: number, away: number): V3 {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [c * right + s * away, -s * right + c * away, up];
}

/** The other way round: a move in world axes as the viewer sees it, right, up and away, m. */
export function asViewed(turn: number, [x, y, z]: V3): V3 {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [c * x - s * y, z, s * x + c * y];
}
