import { libm } from '../../../numerics/index.ts';
import type { Pose } from '../../join-bodies.ts';
import type { RigidBody } from '../../types.ts';

/** Rotations of rigid bodies. Matrices are 9 numbers by rows; a rotation vector w turns by |w| about w. */

const W = new Float64Array(9);

/** R = exp(w) of a rotation vector, written to R, and its left Jacobian J (an increment dw turns the body by J dw, world axes), written to J. Source: Rodrigues' formula. */
function turn(wx: number, wy: number, wz: number, R: Float64Array, J: Float64Array): void {
  const t2 = wx * wx + wy * wy + wz * wz,
    t = Math.sqrt(t2);
  // sin t/t, (1 - cos t)/t^2, (t - sin t)/t^3, by their series near nothing.
  const small = t < 1e-4,
    a = small ? 1 - t2 / 6 : libm.sin(t) / t,
    b = small ? 0.5 - t2 / 24 : (1 - libm.cos(t)) / t2,
    c = small ? 1 / 6 - t2 / 120 : (t - libm.sin(t)) / (t2 * t);
  series(wx, wy, wz, a, b, R);
  series(wx, wy, wz, b, c, J);
}

/** Orientation R of a body whose rotation vector times its reach stands at x[q ..]: columns are its own axes, world directions; and its left Jacobian J. */
export function orient(b: Pick<RigidBody, 'axes' | 'reach'>, x: Float64Array, q: number, R: Float64Array, J: Float64Array): void {
  const o = b.axes;
  turn(x[q]! / b.reach, x[q + 1]! / b.reach, x[q + 2]! / b.reach, W, J);
  // axes holds own x, y, z as rows (world parts); columns of R are the same turned.
  for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) R[3 * r + c] = W[3 * r]! * o[3 * c]! + W[3 * r + 1]! * o[3 * c + 1]! + W[3 * r + 2]! * o[3 * c + 2]!;
}

/** How a body's material point at arm r from its centre moves with its rotation unknown: d theta x r = -[r] J dw, so out = -[r] J. */
export function lever(rx: number, ry: number, rz: number, J: Float64Array, out: Float64Array): void {
  for (let j = 0; j < 3; j++) {
    out[j] = rz * J[3 + j]! - ry * J[6 + j]!;
    out[3 + j] = rx * J[6 + j]! - rz * J[j]!;
    out[6 + j] = ry * J[j]! - rx * J[3 + j]!;
  }
}

/** 1 + a [w] + b [w]^2, [w] the matrix of w x. */
function series(x: number, y: number, z: number, a: number, b: number, out: Float64Array): void {
  out[0] = 1 - b * (y * y + z * z);
  out[1] = b * x * y - a * z;
  out[2] = b * x * z + a * y;
  out[3] = b * x * y + a * z;
  out[4] = 1 - b * (x * x + z * z);
  out[5] = b * y * z - a * x;
  out[6] = b * x * z - a * y;
  out[7] = b * y * z + a * x;
  out[8] = 1 - b * (x * x + y * y);
}

/** Where body b is in the positions x. */
export function poseAt(b: RigidBody, x: Float64Array): Pose {
  const q = 3 * (b.at + 1),
    J = new Float64Array(9),
    T = new Float64Array(9),
    axes = new Array<number>(9);
  turn(x[q]! / b.reach, x[q + 1]! / b.reach, x[q + 2]! / b.reach, T, J);
  for (let r = 0; r < 3; r++)
    for (let c = 0; c < 3; c++) axes[3 * r + c] = T[3 * c]! * b.axes[3 * r]! + T[3 * c + 1]! * b.axes[3 * r + 1]! + T[3 * c + 2]! * b.axes[3 * r + 2]!;
  return { at: [x[3 * b.at]!, x[3 * b.at + 1]!, x[3 * b.at + 2]!], axes: axes as unknown as RigidBody['axes'] };
}
