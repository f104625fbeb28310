import type { Point2 } from '../bag/types.ts';
import type { BagMesh } from './types.ts';

/** A flat place in the mesh of its panel. */
export interface Located {
  readonly tri: number;
  /** Barycentric, by corner; none below 0, sum 1. */ readonly weights: readonly [number, number, number];
  /** The least weight before any was clamped: below 0 where no triangle of the panel holds the place. */ readonly inside: number;
}

/**
 * Triangle of a panel that holds a flat place (m), with barycentric weights. A place a little outside the panel (a curved edge is cut by its chords)
 * goes to the triangle it is least outside of, with its weights clamped; `tri` -1 for a panel without triangles.
 */
export function locate({ triPanel, triFlat: f }: Pick<BagMesh, 'triPanel' | 'triFlat'>, panel: number, [x, y]: Point2): Located {
  let tri = -1;
  let inside = Number.NEGATIVE_INFINITY;
  let weights: [number, number, number] = [1, 0, 0];
  for (let t = 0; t < triPanel.length; t++) {
    if (triPanel[t] !== panel) continue;
    const k = 6 * t;
    const area = (f[k + 2] - f[k]) * (f[k + 5] - f[k + 1]) - (f[k + 3] - f[k + 1]) * (f[k + 4] - f[k]);
    const a = ((f[k + 2] - x) * (f[k + 5] - y) - (f[k + 3] - y) * (f[k + 4] - x)) / area;
    const b = ((f[k + 4] - x) * (f[k + 1] - y) - (f[k + 5] - y) * (f[k] - x)) / area;
    const least = Math.min(a, b, 1 - a - b);
    if (least > inside) [tri, inside, weights] = [t, least, [a, b, 1 - a - b]];
  }
  if (inside >= 0) return { tri, weights, inside };
  const clamped = weights.map((w) => Math.max(0, w));
  const sum = clamped[0] + clamped[1] + clamped[2];
  return { tri, weights: [clamped[0] / sum, clamped[1] / sum, clamped[2] / sum], inside };
}
