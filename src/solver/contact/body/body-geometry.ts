import { distance } from '../support/shapes.ts';
import { type Bodies, distanceTo, type Touch } from './bodies.ts';

const STEP = 1e-6;
const [plus, minus] = [new Float64Array(4), new Float64Array(4)];

/** Curvature of the surface that side 1 touches, times N: by differences of its normal. Written to out (9). x: the positions last evaluated. */
export function curvatureAt(bodies: Bodies, t: Touch, x: Float64Array, p: Float64Array, out: Float64Array): void {
  out.fill(0);
  const support = t.slots.kind === 'support' ? bodies.model.supports[t.slots.other]!.sdf : null;
  if (support?.kind === 'plane') return;
  for (let c = 0; c < 3; c++) {
    const [dx, dy, dz] = [c === 0 ? STEP : 0, c === 1 ? STEP : 0, c === 2 ? STEP : 0];
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

type V = [number, number, number];
const cross = (a: ArrayLike<number>, b: ArrayLike<number>): V => [a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!];
const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
const jacobian = (J: Float64Array, w: ArrayLike<number>): V => [
  J[0]! * w[0]! + J[1]! * w[1]! + J[2]! * w[2]!,
  J[3]! * w[0]! + J[4]! * w[1]! + J[5]! * w[2]!,
  J[6]! * w[0]! + J[7]! * w[1]! + J[8]! * w[2]!,
];
const transposed = (J: Float64Array, v: ArrayLike<number>): V => [
  J[0]! * v[0]! + J[3]! * v[1]! + J[6]! * v[2]!,
  J[1]! * v[0]! + J[4]! * v[1]! + J[7]! * v[2]!,
  J[2]! * v[0]! + J[5]! * v[1]! + J[8]! * v[2]!,
];

/** Motions of one contact's parts and what comes back: of vertex or body 1's centre and rotation, of body 2's. */
export interface Parts {
  readonly p1: V;
  readonly w1: V;
  readonly p2: V;
  readonly w2: V;
}

/**
 * What the contact forces' turning with the bodies adds to the Hessian. Small beside the contacts' stiffness, but all there is in soft modes: a hung bag's
 * slow turn about the plumb line has a stiffness of N times millimetres, and without these terms it looks unstable (measured: 400 steps led nowhere).
 * With u the motion of side 1's point p less that of body 2's centre, r = p - c2, q = p - c1, rel = u - theta2 x r, N the normal force, n the normal
 * and k the curvature (dn/dp) of body 2's surface:
 *   E2 = -N [(theta2 x n).u + n.(theta2 x (theta2 x r))/2 + n.(theta1 x (theta1 x q))/2 + rel.k rel/2]
 * Derived here from d(p, c2, theta2) = sdf(R^T (p - c2)) to second order; for a ball all theta2 terms cancel, as they must.
 * Returns the gradient of E2 for the given motions, in the same parts.
 */
export function geometric(bodies: Bodies, t: Touch, m: Parts): Parts {
  const N = t.normal,
    n = t.n,
    K = t.curvature,
    two = t.b >= 0,
    one = t.a >= 0;
  const theta1: V = one ? jacobian(bodies.J[t.a]!, m.w1) : [0, 0, 0],
    theta2: V = two ? jacobian(bodies.J[t.b]!, m.w2) : [0, 0, 0];
  const arm = (i: number): V => [t.point[0]! - bodies.centre[3 * i]!, t.point[1]! - bodies.centre[3 * i + 1]!, t.point[2]! - bodies.centre[3 * i + 2]!];
  const q = one ? arm(t.a) : ([0, 0, 0] as V),
    r = two ? arm(t.b) : ([0, 0, 0] as V);
  const turned = cross(theta1, q),
    u: V = [m.p1[0] + turned[0] - m.p2[0], m.p1[1] + turned[1] - m.p2[1], m.p1[2] + turned[2] - m.p2[2]];
  const behind = cross(theta2, r),
    rel: V = [u[0] - behind[0], u[1] - behind[1], u[2] - behind[2]];
  const bent: V = [0, 1, 2].map((i) => K[3 * i]! * rel[0] + K[3 * i + 1]! * rel[1] + K[3 * i + 2]! * rel[2]) as V;
  const side = cross(theta2, n);
  const f: V = [-N * side[0] - bent[0], -N * side[1] - bent[1], -N * side[2] - bent[2]];
  const spin = (theta: V, a: V): V => {
    const [na, ta, nt] = [dot(n, a), dot(theta, a), dot(n, theta)];
    return [0, 1, 2].map((i) => -N * ((n[i]! * ta + a[i]! * nt) / 2 - na * theta[i]!)) as V;
  };
  const s1 = spin(theta1, q),
    lever = cross(q, f),
    s2 = spin(theta2, r),
    nu = cross(n, u),
    rb = cross(r, bent);
  return {
    p1: f,
    w1: one ? transposed(bodies.J[t.a]!, [s1[0] + lever[0], s1[1] + lever[1], s1[2] + lever[2]]) : [0, 0, 0],
    p2: [-f[0], -f[1], -f[2]],
    w2: two ? transposed(bodies.J[t.b]!, [s2[0] - N * nu[0] + rb[0], s2[1] - N * nu[1] + rb[1], s2[2] - N * nu[2] + rb[2]]) : [0, 0, 0],
  };
}

const three = (p: Float64Array, q: number): V => [p[q]!, p[q + 1]!, p[q + 2]!];
const NONE: V = [0, 0, 0];

/** out += the geometric part's action on p. */
export function applyGeometry(bodies: Bodies, p: Float64Array, out: Float64Array): void {
  const give = (q: number, v: V): void => {
    for (let k = 0; k < 3; k++) out[q + k] = out[q + k]! + v[k]!;
  };
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.touch[k]!,
      a = t.a >= 0 ? 3 * bodies.list[t.a]!.at : 3 * t.vertex,
      b = t.b >= 0 ? 3 * bodies.list[t.b]!.at : -1;
    const back = geometric(bodies, t, {
      p1: three(p, a),
      w1: t.a >= 0 ? three(p, a + 3) : NONE,
      p2: b >= 0 ? three(p, b) : NONE,
      w2: b >= 0 ? three(p, b + 3) : NONE,
    });
    give(a, back.p1);
    if (t.a >= 0) give(a + 3, back.w1);
    if (b < 0) continue;
    give(b, back.p2);
    give(b + 3, back.w2);
  }
}
