import type { Bag } from '../bag/types.ts';
import type { BagMesh } from './types.ts';
import type { Welded } from './weld.ts';

/**
 * Marks located in the mesh: triangle and barycentric weights. A mark on or a little outside the outline (a curve is cut by its chords)
 * goes to the triangle it is least outside of, with weights clamped to 0..1.
 */
export function locateMarks(bag: Bag, welded: Welded): BagMesh['marks'] {
  const found: BagMesh['marks'][number][] = [];
  bag.panels.forEach((panel, p) => {
    for (const mark of panel.marks) {
      const [x, y] = mark.at;
      let best = -1;
      let least = Number.NEGATIVE_INFINITY;
      let weights: [number, number, number] = [1, 0, 0];
      for (let t = welded.firstTri[p]; t < (welded.firstTri[p + 1] ?? welded.triPanel.length); t++) {
        const f = welded.triFlat;
        const k = 6 * t;
        const area = (f[k + 2] - f[k]) * (f[k + 5] - f[k + 1]) - (f[k + 3] - f[k + 1]) * (f[k + 4] - f[k]);
        const w0 = ((f[k + 2] - x) * (f[k + 5] - y) - (f[k + 3] - y) * (f[k + 4] - x)) / area;
        const w1 = ((f[k + 4] - x) * (f[k + 1] - y) - (f[k + 5] - y) * (f[k] - x)) / area;
        const w2 = 1 - w0 - w1;
        const inside = Math.min(w0, w1, w2);
        if (inside > least) {
          least = inside;
          best = t;
          weights = [w0, w1, w2];
        }
      }
      if (least < 0) {
        const clamped = weights.map((w) => Math.max(0, w));
        const sum = clamped[0] + clamped[1] + clamped[2];
        weights = [clamped[0] / sum, clamped[1] / sum, clamped[2] / sum];
      }
      found.push({ name: mark.name, panel: p, tri: best, weights });
    }
  });
  return found;
}
