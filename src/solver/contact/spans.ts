import type { Model, SupportShape } from '../types.ts';
import { edgesOf, type SheetEdges } from './edges.ts';
import { distance } from './shapes.ts';
import { createNearest, nearestInFace, nearestOnSegment } from './spanNearest.ts';

/**
 * What lies between the sheet's points: edges 0 .. E-1, then faces. A convex shape with an edge, a corner or a curve of its own reaches between points; a plane
 * does not. Working storage, mutated freely.
 */
export interface Spans extends SheetEdges {
  readonly model: Model;
  /** Longer than any edge gets, m: twice the longest at rest. */ readonly apart: number;
  /** 4n: distance and normal of each point. */ readonly points: Float64Array;
  /** 5E: distance, normal and place of each edge's nearest point, where `asked` says so. */ readonly nearest: Float64Array;
  readonly asked: Uint8Array;
}

/** One edge or face and its nearest point to a shape, over the vertices `verts` (edges: the third has no share). Mutable. */
export interface Span {
  /** Number among edges and faces. */ id: number;
  readonly verts: Int32Array;
  readonly weights: Float64Array;
  /** Signed distance, m, and the shape's outward normal there. */ d: number;
  readonly n: Float64Array;
  /** true: the nearest point is no end (edge) or lies on no side (face): the shape reaches between them. */ between: boolean;
  /** The same of its nearest end (edge) or side (face). */ lowD: number;
  readonly lowWeights: Float64Array;
  readonly lowN: Float64Array;
}

export function createSpans(model: Model): Spans {
  const sheet = edgesOf(model),
    E = sheet.edges.length / 2;
  let longest = 0;
  for (let q = 0; q < model.triRest.length; q += 6)
    for (let k = 0; k < 3; k++) {
      const [i, j] = [q + 2 * k, q + 2 * ((k + 1) % 3)];
      longest = Math.max(longest, Math.hypot(model.triRest[j]! - model.triRest[i]!, model.triRest[j + 1]! - model.triRest[i + 1]!));
    }
  return {
    ...sheet,
    model,
    apart: 2 * longest,
    points: new Float64Array(4 * model.vertexCount),
    nearest: new Float64Array(5 * E),
    asked: new Uint8Array(E),
  };
}

export const createSpan = (): Span => ({
  id: 0,
  verts: new Int32Array(3),
  weights: new Float64Array(3),
  d: 0,
  n: new Float64Array(3),
  between: false,
  lowD: 0,
  lowWeights: new Float64Array(3),
  lowN: new Float64Array(3),
});

/** Falling off inward by less than this over a face's height, m, counts as level. */
const FLAT = 1e-9;

const out4 = new Float64Array(4),
  found = createNearest(),
  P = new Float64Array(9);

/**
 * Distances of the sheet's points at x (3n) to a shape: call before edgeSpan and faceSpan. false where all of the sheet is further than `reach`. Mutates spans.
 */
export function measurePoints(spans: Spans, shape: SupportShape, x: Float64Array, reach: number): boolean {
  const { points, inSheet, asked } = spans;
  let least = Number.POSITIVE_INFINITY;
  for (let v = 0; v < inSheet.length; v++) {
    if (!inSheet[v]) continue;
    distance(shape, x[3 * v]!, x[3 * v + 1]!, x[3 * v + 2]!, out4);
    points.set(out4, 4 * v);
    if (!(out4[0]! >= least)) least = out4[0]!;
  }
  asked.fill(0);
  // Distances change by no more than the way gone, and no place is further than an edge from a point.
  return !(least >= reach + spans.apart);
}

/** Slope of the distance from vertex a toward vertex b. */
function slopeAt(points: Float64Array, x: Float64Array, a: number, b: number): number {
  const q = 4 * a;
  return points[q + 1]! * (x[3 * b]! - x[3 * a]!) + points[q + 2]! * (x[3 * b + 1]! - x[3 * a + 1]!) + points[q + 3]! * (x[3 * b + 2]! - x[3 * a + 2]!);
}

/** Finds edge e's nearest point, if that was not done at these x. */
function askEdge(spans: Spans, shape: SupportShape, x: Float64Array, e: number): void {
  const { edges, points, nearest, asked } = spans;
  if (asked[e]) return;
  asked[e] = 1;
  const a = edges[2 * e]!,
    b = edges[2 * e + 1]!,
    fa = slopeAt(points, x, a, b),
    fb = -slopeAt(points, x, b, a),
    q = 5 * e;
  if (fa < 0 && fb > 0) {
    for (let k = 0; k < 3; k++) {
      P[k] = x[3 * a + k]!;
      P[3 + k] = x[3 * b + k]!;
    }
    nearestOnSegment(shape, P, fa, fb, found);
    nearest[q] = found.d;
    nearest.set(found.n, q + 1);
    nearest[q + 4] = found.t;
    return;
  }
  const end = fa < 0 ? 1 : 0,
    p = 4 * (end ? b : a);
  for (let k = 0; k < 4; k++) nearest[q + k] = points[p + k]!;
  nearest[q + 4] = end;
}

