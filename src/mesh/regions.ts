import type { Panel, Point2 } from '../bag/types.ts';
import { polyline } from '../panels/index.ts';
import type { DraftPanel } from '../panels/types.ts';
import type { SoftBreak } from './breakpoints.ts';

/** Where inner lines run across the outline: places that should be outline vertices. */
export function lineBreaks(lines: readonly (readonly Point2[])[], drafted: DraftPanel, p: number): SoftBreak[] {
  const found: SoftBreak[] = [];
  for (const line of lines)
    line.slice(0, -1).forEach((a, i) => {
      const b = line[i + 1];
      drafted.edges.forEach((edge, e) => {
        const points = polyline(edge);
        for (let k = 0; k + 1 < points.length; k++) {
          const t = crossing(points[k], points[k + 1], a, b);
          if (t !== null) found.push({ panel: p, edge: e, at: (k + t) / (points.length - 1) });
        }
      });
    });
  return found;
}

/** Fraction along pq where segment ab meets it (ends count, with a hair of reach); null when it does not or runs along it. */
export function crossing(p: Point2, q: Point2, a: Point2, b: Point2): number | null {
  const ex = q[0] - p[0];
  const ey = q[1] - p[1];
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const det = ex * dy - ey * dx;
  if (Math.abs(det) <= 1e-9 * Math.hypot(ex, ey) * Math.hypot(dx, dy)) return null;
  const t = ((a[0] - p[0]) * dy - (a[1] - p[1]) * dx) / det;
  const s = ((a[0] - p[0]) * ey - (a[1] - p[1]) * ex) / det;
  const reach = 1e-6 / Math.hypot(dx, dy);
  return t >= -1e-9 && t <= 1 + 1e-9 && s >= -reach && s <= 1 + reach ? Math.min(1, Math.max(0, t)) : null;
}

/** Region of a place: the last drawn region that holds it, counted from 1; 0 for none. */
export function regionAt(panel: Panel, x: number, y: number): number {
  for (let r = panel.regions.length - 1; r >= 0; r--) if (inPolygon(panel.regions[r].outline, x, y)) return r + 1;
  return 0;
}

function inPolygon(outline: readonly Point2[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [xi, yi] = outline[i];
    const [xj, yj] = outline[j];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}
