import type { Point2 } from '../bag/types.ts';
import { crossingFraction, distanceToSegment, libm } from '../numerics/index.ts';
import { type SizeField, sizeField } from './field.ts';
import type { Rim } from './rim.ts';

/** Inner lines of a panel as points and segments: numbers below the rim's count are rim vertices, the rest follow in `points`. */
export interface InnerLines {
  readonly points: number[];
  readonly segments: [number, number][];
  /** Per segment: the polyline it is of; where two run together the earlier one. */ readonly source: number[];
}

/** A line nearer to the outline than this, in edge lengths, becomes the outline; so do its ends. */
export const LINE_SNAP = 0.4;

/**
 * Region borders and other lines as chains of segments of about length h inside the panel; `graded`: shorter where they come to a finely cut outline.
 * Each line is cut where it meets the outline or another line; a cut is a vertex (on the outline: its nearest vertex, which findBreakpoints has put
 * there). Stretches outside, or nearer to the outline than LINE_SNAP h all along, are dropped; places nearer than that to a vertex are that vertex.
 */
export function innerLines(
  polylines: readonly (readonly Point2[])[],
  rim: Rim,
  inside: (x: number, y: number) => boolean,
  h: number,
  graded = false,
): InnerLines {
  const points: number[] = [];
  const segments: [number, number][] = [];
  const source: number[] = [];
  const rimCount = rim.place.length;
  const near = LINE_SNAP * h;
  const field = graded ? sizeField(rim.flat, rim.loops, h) : { h, graded, at: () => h };
  const outline = rim.loops.map((loop) => [...loop, loop[0]].map((v): Point2 => [rim.flat[2 * v], rim.flat[2 * v + 1]]));
  const xy = (v: number): Point2 => (v < rimCount ? [rim.flat[2 * v], rim.flat[2 * v + 1]] : [points[2 * (v - rimCount)], points[2 * (v - rimCount) + 1]]);
  const nearest = (x: number, y: number, reach: number, to: number): number => {
    let best = -1;
    let least = reach;
    for (let v = 0; v < to; v++) {
      const [px, py] = xy(v);
      const d = libm.hypot(px - x, py - y);
      if (d < least) {
        least = d;
        best = v;
      }
    }
    return best;
  };
  const toOutline = (p: Point2): number =>
    Math.min(...outline.map((loop) => loop.slice(1).reduce((least, b, i) => Math.min(least, distanceToSegment(p, loop[i], b)), Number.POSITIVE_INFINITY)));
  const vertexAt = (p: Point2): number => {
    // On or near the outline: its nearest vertex, however far along that is; else a vertex already there; else a new one.
    const reach = field.graded ? LINE_SNAP * field.at(p[0], p[1]) : near;
    if (toOutline(p) < reach) return nearest(p[0], p[1], 2 * h, rimCount);
    const found = nearest(p[0], p[1], reach, rimCount + points.length / 2);
    if (found >= 0) return found;
    points.push(p[0], p[1]);
    return rimCount + points.length / 2 - 1;
  };
  const seen = new Set<number>();
  const link = (a: number, b: number, of: number): void => {
    if (a < 0 || b < 0 || a === b || neighbours(rim, a, b)) return;
    const key = Math.min(a, b) * 1048576 + Math.max(a, b);
    const [p, q] = [xy(a), xy(b)];
    if (seen.has(key) || !inside((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)) return;
    seen.add(key);
    segments.push([a, b]);
    source.push(of);
  };
  cutUp(polylines, outline).forEach((chain, of) => {
    for (let i = 0; i + 1 < chain.length; i++) {
      const [a, b] = [chain[i], chain[i + 1]];
      const length = libm.hypot(b[0] - a[0], b[1] - a[1]);
      const middle: Point2 = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      if (length < 1e-9 || !inside(middle[0], middle[1]) || Math.max(toOutline(middle), toOutline(a), toOutline(b)) < near) continue;
      const places = placesAlong(a, b, length, field);
      const pieces = places.length - 1;
      let before = -1;
      for (const w of places) {
        const v = vertexAt([a[0] + w * (b[0] - a[0]), a[1] + w * (b[1] - a[1])]);
        // From one outline vertex to another the line runs along the outline, or so near that it is taken for it.
        if (before >= rimCount || v >= rimCount || pieces === 1) link(before, v, of);
        before = v;
      }
    }
  });
  return { points, segments, source };
}

/** Fractions along a stretch, 0 and 1 included, at equal steps of the density 1 / wanted size. */
function placesAlong(a: Point2, b: Point2, length: number, field: SizeField): number[] {
  const even = Math.max(1, Math.round(length / field.h));
  const samples = Math.max(16, 8 * even);
  const sum = [0];
  for (let i = 0; i < samples && field.graded; i++) {
    const w = (i + 0.5) / samples;
    sum.push(sum[i] + length / samples / field.at(a[0] + w * (b[0] - a[0]), a[1] + w * (b[1] - a[1])));
  }
  const total = sum[sum.length - 1];
  if (total <= (length / field.h) * (1 + 1e-9)) return Array.from({ length: even + 1 }, (_, k) => k / even);
  const pieces = Math.max(1, Math.round(total));
  let i = 0;
  return Array.from({ length: pieces + 1 }, (_, k) => {
    if (k === 0 || k === pieces) return k / pieces;
    const target = (k * total) / pieces;
    while (sum[i + 1] < target) i++;
    return (i + (target - sum[i]) / (sum[i + 1] - sum[i])) / samples;
  });
}

function neighbours(rim: Rim, a: number, b: number): boolean {
  if (a >= rim.place.length || b >= rim.place.length) return false;
  return rim.loops.some((loop) => {
    const i = loop.indexOf(a);
    return i >= 0 && (loop[(i + 1) % loop.length] === b || loop[(i + loop.length - 1) % loop.length] === b);
  });
}

/** The lines with a point added wherever one meets the outline or another line. */
function cutUp(lines: readonly (readonly Point2[])[], outline: readonly (readonly Point2[])[]): Point2[][] {
  return lines.map((chain, c) => {
    const others = [...outline, ...lines.filter((_, o) => o !== c)];
    const out: Point2[] = [];
    for (let i = 0; i + 1 < chain.length; i++) {
      const [a, b] = [chain[i], chain[i + 1]];
      const cuts: number[] = [];
      for (const other of others)
        for (let k = 0; k + 1 < other.length; k++) {
          const t = crossingFraction(a, b, other[k], other[k + 1]);
          if (t !== null && t > 1e-6 && t < 1 - 1e-6) cuts.push(t);
        }
      out.push(a);
      for (const t of cuts.sort((p, q) => p - q)) out.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
    out.push(chain[chain.length - 1]);
    return out;
  });
}
