import { distance } from '../support/shapes.ts';
import { type Bodies, type BodyContact, distanceTo } from './bodies.ts';

const STEP = 1e-6;
const plus = new Float64Array(4),
  minus = new Float64Array(4);

/** Curvature of the surface that side 1 touches, times N: by differences of its normal. Written to out (9). x: the positions last evaluated. */
export function curvatureAt(bodies: Bodies, t: BodyContact, x: Float64Array, p: Float64Array, out: Float64Array): void {
  out.fill(0);
  const support = t.slots.kind === 'support' ? bodies.model.supports[t.slots.other]!.sdf : null;
  if (support?.kind === 'plane') return;
  for (let c = 0; c < 3; c++) {
    const dx = c === 0 ? STEP : 0,
      dy = c === 1 ? STEP : 0,
      dz = c === 2 ? STEP : 0;
    if (support) {
      distance(support, p[0]! + dx, p[1]! + dy, p[2]! + dz, plus);
      distance(support, p[0]! - dx, p[1]! - dy, p[2]! - dz, minus);
    } else {
      distanceTo(bodies, x, t.b, p[0]! + dx, p[1]! + dy, p[2]! + dz, plus);
      distanceTo(bodies, x, t.b, p[0]! - dx, p[1]! - dy, p[2]! - dz, minus);
    }
    for (let r = 0; r < 3; r++) out[3 * r + c] = (t.normal * (plus[1 + r]! - minus[1 + r]!)) / (2 * STEP);
  }
}

const V = (): Float64Array => new Float64Array(3);
const theta1 = V(),
  theta2 = V(),
  q = V(),
  r = V(),
  u = V(),
  rel = V(),
  bent = V(),
  f = V(),
  product = V(),
  spin = V();

function cross(a: Float64Array, b: Float64Array, out: Float64Array): void {
  out[0] = a[1]! * b[2]! - a[2]! * b[1]!;
  out[1] = a[2]! * b[0]! - a[0]! * b[2]!;
  out[2] = a[0]! * b[1]! - a[1]! * b[0]!;
}

const dot = (a: Float64Array, b: Float64Array): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;

/** out = J w, w at k of m; nothing where there is no body. */
function turnBy(bodies: Bodies, i: number, m: Float64Array, k: number, out: Float64Array): void {
  out.fill(0);
  if (i < 0) return;
  const J = bodies.J[i]!;
  for (let c = 0; c < 3; c++) out[c] = J[3 * c]! * m[k]! + J[3 * c + 1]! * m[k + 1]! + J[3 * c + 2]! * m[k + 2]!;
}

/** From body i's centre to the contact's own point; nothing where there is no body. */
function armOf(bodies: Bodies, i: number, t: BodyContact, out: Float64Array): void {
  out.fill(0);
  if (i >= 0) for (let c = 0; c < 3; c++) out[c] = t.point[c]! - bodies.centre[3 * i + c]!;
}

/** out (at k) = J^T v. */
function toRotation(J: Float64Array, v: Float64Array, out: Float64Array, k: number): void {
  for (let c = 0; c < 3; c++) out[k + c] = J[c]! * v[0]! + J[3 + c]! * v[1]! + J[6 + c]! * v[2]!;
}

/** What the second derivatives of a turn theta of the arm a give: -N [n (theta.a) + a (n.theta)]/2 + N (n.a) theta. Written to spin. */
function spinOf(N: number, n: Float64Array, theta: Float64Array, a: Float64Array): void {
  const na = dot(n, a),
    ta = dot(theta, a),
    nt = dot(n, theta);
  for (let i = 0; i < 3; i++) spin[i] = -N * ((n[i]! * ta + a[i]! * nt) / 2 - na * theta[i]!);
}

/**
 * What the contact forces' turning with the bodies adds to the Hessian (geometric stiffness). Small beside the contacts' stiffness, but all there is in soft modes: a
 * hung bag's slow turn about the plumb line has a stiffness of N times millimetres, and without these terms it looks unstable (measured: 400 steps led nowhere).
 * With u the motion of side 1's point p less that of body 2's centre, r = p - c2, q = p - c1, rel = u - theta2 x r, N the normal force, n the normal
 * and k the curvature (dn/dp) of body 2's surface:
 *   E2 = -N [(theta2 x n).u + n.(theta2 x (theta2 x r))/2 + n.(theta1 x (theta1 x q))/2 + rel.k rel/2]
 * Derived here from d(p, c2, theta2) = sdf(R^T (p - c2)) to second order; for a ball all theta2 terms cancel, as they must.
 * m (12): motions of vertex or body 1's centre, body 1's rotation, body 2's centre and rotation, nothing where there is none. The gradient of E2 for them, in the
 * same parts, is written to out.
 */
export function geometric(bodies: Bodies, t: BodyContact, m: Float64Array, out: Float64Array): void {
  const N = t.normal,
    n = t.n,
    K = t.curvature;
  turnBy(bodies, t.a, m, 3, theta1);
  turnBy(bodies, t.b, m, 9, theta2);
  armOf(bodies, t.a, t, q);
  armOf(bodies, t.b, t, r);
  cross(theta1, q, product);
  for (let i = 0; i < 3; i++) u[i] = m[i]! + product[i]! - m[6 + i]!;
  cross(theta2, r, product);
  for (let i = 0; i < 3; i++) rel[i] = u[i]! - product[i]!;
  for (let i = 0; i < 3; i++) bent[i] = K[3 * i]! * rel[0]! + K[3 * i + 1]! * rel[1]! + K[3 * i + 2]! * rel[2]!;
  cross(theta2, n, product);
  for (let i = 0; i < 3; i++) f[i] = -N * product[i]! - bent[i]!;
  out.fill(0);
  for (let i = 0; i < 3; i++) {
    out[i] = f[i]!;
    out[6 + i] = -f[i]!;
  }
  if (t.a >= 0) {
    spinOf(N, n, theta1, q);
    cross(q, f, product);
    for (let i = 0; i < 3; i++) spin[i] = spin[i]! + product[i]!;
    toRotation(bodies.J[t.a]!, spin, out, 3);
  }
  if (t.b < 0) return;
  spinOf(N, n, theta2, r);
  cross(n, u, product);
  for (let i = 0; i < 3; i++) spin[i] = spin[i]! - N * product[i]!;
  cross(r, bent, product);
  for (let i = 0; i < 3; i++) spin[i] = spin[i]! + product[i]!;
  toRotation(bodies.J[t.b]!, spin, out, 9);
}

const parts = new Float64Array(12),
  back = new Float64Array(12);

/** out += the geometric part's action on p. */
export function applyGeometry(bodies: Bodies, p: Float64Array, out: Float64Array): void {
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!,
      a = t.a >= 0 ? 3 * bodies.list[t.a]!.at : 3 * t.vertex,
      b = t.b >= 0 ? 3 * bodies.list[t.b]!.at : -1,
      // A vertex has no rotation.
      first = t.a >= 0 ? 6 : 3;
    parts.fill(0);
    for (let i = 0; i < first; i++) parts[i] = p[a + i]!;
    if (b >= 0) for (let i = 0; i < 6; i++) parts[6 + i] = p[b + i]!;
    geometric(bodies, t, parts, back);
    for (let i = 0; i < first; i++) out[a + i] = out[a + i]! + back[i]!;
    if (b >= 0) for (let i = 0; i < 6; i++) out[b + i] = out[b + i]! + back[6 + i]!;
  }
}
