import type { SupportShape } from '../types.ts';
import { distance } from './shapes.ts';
import type { Span } from './spans.ts';

/** Step of the differences that give curvature, m, at most. */
const STEP = 1e-6;
/** Curvature along a span, over its length, under which its nearest place is no sharp minimum, m. */
const LEVEL = 1e-9;

const plus = new Float64Array(4),
  minus = new Float64Array(4),
  K = new Float64Array(9),
  place = new Float64Array(3),
  rows = [new Float64Array(9), new Float64Array(9)] as const,
  slope = new Float64Array(3);

/** How the shape's normal turns from place to place at p, 1/m: written to K, by differences. */
function curvature(shape: SupportShape, p: Float64Array, d: number): void {
  const h = Math.min(STEP, Math.max(Math.abs(d), 1e-7) / 20);
  for (let c = 0; c < 3; c++) {
    const [x, y, z] = [c === 0 ? h : 0, c === 1 ? h : 0, c === 2 ? h : 0];
    distance(shape, p[0]! + x, p[1]! + y, p[2]! + z, plus);
    distance(shape, p[0]! - x, p[1]! - y, p[2]! - z, minus);
    for (let r = 0; r < 3; r++) K[3 * r + c] = (plus[1 + r]! - minus[1 + r]!) / (2 * h);
  }
}

/**
 * Adds `factor` times the second derivatives (9 x 9) of the least distance along directions of the span to H. w: weights of its nearest place, n: normal there,
 * d: distance; ways: pairs of vertices whose differences span the directions along which the place is free to move (none: it is a vertex). From the envelope of
 * a minimum: d2 = dp.K dp - C^T M^-1 C with c_j = dp.K e_j + n.de_j and M_ij = e_i.K e_j. Derived here.
 */
function addLeast(
  shape: SupportShape,
  x: Float64Array,
  verts: Int32Array,
  w: Float64Array,
  n: Float64Array,
  d: number,
  ways: readonly (readonly [number, number])[],
  factor: number,
  H: Float64Array,
): void {
  for (let k = 0; k < 3; k++) {
    place[k] = 0;
    for (let i = 0; i < 3; i++) place[k] = place[k]! + w[i]! * x[3 * verts[i]! + k]!;
  }
  curvature(shape, place, d);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      for (let r = 0; r < 3; r++)
        for (let c = 0; c < 3; c++) H[9 * (3 * i + r) + 3 * j + c] = H[9 * (3 * i + r) + 3 * j + c]! + factor * w[i]! * w[j]! * K[3 * r + c]!;
  const M = [0, 0, 0, 0];
  for (let q = 0; q < ways.length; q++) {
    const [i, j] = ways[q]!;
    for (let r = 0; r < 3; r++) {
      slope[r] = 0;
      for (let c = 0; c < 3; c++) slope[r] = slope[r]! + K[3 * r + c]! * (x[3 * verts[j]! + c]! - x[3 * verts[i]! + c]!);
    }
    for (let v = 0; v < 3; v++) for (let r = 0; r < 3; r++) rows[q]![3 * v + r] = w[v]! * slope[r]! + ((v === j ? 1 : 0) - (v === i ? 1 : 0)) * n[r]!;
    for (let p = 0; p < ways.length; p++) {
      const [a, b] = ways[p]!;
      M[2 * p + q] = 0;
      for (let r = 0; r < 3; r++) M[2 * p + q]! += slope[r]! * (x[3 * verts[b]! + r]! - x[3 * verts[a]! + r]!);
    }
  }
  if (ways.length === 1) {
    if (M[0]! > LEVEL) addProduct(H, rows[0], rows[0], -factor / M[0]!);
  } else if (ways.length === 2) {
    const det = M[0]! * M[3]! - M[1]! * M[2]!;
    if (M[0]! > LEVEL && M[3]! > LEVEL && det > 1e-9 * M[0]! * M[3]!) {
      addProduct(H, rows[0], rows[0], (-factor * M[3]!) / det);
      addProduct(H, rows[1], rows[1], (-factor * M[0]!) / det);
      addProduct(H, rows[0], rows[1], (factor * M[1]!) / det);
      addProduct(H, rows[1], rows[0], (factor * M[1]!) / det);
    }
  }
}

function addProduct(H: Float64Array, a: Float64Array, b: Float64Array, f: number): void {
  for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) H[9 * i + j] = H[9 * i + j]! + f * a[i]! * b[j]!;
}

const A = new Float64Array(9),
  L = new Float64Array(9);
const NO_WAY = [] as const,
  ALONG = [[0, 1]] as const,
  ACROSS = [
    [0, 1],
    [0, 2],
  ] as const;

/** Derivatives of s(u) b(d) that the Hessian needs, all times the stiffness: see spanForce.ts. */
export interface Weighed {
  /** k s b' - k b s'/R: along the span's own distance. */ readonly own: number;
  /** k b s'/R: along its low place's. */ readonly low: number;
  /** k b' s'/R */ readonly mixed: number;
  /** k b s''/R^2 */ readonly curved: number;
}

/**
 * What the contact energy of `span` adds to the Hessian (9 x 9 over its three vertices) besides k s b'' (dd)(dd)^T and friction, which the caller has. Written to H.
 */
export function spanHessian(shape: SupportShape, x: Float64Array, span: Span, face: boolean, o: Weighed, H: Float64Array): void {
  H.fill(0);
  for (let i = 0; i < 3; i++)
    for (let r = 0; r < 3; r++) {
      A[3 * i + r] = span.weights[i]! * span.n[r]!;
      L[3 * i + r] = span.lowWeights[i]! * span.lowN[r]!;
    }
  addProduct(H, A, L, o.mixed - o.curved);
  addProduct(H, L, A, o.mixed - o.curved);
  addProduct(H, A, A, o.curved - 2 * o.mixed);
  addProduct(H, L, L, o.curved);
  addLeast(shape, x, span.verts, span.weights, span.n, span.d, face ? ACROSS : ALONG, o.own, H);
  if (o.low !== 0) addLeast(shape, x, span.verts, span.lowWeights, span.lowN, span.lowD, face ? ALONG : NO_WAY, o.low, H);
}