/** Length between two vertices. */
const apart = (x: Float64Array, a: number, b: number): number => {
  const u = x[3 * b]! - x[3 * a]!,
    v = x[3 * b + 1]! - x[3 * a + 1]!,
    w = x[3 * b + 2]! - x[3 * a + 2]!;
  return Math.sqrt(u * u + v * v + w * w);
};

/** Edge e of x if it comes nearer than `reach`; false where it does not. Fills `span`. */
export function edgeSpan(spans: Spans, shape: SupportShape, x: Float64Array, e: number, reach: number, span: Span): boolean {
  const { edges, points, nearest } = spans,
    a = edges[2 * e]!,
    b = edges[2 * e + 1]!,
    da = points[4 * a]!,
    db = points[4 * b]!;
  // Distances change by no more than the way gone.
  if (da + db - apart(x, a, b) >= 2 * reach) return false;
  askEdge(spans, shape, x, e);
  const q = 5 * e,
    t = nearest[q + 4]!;
  if (nearest[q]! >= reach) return false;
  span.id = e;
  span.verts[0] = a;
  span.verts[1] = b;
  span.verts[2] = a;
  span.weights[0] = 1 - t;
  span.weights[1] = t;
  span.weights[2] = 0;
  span.d = nearest[q]!;
  for (let k = 0; k < 3; k++) span.n[k] = nearest[q + 1 + k]!;
  span.between = t > 0 && t < 1;
  const low = da <= db ? 0 : 1;
  span.lowD = low ? db : da;
  span.lowWeights[0] = 1 - low;
  span.lowWeights[1] = low;
  span.lowWeights[2] = 0;
  for (let k = 0; k < 3; k++) span.lowN[k] = points[4 * (low ? b : a) + 1 + k]!;
  return true;
}

/** Face f of x if it comes nearer than `reach`; false where it does not. Fills `span`, its vertices the ends of the nearest side and the corner opposite. */
export function faceSpan(spans: Spans, shape: SupportShape, x: Float64Array, f: number, reach: number, span: Span): boolean {
  const { model, edges, sides, points, nearest } = spans,
    tri = model.triVerts,
    a = tri[3 * f]!,
    b = tri[3 * f + 1]!,
    c = tri[3 * f + 2]!,
    far = Math.max(points[4 * a]!, points[4 * b]!, points[4 * c]!);
  if (far - reach >= 0 && far - reach >= Math.max(apart(x, a, b), apart(x, b, c), apart(x, c, a))) return false;
  let side = 0;
  for (let k = 0; k < 3; k++) {
    askEdge(spans, shape, x, sides[3 * f + k]!);
    if (nearest[5 * sides[3 * f + k]!]! < nearest[5 * sides[3 * f + side]!]!) side = k;
  }
  const e = sides[3 * f + side]!,
    q = 5 * e,
    t = nearest[q + 4]!,
    i = edges[2 * e]!,
    j = edges[2 * e + 1]!,
    o = tri[3 * f + side]!;
  span.id = edges.length / 2 + f;
  span.verts[0] = i;
  span.verts[1] = j;
  span.verts[2] = o;
  span.lowD = nearest[q]!;
  span.lowWeights[0] = 1 - t;
  span.lowWeights[1] = t;
  span.lowWeights[2] = 0;
  for (let k = 0; k < 3; k++) {
    span.lowN[k] = nearest[q + 1 + k]!;
    P[k] = x[3 * i + k]!;
    P[3 + k] = x[3 * j + k]!;
    P[6 + k] = x[3 * o + k]!;
  }
  let slope = 0;
  for (let k = 0; k < 3; k++) slope += span.lowN[k]! * (P[6 + k]! - P[k]! - t * (P[3 + k]! - P[k]!));
  // Convex: unless it falls off inward from the nearest side, nothing inside is nearer.
  span.between = t > 0 && t < 1 && slope < -FLAT;
  if (!span.between) {
    span.d = span.lowD;
    span.n.set(span.lowN);
    span.weights.set(span.lowWeights);
    return span.d < reach;
  }
  nearestInFace(shape, P, slope, found);
  span.d = found.d;
  span.n.set(found.n);
  span.weights[0] = (1 - found.s) * (1 - found.t);
  span.weights[1] = (1 - found.s) * found.t;
  span.weights[2] = found.s;
  return span.d < reach;
}
