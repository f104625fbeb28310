import { libm } from '../../../numerics/index.ts';
import type { Model, SupportShape } from '../../types.ts';
import { edgesOf, type SheetEdges } from '../cloth/edges.ts';
import { distance } from '../support/shapes.ts';
import { createNearest, nearestOfFace, nearestOnSegment, type Seek } from './span-nearest.ts';

/**
 * What lies between the sheet's points: edges 0 .. E-1, then faces. A convex shape with an edge, a corner or a curve of its own reaches between points; a plane
 * does not. Working storage, mutated freely.
 */
export interface Spans extends SheetEdges {
  readonly model: Model;
  /** Longer than any edge gets, m: twice the longest at rest. */ readonly apart: number;
  /** What the bulge alone makes of a flat, m at most: a shape that comes no nearer than this over a span's ends is the points'. */ readonly flat: number;
  /** n: distance of each point; see usePoints. */ points: Float64Array;
}

/** One edge or face and its nearest place, over the vertices `verts` (edges: the third has no share). Mutable. */
export interface Span {
  /** Number among edges and faces. */ id: number;
  /** 2: an edge; 3: a face. */ corners: number;
  readonly verts: Int32Array;
  readonly weights: Float64Array;
  /** What was sought there, m: signed distance and bulge. */ d: number;
  /** The shape's outward normal. */ readonly n: Float64Array;
  /** true: the shape reaches between the span's ends (edge) or sides (face), by `over`, m, more than flats do. */ between: boolean;
  over: number;
  /** What was sought at its nearest end (edge) or side (face), m, and the normal there. */ lowD: number;
  readonly lowWeights: Float64Array;
  readonly lowN: Float64Array;
  /** 1/m, and shares of the vertices in the middle that it is counted from. */ bulge: number;
  readonly middle: Float64Array;
}

/**
 * Bulge of flats where forces are asked for, 1/m: a radius of 2 m, which makes distances on a mesh of 20 mm up to 0.025 mm larger. Without it cloth that lies across
 * a thin thing touches one of its rims or the other, no state between is at rest, and steps shrink to nothing (a hung tote with a tablet, residual 160).
 */
const BULGE = 0.5;

export function createSpans(model: Model): Spans {
  let longest = 0;
  for (let q = 0; q < model.triRest.length; q += 6)
    for (let k = 0; k < 3; k++) {
      const [i, j] = [q + 2 * k, q + 2 * ((k + 1) % 3)];
      longest = Math.max(longest, libm.hypot(model.triRest[j]! - model.triRest[i]!, model.triRest[j + 1]! - model.triRest[i + 1]!));
    }
  return { ...edgesOf(model), model, apart: 2 * longest, flat: (BULGE / 8) * libm.square(longest), points: new Float64Array(model.vertexCount) };
}

const f3 = () => new Float64Array(3);

export const createSpan = (): Span => ({
  id: 0,
  corners: 2,
  verts: new Int32Array(3),
  weights: f3(),
  d: 0,
  n: f3(),
  between: false,
  over: 0,
  lowD: 0,
  lowWeights: f3(),
  lowN: f3(),
  bulge: 0,
  middle: f3(),
});

/** A hair over 1/sqrt(3). */
const CORNER = 0.578;

const out4 = new Float64Array(4),
  found = createNearest(),
  rim = createNearest(),
  P = new Float64Array(9),
  seek: Seek = { shape: { kind: 'sphere', centre: [0, 0, 0], radius: 0 }, bulge: 0, middle: f3() };

/** Takes the points' distances (n) from the shape that edgeSpan and faceSpan are asked about next; false where all of the sheet is further than `reach`. Mutates spans. */
export function usePoints(spans: Spans, distances: Float64Array, reach: number): boolean {
  spans.points = distances;
  let least = Number.POSITIVE_INFINITY;
  for (let v = 0; v < spans.inSheet.length; v++) if (spans.inSheet[v] && !(distances[v]! >= least)) least = distances[v]!;
  // Distances change by no more than the way gone, and no place is further than an edge from a point.
  return !(least >= reach + spans.apart);
}

/** Length between two vertices. */
const apart = (x: Float64Array, a: number, b: number): number => {
  const u = x[3 * b]! - x[3 * a]!,
    v = x[3 * b + 1]! - x[3 * a + 1]!,
    w = x[3 * b + 2]! - x[3 * a + 2]!;
  return Math.sqrt(u * u + v * v + w * w);
};

