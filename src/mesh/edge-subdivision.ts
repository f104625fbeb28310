import { libm } from '../numerics/index.ts';
import type { SeamStretches } from '../panels/index.ts';
import type { Draft } from '../panels/types.ts';
import type { Breakpoints } from './breakpoints.ts';
import { type EdgeSizes, sizeAt } from './sizing.ts';

const SAMPLES = 64;

/**
 * For every seam stretch, the fractions 0 < f < 1 of its inner vertices, the same for all its members.
 * Equal steps of the density 1/size. Members of different length (a gather) count by the geometric mean of their lengths, so that
 * neither side's edges are far from h; a narrow place on any member refines all of them.
 */
export function subdivideEdges(draft: Draft, breakpoints: Breakpoints, seamStretches: SeamStretches, sizes: EdgeSizes[][], h: number): Float64Array[] {
  return seamStretches.list.map((stretch) => {
    let logLength = 0;
    for (const m of stretch.members) {
      const list = breakpoints[m.panel][m.edge];
      logLength += libm.log((list[m.interval + 1] - list[m.interval]) * draft.panels[m.panel].edges[m.edge].length) / stretch.members.length;
    }
    const length = libm.exp(logLength);
    const cumulative = new Float64Array(SAMPLES + 1);
    for (let k = 0; k < SAMPLES; k++) {
      const f = (k + 0.5) / SAMPLES;
      let size = h;
      for (const m of stretch.members) {
        const list = breakpoints[m.panel][m.edge];
        const w = m.forward ? f : 1 - f;
        size = Math.min(size, sizeAt(sizes[m.panel][m.edge], list[m.interval] + w * (list[m.interval + 1] - list[m.interval])));
      }
      cumulative[k + 1] = cumulative[k] + length / size / SAMPLES;
    }
    const total = cumulative[SAMPLES];
    // Rounding down from 1.5 would leave an edge half again too long; sizes of 1.35 h and up get two.
    const count = Math.max(1, Math.round(total + 0.1));
    const inner = new Float64Array(count - 1);
    const even = total * (1 - 1e-9) <= length / h;
    for (let i = 1, k = 0; i < count; i++) {
      const target = (i * total) / count;
      while (cumulative[k + 1] < target) k++;
      inner[i - 1] = even ? i / count : (k + (target - cumulative[k]) / (cumulative[k + 1] - cumulative[k])) / SAMPLES;
    }
    return inner;
  });
}
