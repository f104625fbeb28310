import type { SupportShape } from '../../types.ts';
import { distance } from '../support/shapes.ts';
import { weighted } from './span-law.ts';
import { gradientAt, type Span } from './spans.ts';

/** Step of the differences that give curvature, m, at most. */
const STEP = 1e-6;

const plus = new Float64Array(4),
  minus = new Float64Array(4),
  K = new Float64Array(9),
  place = new Float64Array(3),
  way = new Float64Array(3),
  bent = new Float64Array(3),
  M = new Float64Array(4),
  along = new Float64Array(6),
  rows = [new Float64Array(9), new Float64Array(9)] as const;

/** How the shape's normal turns from place to place at p, 1/m: written to K, by differences. d: distance there, m. */
function curvature(shape: SupportShape, p: Float64Array, d: number): void {
  const h = Math.min(STEP, Math.max(Math.abs(d), 1e-7) / 20);
  for (let c = 0; c < 3; c++) {
    const x = c === 0 ? h : 0,
      y = c === 1 ? h : 0,
      z = c === 2 ? h : 0;
    distance(shape, p[0]! + x, p[1]! + y, p[2]! + z, plus);
    distance(shape, p[0]! - x, p[1]! - y, p[2]! - z, minus);
    for (let r = 0; r < 3; r++) K[3 * r + c] = (plus[1 + r]! - minus[1 + r]!) / (2 * h);
  }
}

/**
 * Adds `factor` times the second derivatives (9 x 9) of the least of what was sought to H. w: weights of the place, n: normal there, d: distance; free: along how
 * many of the span's directions the place may move (0: it is a vertex; 1: on the first side; 2: in the face). From the envelope of a minimum, with p the place,
 * m the middle and b the bulge: d2 = dp.K dp + b |dp - dm|^2 - C^T M^-1 C, c_j = dp.K e_j + n.de_j + b [(dp - dm).e_j + (p - m).de_j], M_ij = e_i.(K + b) e_j.
 * Derived here.
 */
function addLeast(
  shape: SupportShape,
  x: Float64Array,
  span: Span,
  w: Float64Array,
  n: Float64Array,
  d: number,
  free: 0 | 1 | 2,
  factor: number,
  H: Float64Array,
): void {
  const { verts, middle, bulge } = span;
  for (let k = 0; k < 3; k++) {
    place[k] = way[k] = 0;
    for (let i = 0; i < 3; i++) {
      place[k] = place[k]! + w[i]! * x[3 * verts[i]! + k]!;
      way[k] = way[k]! + (w[i]! - middle[i]!) * x[3 * verts[i]! + k]!;
    }
  }
  curvature(shape, place, d);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const f = factor * w[i]! * w[j]!,
        b = factor * bulge * (w[i]! - middle[i]!) * (w[j]! - middle[j]!);
      for (let r = 0; r < 3; r++)
        for (let c = 0; c < 3; c++) H[9 * (3 * i + r) + 3 * j + c] = H[9 * (3 * i + r) + 3 * j + c]! + f * K[3 * r + c]! + (r === c ? b : 0);
    }
  M.fill(0);
  // Directions run from the first vertex to the second and to the third.
  for (let q = 0; q < 2; q++) for (let r = 0; r < 3; r++) along[3 * q + r] = x[3 * verts[q + 1]! + r]! - x[3 * verts[0]! + r]!;
  for (let q = 0; q < free; q++) {
    const j = q + 1,
      row = rows[q]!;
    for (let r = 0; r < 3; r++) {
      bent[r] = bulge * along[3 * q + r]!;
      for (let c = 0; c < 3; c++) bent[r] = bent[r]! + K[3 * r + c]! * along[3 * q + c]!;
    }
    for (let v = 0; v < 3; v++)
      for (let r = 0; r < 3; r++) {
        const e = along[3 * q + r]!;
        row[3 * v + r] =
          w[v]! * (bent[r]! - bulge * e) + bulge * (w[v]! - middle[v]!) * e + ((v === j ? 1 : 0) - (v === 0 ? 1 : 0)) * (n[r]! + bulge * way[r]!);
      }
    for (let p = 0; p < free; p++) for (let r = 0; r < 3; r++) M[2 * p + q] = M[2 * p + q]! + bent[r]! * along[3 * p + r]!;
  }
  if (free === 1) addProduct(H, rows[0], rows[0], -factor / M[0]!);
  else if (free === 2) {
    const det = M[0]! * M[3]! - M[1]! * M[2]!;
    addProduct(H, rows[0], rows[0], (-factor * M[3]!) / det);
    addProduct(H, rows[1], rows[1], (-factor * M[0]!) / det);
    addProduct(H, rows[0], rows[1], (factor * M[1]!) / det);
    addProduct(H, rows[1], rows[0], (factor * M[2]!) / det);
  }
}

function addProduct(H: Float64Array, a: Float64Array, b: Float64Array, f: number): void {
  for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) H[9 * i + j] = H[9 * i + j]! + f * a[i]! * b[j]!;
}

const A = new Float64Array(9),
  L = new Float64Array(9),
  straight = new Float64Array(9);

/**
 * What the contact energy of `span`, weighted in `weighted`, adds to the Hessian (9 x 9 over its three vertices) besides the blocks k s b'' (w n)(w n)^T and friction,
 * which the caller has. x: the sheet in the shape's frame. Written to H.
 */
export function spanHessian(shape: SupportShape, x: Float64Array, span: Span, H: Float64Array): void {
  H.fill(0);
  gradientAt(span, x, span.weights, span.n, A);
  gradientAt(span, x, span.lowWeights, span.lowN, L);
  for (let i = 0; i < 3; i++) for (let r = 0; r < 3; r++) straight[3 * i + r] = span.weights[i]! * span.n[r]!;
  addProduct(H, A, L, weighted.mixed - weighted.curved);
  addProduct(H, L, A, weighted.mixed - weighted.curved);
  addProduct(H, A, A, weighted.curved - 2 * weighted.mixed + weighted.stiffness);
  addProduct(H, L, L, weighted.curved);
  addProduct(H, straight, straight, -weighted.stiffness);
  const face = span.corners === 3;
  addLeast(shape, x, span, span.weights, span.n, span.d, face ? 2 : 1, -weighted.force - weighted.push, H);
  if (weighted.push !== 0) addLeast(shape, x, span, span.lowWeights, span.lowN, span.lowD, face ? 1 : 0, weighted.push, H);
}
