/**
 * Closest points of the two kinds of feature pairs. Output array: [distance, nx, ny, nz, w0, w1, w2, w3], n the unit vector from the
 * second feature to the first, w the signed weights with which the four vertices enter the gap: gap vector = sum w_i x_i, so
 * vertex-triangle: [1, -b0, -b1, -b2]; edge-edge: [1-s, s, -(1-t), -t]. Both sets are convex, so n separates them.
 * Source: C. Ericson, Real-Time Collision Detection, 2005, 5.1.5 and 5.1.9 (the case analysis).
 */
export function vertexTriangle(x: Float64Array, v: number, a: number, b: number, c: number, out: Float64Array): void {
  const px = x[3 * v]!,
    py = x[3 * v + 1]!,
    pz = x[3 * v + 2]!;
  const ax = x[3 * a]!,
    ay = x[3 * a + 1]!,
    az = x[3 * a + 2]!;
  const abx = x[3 * b]! - ax,
    aby = x[3 * b + 1]! - ay,
    abz = x[3 * b + 2]! - az;
  const acx = x[3 * c]! - ax,
    acy = x[3 * c + 1]! - ay,
    acz = x[3 * c + 2]! - az;
  const apx = px - ax,
    apy = py - ay,
    apz = pz - az;
  const d1 = abx * apx + aby * apy + abz * apz,
    d2 = acx * apx + acy * apy + acz * apz;
  const ab2 = abx * abx + aby * aby + abz * abz,
    ac2 = acx * acx + acy * acy + acz * acz,
    abac = abx * acx + aby * acy + abz * acz;
  const d3 = d1 - ab2,
    d4 = d2 - abac,
    d5 = d1 - abac,
    d6 = d2 - ac2;
  let u = 0,
    w = 0;
  const vc = d1 * d4 - d3 * d2,
    vb = d5 * d2 - d1 * d6,
    va = d3 * d6 - d5 * d4;
  if (d1 <= 0 && d2 <= 0) u = w = 0;
  else if (d3 >= 0 && d4 <= d3) u = 1;
  else if (vc <= 0 && d1 >= 0 && d3 <= 0) u = d1 / (d1 - d3);
  else if (d6 >= 0 && d5 <= d6) w = 1;
  else if (vb <= 0 && d2 >= 0 && d6 <= 0) w = d2 / (d2 - d6);
  else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    w = (d4 - d3) / (d4 - d3 + (d5 - d6));
    u = 1 - w;
  } else {
    const f = 1 / (va + vb + vc);
    u = vb * f;
    w = vc * f;
    // Ericson's v belongs to b, w to c: va, vb, vc weigh a, b, c.
  }
  finish(apx - u * abx - w * acx, apy - u * aby - w * acy, apz - u * abz - w * acz, out);
  out[4] = 1;
  out[5] = u + w - 1;
  out[6] = -u;
  out[7] = -w;
}

export function edgeEdge(x: Float64Array, a: number, b: number, c: number, d: number, out: Float64Array): void {
  const ax = x[3 * a]!,
    ay = x[3 * a + 1]!,
    az = x[3 * a + 2]!,
    cx = x[3 * c]!,
    cy = x[3 * c + 1]!,
    cz = x[3 * c + 2]!;
  const ux = x[3 * b]! - ax,
    uy = x[3 * b + 1]! - ay,
    uz = x[3 * b + 2]! - az;
  const vx = x[3 * d]! - cx,
    vy = x[3 * d + 1]! - cy,
    vz = x[3 * d + 2]! - cz;
  const rx = ax - cx,
    ry = ay - cy,
    rz = az - cz;
  const A = ux * ux + uy * uy + uz * uz,
    E = vx * vx + vy * vy + vz * vz,
    F = vx * rx + vy * ry + vz * rz;
  const C = ux * rx + uy * ry + uz * rz,
    B = ux * vx + uy * vy + uz * vz,
    den = A * E - B * B;
  let s = den > 1e-12 * A * E ? (B * F - C * E) / den : 0.5;
  s = s < 0 ? 0 : Math.min(s, 1);
  let t = (B * s + F) / E;
  if (t < 0) {
    t = 0;
    s = -C / A;
  } else if (t > 1) {
    t = 1;
    s = (B - C) / A;
  }
  s = s < 0 ? 0 : Math.min(s, 1);
  finish(rx + s * ux - t * vx, ry + s * uy - t * vy, rz + s * uz - t * vz, out);
  out[4] = 1 - s;
  out[5] = s;
  out[6] = t - 1;
  out[7] = -t;
}

/** sin^2 of the angle between two edges: parallel edges have no definite closest points, so their contact fades out with it. */
export function crossness(x: Float64Array, a: number, b: number, c: number, d: number): number {
  const ux = x[3 * b]! - x[3 * a]!,
    uy = x[3 * b + 1]! - x[3 * a + 1]!,
    uz = x[3 * b + 2]! - x[3 * a + 2]!;
  const vx = x[3 * d]! - x[3 * c]!,
    vy = x[3 * d + 1]! - x[3 * c + 1]!,
    vz = x[3 * d + 2]! - x[3 * c + 2]!;
  const kx = uy * vz - uz * vy,
    ky = uz * vx - ux * vz,
    kz = ux * vy - uy * vx;
  return (kx * kx + ky * ky + kz * kz) / ((ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz));
}

function finish(gx: number, gy: number, gz: number, out: Float64Array): void {
  const l = Math.sqrt(gx * gx + gy * gy + gz * gz),
    f = l > 0 ? 1 / l : 0;
  out[0] = l;
  out[1] = gx * f;
  out[2] = gy * f;
  out[3] = l > 0 ? gz * f : 1;
}
