import type { Sheet } from './sheet.ts';
import type { TensionOnlyState } from './tension-only.ts';

/**
 * Constant-strain triangles: gradients, Green strain, St. Venant-Kirchhoff stress and what they do to the vertices. Arrays per triangle:
 * gradient columns 6 (F1 xyz, F2 xyz), strain and stress 3 (Voigt 11, 22, 12; strain 12 doubled).
 */

/** out (6m) = gradient columns of the vertex field x (3n): the deformation gradient of positions, its rate of displacements. */
export function gradients(sheet: Sheet, x: Float64Array, out: Float64Array): void {
  const { triVerts, shape } = sheet;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      s = 6 * t,
      i = 3 * triVerts[q]!,
      j = 3 * triVerts[q + 1]!,
      k = 3 * triVerts[q + 2]!;
    const a0 = shape[s]!,
      a1 = shape[s + 1]!,
      b0 = shape[s + 2]!,
      b1 = shape[s + 3]!,
      c0 = shape[s + 4]!,
      c1 = shape[s + 5]!;
    out[s] = x[i]! * a0 + x[j]! * b0 + x[k]! * c0;
    out[s + 1] = x[i + 1]! * a0 + x[j + 1]! * b0 + x[k + 1]! * c0;
    out[s + 2] = x[i + 2]! * a0 + x[j + 2]! * b0 + x[k + 2]! * c0;
    out[s + 3] = x[i]! * a1 + x[j]! * b1 + x[k]! * c1;
    out[s + 4] = x[i + 1]! * a1 + x[j + 1]! * b1 + x[k + 1]! * c1;
    out[s + 5] = x[i + 2]! * a1 + x[j + 2]! * b1 + x[k + 2]! * c1;
  }
}

/** Plain Green strain E = (F^T F - 1)/2 of every triangle. */
export function greenStrains(F: Float64Array, strain: Float64Array): void {
  for (let q = 0, s = 0; q < strain.length; q += 3, s += 6) {
    strain[q] = 0.5 * (F[s]! * F[s]! + F[s + 1]! * F[s + 1]! + F[s + 2]! * F[s + 2]! - 1);
    strain[q + 1] = 0.5 * (F[s + 3]! * F[s + 3]! + F[s + 4]! * F[s + 4]! + F[s + 5]! * F[s + 5]! - 1);
    strain[q + 2] = F[s]! * F[s + 3]! + F[s + 1]! * F[s + 4]! + F[s + 2]! * F[s + 5]!;
  }
}

/** out = sym(F^T dF): rates of the Green strain. */
export function strainRates(F: Float64Array, dF: Float64Array, out: Float64Array): void {
  for (let q = 0, s = 0; q < out.length; q += 3, s += 6) {
    const ux = dF[s]!,
      uy = dF[s + 1]!,
      uz = dF[s + 2]!,
      vx = dF[s + 3]!,
      vy = dF[s + 4]!,
      vz = dF[s + 5]!;
    out[q] = F[s]! * ux + F[s + 1]! * uy + F[s + 2]! * uz;
    out[q + 1] = F[s + 3]! * vx + F[s + 4]! * vy + F[s + 5]! * vz;
    out[q + 2] = F[s]! * vx + F[s + 1]! * vy + F[s + 2]! * vz + F[s + 3]! * ux + F[s + 4]! * uy + F[s + 5]! * uz;
  }
}

/** stress = C strain (Voigt) for arrays of 3m. */
export function stresses(sheet: Sheet, strain: Float64Array, stress: Float64Array): void {
  const C = sheet.stretch;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      c = 4 * t,
      a = strain[q]!,
      b = strain[q + 1]!;
    stress[q] = C[c]! * a + C[c + 2]! * b;
    stress[q + 1] = C[c + 2]! * a + C[c + 1]! * b;
    stress[q + 2] = C[c + 3]! * strain[q + 2]!;
  }
}

/** out strain += M phi for numbers per edge (E); edgeOf: 3m. */
export function addEdgeStrains(sheet: Sheet, edgeOf: Int32Array, edge: Float64Array, out: Float64Array): void {
  const M = sheet.M;
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      r = 9 * t,
      a = edge[edgeOf[q]!]!,
      b = edge[edgeOf[q + 1]!]!,
      c = edge[edgeOf[q + 2]!]!;
    out[q] = out[q]! + M[r]! * a + M[r + 1]! * b + M[r + 2]! * c;
    out[q + 1] = out[q + 1]! + M[r + 3]! * a + M[r + 4]! * b + M[r + 5]! * c;
    out[q + 2] = out[q + 2]! + M[r + 6]! * a + M[r + 7]! * b + M[r + 8]! * c;
  }
}

