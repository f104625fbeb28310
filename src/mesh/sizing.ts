import type { Point2 } from '../bag/types.ts';
import { crossingFraction, libm } from '../numerics/index.ts';
import { polyline } from '../panels/index.ts';
import type { Draft, DraftPanel } from '../panels/types.ts';
import type { Breakpoints } from './breakpoints.ts';
import { LINE_SNAP } from './lines.ts';

/** Wanted edge length along one panel edge, sampled at equal arc-length steps, both ends included, m. */
export type EdgeSizes = Float64Array;

/** Samples per edge: two a wanted edge, but enough that a narrow place between two samples cannot be missed on a short edge. */
const samplesFor = (length: number, h: number): number => Math.min(400, Math.max(24, Math.ceil((2 * length) / h)));

/** Growth of edge length per metre of distance from a small feature. */
export const GRADE = 0.35;

/**
 * Wanted vertex spacing along every panel edge: sizes[panel][edge].
 * h, less where the panel is narrow (two triangles across if that leaves edges of 0.4 h, else one), where the outline curves
 * (at most about 0.7 of the radius, so that a corner keeps its shape) and near short stretches and inner lines (1.3 of the gap); small
 * spacings fade out at 0.35 per metre.
 */
export function edgeSizes(draft: Draft, breakpoints: Breakpoints, h: number, lines: readonly (readonly (readonly Point2[])[])[]): EdgeSizes[][] {
  return draft.panels.map((panel, p) => {
    const samples: { x: number; y: number; size: number; edge: number; i: number }[] = [];
    panel.edges.forEach((edge, e) => {
      const count = samplesFor(edge.length, h);
      for (let i = 0; i <= count; i++) {
        const [x, y] = edge.curve.at(i / count);
        const width = widthAt(panel, e, i / count);
        let size = Math.min(h, 0.7 * edge.curve.minRadius);
        size = Math.min(size, width / 2 >= 0.4 * h ? width / 2 : width);
        const gap = gapTo(lines[p], panel, e, i / count, h);
        if (gap > LINE_SNAP * h) size = Math.min(size, 1.3 * gap);
        const list = breakpoints[p][e];
        for (let k = 0; k + 1 < list.length; k++)
          if (i / count >= list[k] - 1e-9 && i / count <= list[k + 1] + 1e-9) size = Math.min(size, (list[k + 1] - list[k]) * edge.length);
        // A cusp is narrow without end; its tip stays one blunt triangle.
        size = Math.max(size, 0.08 * h);
        samples.push({ x, y, size, edge: e, i });
      }
    });
    const small: { readonly x: number; readonly y: number; readonly size: number }[] = samples.filter((s) => s.size < 0.95 * h);
    panel.edges.forEach((edge, e) => {
      const count = samplesFor(edge.length, h);
      const list = breakpoints[p][e];
      // A stretch that lies between two samples.
      for (let k = 0; k + 1 < list.length; k++) {
        if (Math.floor(list[k] * count + 1e-9) < Math.floor(list[k + 1] * count + 1e-9)) continue;
        const [x, y] = edge.curve.at((list[k] + list[k + 1]) / 2);
        small.push({ x, y, size: Math.max(0.08 * h, (list[k + 1] - list[k]) * edge.length) });
      }
    });
    const sizes = panel.edges.map((edge) => new Float64Array(samplesFor(edge.length, h) + 1));
    for (const s of samples) {
      let size = s.size;
      for (const t of small) size = Math.min(size, t.size + GRADE * libm.hypot(s.x - t.x, s.y - t.y));
      sizes[s.edge][s.i] = size;
    }
    return sizes;
  });
}

/**
 * Width of the cloth seen straight in from a place on its edge, m; Infinity when nothing is in the way.
 * Edges that meet this one at less than a right angle do not count: a corner is narrow by nature and has its own triangle.
 */
function widthAt(panel: DraftPanel, e: number, t: number): number {
  const edge = panel.edges[e];
  const inward = edge.clothOnLeft ? 1 : -1;
  const at = Math.min(1 - 1e-6, Math.max(1e-6, t));
  const [x, y] = edge.curve.at(at);
  const [tx, ty] = edge.curve.tangent(at);
  const dx = -ty * inward;
  const dy = tx * inward;
  let width = Number.POSITIVE_INFINITY;
  panel.edges.forEach((other, o) => {
    if (o === e && other.edge.kind === 'line') return;
    if (o === edge.next && panel.cornerAngle[o] < 1.75) return;
    if (o === edge.previous && panel.cornerAngle[e] < 1.75) return;
    const points = polyline(other);
    for (let i = 0; i + 1 < points.length; i++) {
      const px = points[i][0] - x;
      const py = points[i][1] - y;
      const ex = points[i + 1][0] - points[i][0];
      const ey = points[i + 1][1] - points[i][1];
      const det = dx * ey - dy * ex;
      if (Math.abs(det) < 1e-15) continue;
      const along = (px * ey - py * ex) / det;
      const on = (px * dy - py * dx) / det;
      if (along <= 1e-6 * edge.length || on < 0 || on > 1) continue;
      // On a smooth stretch of the same outline the ray meets its own bend at a grazing distance: that is curvature, not width.
      if (o === e && Math.abs((i + on) / (points.length - 1) - at) * edge.length < 1.5 * along) continue;
      width = Math.min(width, along);
    }
  });
  return width;
}

/** Distance straight in to the nearest inner line within h, m; Infinity when there is none. */
function gapTo(lines: readonly (readonly Point2[])[], panel: DraftPanel, e: number, t: number, h: number): number {
  const edge = panel.edges[e];
  const inward = edge.clothOnLeft ? h : -h;
  const [x, y] = edge.curve.at(t);
  const [tx, ty] = edge.curve.tangent(t);
  let gap = Number.POSITIVE_INFINITY;
  for (const line of lines)
    for (let i = 0; i + 1 < line.length; i++) {
      const at = crossingFraction([x, y], [x - ty * inward, y + tx * inward], line[i], line[i + 1]);
      // At 0 the line ends on this very place: it leaves the edge, it does not run along it.
      if (at !== null && at > 0.05) gap = Math.min(gap, at * h);
    }
  return gap;
}

/** Size at arc-length fraction t of an edge. */
export function sizeAt(sizes: EdgeSizes, t: number): number {
  const u = Math.min(1, Math.max(0, t)) * (sizes.length - 1);
  const i = Math.min(sizes.length - 2, Math.floor(u));
  return sizes[i] + (u - i) * (sizes[i + 1] - sizes[i]);
}