/** Edge e of x if it comes nearer than `reach`; false where it does not. Fills `span`. */
function edgeSpan(spans: Spans, shape: SupportShape, x: Float64Array, e: number, reach: number, span: Span): boolean {
  const a = spans.edges[2 * e]!,
    b = spans.edges[2 * e + 1]!;
  if (spans.points[a]! + spans.points[b]! - apart(x, a, b) >= 2 * reach) return false;
  seek.shape = shape;
  seek.bulge = BULGE;
  for (let k = 0; k < 3; k++) {
    P[k] = x[3 * a + k]!;
    P[3 + k] = x[3 * b + k]!;
    seek.middle[k] = (P[k]! + P[3 + k]!) / 2;
  }
  nearestOnSegment(seek, P, found);
  if (found.d >= reach) return false;
  span.id = e;
  span.corners = 2;
  span.verts[0] = a;
  span.verts[1] = b;
  span.verts[2] = a;
  span.weights[0] = 1 - found.t;
  span.weights[1] = found.t;
  span.weights[2] = 0;
  span.d = found.d;
  span.n.set(found.n);
  span.between = found.t > 0 && found.t < 1;
  span.bulge = BULGE;
  span.middle[0] = span.middle[1] = 0.5;
  span.middle[2] = 0;
  if (!span.between) return true;
  // Both ends lie as far from the middle: the nearer one is the lower.
  const low = spans.points[a]! <= spans.points[b]! ? 0 : 1,
    v = 3 * span.verts[low]!;
  distance(shape, x[v]!, x[v + 1]!, x[v + 2]!, out4);
  span.lowD = out4[0]! + (BULGE / 8) * libm.square(apart(x, a, b));
  span.over = span.lowD - span.d - spans.flat;
  span.between = span.over > 0;
  span.lowWeights[0] = 1 - low;
  span.lowWeights[1] = low;
  span.lowWeights[2] = 0;
  for (let k = 0; k < 3; k++) span.lowN[k] = out4[1 + k]!;
  return true;
}

/**
 * Face f of x if it comes nearer than `reach`; false where it does not. Fills `span`, its vertices the ends of the nearest side and the corner opposite. bulge: 0 for
 * the distance itself, which steps are cut by.
 */
export function faceSpan(spans: Spans, shape: SupportShape, x: Float64Array, f: number, reach: number, bulge: number, span: Span): boolean {
  const { model, points } = spans,
    tri = model.triVerts,
    a = tri[3 * f]!,
    b = tri[3 * f + 1]!,
    c = tri[3 * f + 2]!,
    near = Math.min(points[a]!, points[b]!, points[c]!) - reach,
    far = Math.max(points[a]!, points[b]!, points[c]!) - reach,
    side = Math.max(apart(x, a, b), apart(x, b, c), apart(x, c, a));
  // No place of a triangle is further than its longest side from any corner, or than that over the root of three from the nearest.
  if (far >= side || near >= CORNER * side) return false;
  seek.shape = shape;
  seek.bulge = bulge;
  for (let k = 0; k < 3; k++) {
    P[k] = x[3 * a + k]!;
    P[3 + k] = x[3 * b + k]!;
    P[6 + k] = x[3 * c + k]!;
    seek.middle[k] = (P[k]! + P[3 + k]! + P[6 + k]!) / 3;
  }
  const opposite = nearestOfFace(seek, P, rim, found);
  if (found.d >= reach) return false;
  span.id = spans.edges.length / 2 + f;
  span.corners = 3;
  for (let k = 0; k < 3; k++) span.verts[k] = tri[3 * f + ((opposite + 1 + k) % 3)]!;
  span.lowD = rim.d;
  span.lowN.set(rim.n);
  span.lowWeights[0] = 1 - rim.t;
  span.lowWeights[1] = rim.t;
  span.lowWeights[2] = 0;
  span.d = found.d;
  span.n.set(found.n);
  span.weights[0] = (1 - found.s) * (1 - found.t);
  span.weights[1] = (1 - found.s) * found.t;
  span.weights[2] = found.s;
  span.over = span.lowD - span.d - spans.flat;
  span.between = found.inside && span.over > 0;
  span.bulge = bulge;
  span.middle.fill(1 / 3);
  return true;
}

/** Number `id` of edges and faces, if it comes nearer than `reach` between its ends or sides; false where it does not. Fills `span`. */
export function spanBetween(spans: Spans, shape: SupportShape, x: Float64Array, id: number, reach: number, span: Span): boolean {
  const E = spans.edges.length / 2;
  return (id < E ? edgeSpan(spans, shape, x, id, reach, span) : faceSpan(spans, shape, x, id - E, reach, BULGE, span)) && span.between;
}

/** How many edges and faces there are. */
export const spanCount = ({ edges, model }: Spans): number => edges.length / 2 + model.triVerts.length / 3;

/** Mean over the span's vertices of what each has in `values` (n). */
export function meanOver({ corners, verts }: Span, values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < corners; i++) sum += values[verts[i]!]!;
  return sum / corners;
}

/** How what was sought changes with each vertex at a place of weights w and normal n: w n and the bulge's w - middle times the way from the middle. Written to out (9). */
export function gradientAt(span: Span, x: Float64Array, w: Float64Array, n: Float64Array, out: Float64Array): void {
  for (let k = 0; k < 3; k++) {
    let way = 0;
    for (let i = 0; i < 3; i++) way += (w[i]! - span.middle[i]!) * x[3 * span.verts[i]! + k]!;
    for (let i = 0; i < 3; i++) out[3 * i + k] = w[i]! * n[k]! + span.bulge * (w[i]! - span.middle[i]!) * way;
  }
}