/** tau_e = sum over the edge's triangles of A M_k . S (E). */
export function edgeTension(sheet: Sheet, edgeOf: Int32Array, stress: Float64Array, tau: Float64Array): void {
  const { M, area } = sheet;
  tau.fill(0);
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      r = 9 * t,
      A = area[t]!,
      s0 = A * stress[q]!,
      s1 = A * stress[q + 1]!,
      s2 = A * stress[q + 2]!;
    for (let k = 0; k < 3; k++) {
      const e = edgeOf[q + k]!;
      tau[e] = tau[e]! + M[r + k]! * s0 + M[r + 3 + k]! * s1 + M[r + 6 + k]! * s2;
    }
  }
}

/** out (6m) = A [C11 C22 C12 C66 C16 C26] of every triangle, layers that are taut included. */
export function tangents(sheet: Sheet, layers: TensionOnlyState | null, out: Float64Array): void {
  const { area, stretch: C } = sheet;
  for (let t = 0; t < sheet.m; t++) {
    for (let k = 0; k < 4; k++) out[6 * t + k] = area[t]! * C[4 * t + k]!;
    out[6 * t + 4] = out[6 * t + 5] = 0;
  }
  for (let b = 0; layers && b < layers.count; b++) {
    const t = layers.tri[b]!,
      k = area[t]! * layers.active[b]!,
      n11 = layers.along[3 * b]!,
      n22 = layers.along[3 * b + 1]!,
      n12 = layers.along[3 * b + 2]!;
    const s = 6 * t;
    out[s] = out[s]! + k * (n11 * n11);
    out[s + 1] = out[s + 1]! + k * (n22 * n22);
    out[s + 2] = out[s + 2]! + k * (n11 * n22);
    out[s + 3] = out[s + 3]! + k * (n12 * n12);
    out[s + 4] = out[s + 4]! + k * (n11 * n12);
    out[s + 5] = out[s + 5]! + k * (n22 * n12);
  }
}

/** Clips negative principal stresses to zero (in place), triangle by triangle. */
export function projectStress(S: Float64Array): void {
  for (let q = 0; q < S.length; q += 3) {
    const a = S[q]!,
      b = S[q + 1]!,
      c = S[q + 2]!,
      mean = 0.5 * (a + b),
      dif = 0.5 * (a - b),
      r = Math.sqrt(dif * dif + c * c);
    const hi = Math.max(0, mean + r),
      lo = Math.max(0, mean - r);
    if (mean - r >= 0) continue;
    const m2 = 0.5 * (hi + lo),
      f = r > 0 ? (0.5 * (hi - lo)) / r : 0;
    S[q] = m2 + f * dif;
    S[q + 1] = m2 - f * dif;
    S[q + 2] = f * c;
  }
}

/** Adds A F S b to the gradient g (3n) at each corner. */
export function addStretchForces(sheet: Sheet, F: Float64Array, stress: Float64Array, g: Float64Array): void {
  for (let t = 0; t < sheet.m; t++) {
    const q = 3 * t,
      s = 6 * t,
      A = sheet.area[t]!,
      s0 = A * stress[q]!,
      s1 = A * stress[q + 1]!,
      s2 = A * stress[q + 2]!;
    spread(
      sheet,
      t,
      F[s]! * s0 + F[s + 3]! * s2,
      F[s + 1]! * s0 + F[s + 4]! * s2,
      F[s + 2]! * s0 + F[s + 5]! * s2,
      F[s]! * s2 + F[s + 3]! * s1,
      F[s + 1]! * s2 + F[s + 4]! * s1,
      F[s + 2]! * s2 + F[s + 5]! * s1,
      g,
    );
  }
}

/** Adds the columns p, r of a triangle's first Piola-Kirchhoff stress (times area) to its corners: p b_1 + r b_2. */
function spread(sheet: Sheet, t: number, px: number, py: number, pz: number, rx: number, ry: number, rz: number, out: Float64Array): void {
  const { triVerts, shape } = sheet;
  for (let c = 0; c < 3; c++) {
    const v = 3 * triVerts[3 * t + c]!,
      b0 = shape[6 * t + 2 * c]!,
      b1 = shape[6 * t + 2 * c + 1]!;
    out[v] = out[v]! + px * b0 + rx * b1;
    out[v + 1] = out[v + 1]! + py * b0 + ry * b1;
    out[v + 2] = out[v + 2]! + pz * b0 + rz * b1;
  }
}
