import { curveOf } from '../bag/index.ts';
import type { OutlineEdge, Panel, Point2 } from '../bag/types.ts';
import { libm, meetingPoint, sideOf } from '../numerics/index.ts';
import type { DraftEdge, DraftPanel } from './types.ts';

/**
 * Exact lengths, area and corner angles of one panel.
 * Area by Green's theorem, edge by edge: closed form for lines, arcs and cubics. Holes are taken off whichever way round they are drawn.
 * Throws on a zero-length or NaN edge.
 */
export function draftPanel(panel: Panel): DraftPanel {
  const edges: DraftEdge[] = [];
  const loops: number[][] = [];
  let area = 0;
  const drawn: (readonly OutlineEdge[])[] = [panel.outline, ...panel.holes];
  drawn.forEach((loopEdges, loop) => {
    const curves = loopEdges.map(curveOf);
    const signed = curves.reduce((sum, c) => sum + c.areaTerm, 0);
    const clothOnLeft = loop === 0 ? signed > 0 : signed < 0;
    const first = edges.length;
    const count = loopEdges.length;
    loops.push(loopEdges.map((_, i) => first + i));
    loopEdges.forEach((edge, i) => {
      edges.push({
        name: edge.name,
        edge,
        curve: curves[i],
        length: curves[i].length,
        loop,
        next: first + ((i + 1) % count),
        previous: first + ((i + count - 1) % count),
        clothOnLeft,
      });
    });
    area += loop === 0 ? Math.abs(signed) : -Math.abs(signed);
  });
  const perimeter = loops[0].reduce((sum, e) => sum + edges[e].length, 0);
  const cornerAngle = edges.map((edge) => interiorAngle(edges[edge.previous], edge));
  return { name: panel.name, edges, loops, area, perimeter, bounds: boundsOf(edges.filter((e) => e.loop === 0)), cornerAngle, crossings: findCrossings(edges) };
}

/** Angle of the cloth between two consecutive edges, rad in (0, 2 pi). */
function interiorAngle(before: DraftEdge, after: DraftEdge): number {
  const a = before.curve.tangent(1);
  const b = after.curve.tangent(0);
  const turn = libm.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
  return Math.PI - (after.clothOnLeft ? turn : -turn);
}

/** Most pieces of a polyline. */
const PIECES = 64;
/** A cubic is asked by arc length, which takes an integral a point, and its neighbours ask again and again while they are meshed. */
const drawn = new WeakMap<DraftEdge, readonly Point2[]>();

/** Points along an edge, both ends included; enough of them that a chord strays under 0.1 % of the curve's length. */
export function polyline(edge: DraftEdge): readonly Point2[] {
  const known = drawn.get(edge);
  if (known) return known;
  const count = edge.edge.kind === 'line' ? 1 : Math.min(PIECES, Math.max(8, Math.ceil(Math.abs(edge.curve.turning) * 12)));
  const points = Array.from({ length: count + 1 }, (_, i) => edge.curve.at(i / count));
  drawn.set(edge, points);
  return points;
}

function boundsOf(edges: readonly DraftEdge[]): [number, number, number, number] {
  const box: [number, number, number, number] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const edge of edges)
    for (const [x, y] of polyline(edge)) {
      box[0] = Math.min(box[0], x);
      box[1] = Math.min(box[1], y);
      box[2] = Math.max(box[2], x);
      box[3] = Math.max(box[3], y);
    }
  return box;
}

/** Closer than this two lines of one panel count as touching, m. As in the reading of outlines. */
const TOUCH = 1e-6;

/**
 * Edge pairs that cross or touch anywhere but at the corner they share (outline with itself and with its holes).
 * Curves are tested as polylines of up to 64 pieces: a crossing shallower than about 0.1 % of the edge may be missed.
 */
function findCrossings(edges: readonly DraftEdge[]): [string, string][] {
  const found: [string, string][] = [];
  const pieces = edges.map((e) => polyline(e));
  let size = 0;
  for (const e of edges) size = Math.max(size, e.length);
  const slack = 1e-12 * size * size;
  for (let i = 0; i < edges.length; i++)
    for (let j = i; j < edges.length; j++) {
      const p = pieces[i];
      const q = pieces[j];
      let hit = false;
      for (let s = 0; s + 1 < p.length && !hit; s++)
        for (let t = i === j ? s + 1 : 0; t + 1 < q.length && !hit; t++) {
          // Pieces that follow one another share an end by construction; they only clash when they fold straight back.
          const follows = (i === j && t === s + 1) || (edges[i].next === j && s === p.length - 2 && t === 0);
          const followed = (i === j && s === 0 && t === q.length - 2 && edges[i].next === i) || (edges[j].next === i && t === q.length - 2 && s === 0);
          if (follows && followed) continue;
          if (follows) hit = foldsBack(p[s], p[s + 1], q[t + 1], slack);
          else if (followed) hit = foldsBack(q[t], q[t + 1], p[s + 1], slack);
          else hit = meetingPoint(p[s], p[s + 1], q[t], q[t + 1], TOUCH) !== null;
        }
      if (hit) found.push([edges[i].name, edges[j].name]);
    }
  return found;
}

const foldsBack = (a: Point2, corner: Point2, c: Point2, slack: number): boolean =>
  Math.abs(sideOf(a, corner, c)) <= slack && (corner[0] - a[0]) * (c[0] - corner[0]) + (corner[1] - a[1]) * (c[1] - corner[1]) < 0;
