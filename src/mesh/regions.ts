import type { Panel, Point2 } from '../bag/types.ts';
import { polyline } from '../panels/outline.ts';
import type { DraftPanel } from '../panels/types.ts';
import type { SoftBreak } from './breaks.ts';
import type { Rim } from './rim.ts';

/** Where region borders run across the outline: places that should be outline vertices. */
export function regionBreaks(panel: Panel, drafted: DraftPanel, p: number): SoftBreak[] {
  const found: SoftBreak[] = [];
  for (const region of panel.regions)
    region.outline.forEach((a, i) => {
      const b = region.outline[(i + 1) % region.outline.length];
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
function crossing(p: Point2, q: Point2, a: Point2, b: Point2): number | null {
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

/** Inner lines of a panel as points and segments: numbers below the rim's count are rim vertices, the rest follow in `points`. */
export interface InnerLines {
  readonly points: number[];
  readonly segments: [number, number][];
}

/**
 * Region borders (and further lines) as chains of segments of about length h inside the panel.
 * Stretches that run along the outline or outside it are dropped; ends near the outline are moved onto its nearest vertex; borders that
 * cross one another get a shared vertex.
 */
export function innerLines(polylines: readonly (readonly Point2[])[], rim: Rim, inside: (x: number, y: number) => boolean, h: number): InnerLines {
  const points: number[] = [];
  const segments: [number, number][] = [];
  const rimCount = rim.place.length;
  const near = 0.35 * h;
  const xy = (v: number): Point2 => (v < rimCount ? [rim.flat[2 * v], rim.flat[2 * v + 1]] : [points[2 * (v - rimCount)], points[2 * (v - rimCount) + 1]]);
  const nearest = (x: number, y: number, reach: number): number => {
    let best = -1;
    let least = reach;
    for (let v = 0; v < rimCount + points.length / 2; v++) {
      const [px, py] = xy(v);
      const d = Math.hypot(px - x, py - y);
      if (d < least) {
        least = d;
        best = v;
      }
    }
    return best;
  };
  const vertexAt = (x: number, y: number): number => {
    const found = nearest(x, y, near);
    if (found >= 0) return found;
    points.push(x, y);
    return rimCount + points.length / 2 - 1;
  };
  const seen = new Set<number>();
  for (const chain of splitAtCrossings(polylines))
    for (let i = 0; i + 1 < chain.length; i++) {
      const [a, b] = [chain[i], chain[i + 1]];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const pieces = Math.max(1, Math.round(length / h));
      let before = -1;
      for (let k = 0; k <= pieces; k++) {
        const x = a[0] + (k / pieces) * (b[0] - a[0]);
        const y = a[1] + (k / pieces) * (b[1] - a[1]);
        const onRim = nearest(x, y, near);
        if (onRim < 0 && !inside(x, y)) {
          before = -1;
          continue;
        }
        const v = onRim >= 0 ? onRim : vertexAt(x, y);
        if (before >= 0 && before !== v) {
          const key = Math.min(before, v) * 1048576 + Math.max(before, v);
          const [p, q] = [xy(before), xy(v)];
          // A piece between two outline vertices that are neighbours is the outline itself.
          if (!seen.has(key) && !neighbours(rim, before, v) && inside((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)) {
            seen.add(key);
            segments.push([before, v]);
          }
        }
        before = v;
      }
    }
  return { points, segments };
}

function neighbours(rim: Rim, a: number, b: number): boolean {
  if (a >= rim.place.length || b >= rim.place.length) return false;
  return rim.loops.some((loop) => {
    const i = loop.indexOf(a);
    return i >= 0 && (loop[(i + 1) % loop.length] === b || loop[(i + loop.length - 1) % loop.length] === b);
  });
}

/** The chains with a point added wherever two of them cross. */
function splitAtCrossings(chains: readonly (readonly Point2[])[]): Point2[][] {
  return chains.map((chain, c) => {
    const out: Point2[] = [];
    for (let i = 0; i + 1 < chain.length; i++) {
      const cuts: number[] = [];
      chains.forEach((other, o) => {
        if (o === c) return;
        for (let k = 0; k + 1 < other.length; k++) {
          const t = crossing(chain[i], chain[i + 1], other[k], other[k + 1]);
          if (t !== null && t > 1e-6 && t < 1 - 1e-6) cuts.push(t);
        }
      });
      out.push(chain[i]);
      for (const t of cuts.sort((p, q) => p - q))
        out.push([chain[i][0] + t * (chain[i + 1][0] - chain[i][0]), chain[i][1] + t * (chain[i + 1][1] - chain[i][1])]);
    }
    out.push(chain[chain.length - 1]);
    return out;
  });
}
