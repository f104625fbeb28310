import type { BodySpan, Posed } from './body-spans.ts';

const block = new Float64Array(9),
  half = new Float64Array(9),
  torque = new Float64Array(3),
  force = new Float64Array(3);

/** H (9 x 9 in the body's directions) in world directions, to out. */
export function turned(H: Float64Array, R: Float64Array, out: Float64Array): void {
  const a = block,
    b = half;
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) a[3 * r + c] = H[9 * (3 * i + r) + 3 * j + c]!;
      for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) b[3 * r + c] = R[3 * r]! * a[c]! + R[3 * r + 1]! * a[3 + c]! + R[3 * r + 2]! * a[6 + c]!;
      for (let r = 0; r < 3; r++)
        for (let c = 0; c < 3; c++) out[9 * (3 * i + r) + 3 * j + c] = b[3 * r]! * R[3 * c]! + b[3 * r + 1]! * R[3 * c + 1]! + b[3 * r + 2]! * R[3 * c + 2]!;
    }
}

/** Hands one contact's forces to sheet and body: gradient g (3n) and blocks diag (9n), where they are asked for; and onSheet. */
export function scatterForces(b: Posed, t: BodySpan, g: Float64Array | null, diag: Float64Array | null): void {
  const c = 3 * b.list[t.body]!.at,
    J = b.J[t.body]!;
  torque.fill(0);
  for (let i = 0; i < 3; i++) {
    const v = 3 * t.verts[i]!,
      w = t.weights[i]!,
      x = t.arms[3 * i]!,
      y = t.arms[3 * i + 1]!,
      z = t.arms[3 * i + 2]!;
    for (let k = 0; k < 3; k++) {
      const f = t.pull[3 * i + k]! - w * t.friction[k]!;
      force[k] = f;
      b.onSheet[v + k] = b.onSheet[v + k]! - f;
      if (g) g[v + k] = g[v + k]! + f;
      if (g) g[c + k] = g[c + k]! - f;
    }
    torque[0] = torque[0]! + (y * force[2]! - z * force[1]!);
    torque[1] = torque[1]! + (z * force[0]! - x * force[2]!);
    torque[2] = torque[2]! + (x * force[1]! - y * force[0]!);
    if (diag) for (let k = 0; k < 9; k++) diag[3 * v + k] = diag[3 * v + k]! + w * t.B[k]!;
  }
  if (g) for (let k = 0; k < 3; k++) g[c + 3 + k] = g[c + 3 + k]! - (J[k]! * torque[0]! + J[3 + k]! * torque[1]! + J[6 + k]! * torque[2]!);
  if (!diag) return;
  for (let k = 0; k < 9; k++) diag[3 * c + k] = diag[3 * c + k]! + t.B[k]!;
  const q = 3 * c + 9;
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      for (let r = 0; r < 3; r++) for (let s = 0; s < 3; s++) diag[q + 3 * i + j] = diag[q + 3 * i + j]! + t.G[3 * r + i]! * t.B[3 * r + s]! * t.G[3 * s + j]!;
}
