import type { Panel, Point2 } from '../bag/types.ts';
import { crossingFraction, insidePolygon } from '../numerics/index.ts';
import { polyline } from '../panels/index.ts';
import type { DraftPanel } from '../panels/types.ts';
import type { SoftBreakpoint } from './breakpoints.ts';

/** Where inner lines run across the outline: places that should be outline vertices. */
export function lineBreakpoints(lines: readonly (readonly Point2[])[], drafted: DraftPanel, p: number): SoftBreakpoint[] {
  const found: SoftBreakpoint[] = [];
  for (const line of lines)
    line.slice(0, -1).forEach((a, i) => {
      const b = line[i + 1];
      drafted.edges.forEach((edge, e) => {
        const points = polyline(edge);
        for (let k = 0; k + 1 < points.length; k++) {
          const t = crossingFraction(points[k], points[k + 1], a, b);
          if (t !== null) found.push({ panel: p, edge: e, at: (k + t) / (points.length - 1) });
        }
      });
    });
  return found;
}

/** Region of a place: the last drawn region that holds it, counted from 1; 0 for none. */
export function regionAt(panel: Panel, x: number, y: number): number {
  for (let r = panel.regions.length - 1; r >= 0; r--) if (insidePolygon([x, y], panel.regions[r].outline)) return r + 1;
  return 0;
}
