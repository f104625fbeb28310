/**
 * Orthotropic sheets in Voigt form. A Four [Q11, Q22, Q12, Q66] acts on [k11, k22, 2 k12] (bending) or [e11, e22, 2 e12] (in plane),
 * 1 = warp, 2 = weft.
 */

import type { Four } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';

/** Symmetric 3 x 3 matrix [m11, m22, m66, m12, m16, m26] on the same vectors. */
export type Sym = readonly [number, number, number, number, number, number];

/** The matrix of a sheet in its own axes, without coupling. */
export const symOf = ([q11, q22, q12, q66]: Four): Sym => [q11, q22, q66, q12, 0, 0];
export const ZERO: Sym = [0, 0, 0, 0, 0, 0];
export const plus = (a: Sym, b: Sym, scale = 1): Sym => a.map((v, i) => v + scale * b[i]) as unknown as Sym;

/**
 * The sheet seen from axes from which its warp lies at `angle` (rad, counterclockwise): the transformed stiffnesses of lamination theory.
 * Source: Jones, Mechanics of Composite Materials, eq. 2.84 (from memory); checked by the energy of random curvatures in the tests.
 */
export function turned([q11, q22, q12, q66]: Four, angle: number): Sym {
  const c = libm.cos(angle);
  const s = libm.sin(angle);
  const c2 = c * c;
  const s2 = s * s;
  const a = q11 - q12 - 2 * q66;
  const b = q12 - q22 + 2 * q66;
  return [
    q11 * c2 * c2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * s2 * s2,
    q11 * s2 * s2 + 2 * (q12 + 2 * q66) * s2 * c2 + q22 * c2 * c2,
    (q11 + q22 - 2 * q12 - 2 * q66) * s2 * c2 + q66 * (s2 * s2 + c2 * c2),
    (q11 + q22 - 4 * q66) * s2 * c2 + q12 * (s2 * s2 + c2 * c2),
    a * s * c2 * c + b * s2 * s * c,
    a * s2 * s * c + b * s * c2 * c,
  ];
}

/**
 * Rigidity per width of a narrow strip cut at `angle` from the warp, free to twist and to curl across, N*m:
 * 1/B = S11 c^4 + S22 s^4 + (2 S12 + S66) c^2 s^2 with S the inverse of D. This is what a cantilever tester reads on a 25 mm strip.
 * A sheet that is kept from twisting and curling is stiffer: plateRigidity. Source: compliance transformation of an orthotropic plate (Lekhnitskii).
 */
export function stripRigidity([d11, d22, d12, d66]: Four, angle: number): number {
  const c2 = libm.square(libm.cos(angle));
  const s2 = libm.square(libm.sin(angle));
  const det = d11 * d22 - d12 * d12;
  return 1 / ((d22 * c2 * c2 + d11 * s2 * s2 - 2 * d12 * c2 * s2) / det + (c2 * s2) / d66);
}

/** Rigidity of a wide sheet bent to a cylinder at `angle` from the warp, N*m; at 45 deg (D11 + D22 + 2 D12 + 4 D66)/4. */
export const plateRigidity = (d: Four, angle: number): number => turned(d, angle)[0];

/**
 * Twisting rigidity D66 that makes a bias strip come out at `bias`, N*m: from stripRigidity at 45 deg,
 * 4/B45 = S11 + S22 + 2 S12 + 1/D66. Assumes the figure was read on a narrow strip (as the published ones were).
 * Returns null when the bias figure is too high for any D66 (the strip would have to be stiffer than both of its yarn systems allow).
 */
export function twistFromBias(d11: number, d22: number, d12: number, bias: number): number | null {
  const det = d11 * d22 - d12 * d12;
  const rest = 4 / bias - (d22 + d11 - 2 * d12) / det;
  return rest > 0 ? 1 / rest : null;
}

/**
 * [Q11, Q22, Q12, Q66] from the two strip readings: Q11 = warp/(1 - nu^2), Q22 = weft/(1 - nu^2), Q12 = nu sqrt(Q11 Q22), so that a narrow strip
 * along either axis gives its reading back. Parameters: strip stiffness along warp and weft; nu, geometric-mean Poisson's ratio; twist, Q66.
 */
export function fromStrips(warp: number, weft: number, nu: number, twist: number): Four {
  const plate = 1 - nu * nu;
  return [warp / plate, weft / plate, (nu * Math.sqrt(warp * weft)) / plate, twist];
}

/** Inverse of a symmetric 3 x 3 matrix. Asserts that it is regular. */
export function inverse([a, b, c, d, e, f]: Sym): Sym {
  // Rows [a d e; d b f; e f c].
  const m11 = b * c - f * f;
  const m12 = e * f - d * c;
  const m16 = d * f - b * e;
  const det = a * m11 + d * m12 + e * m16;
  if (!(Math.abs(det) > 0)) throw new Error('singular stiffness');
  return [m11 / det, (a * c - e * e) / det, (a * b - d * d) / det, m12 / det, m16 / det, (d * e - a * f) / det];
}

/** x y x for symmetric 3 x 3 matrices (symmetric again). */
export function sandwich(x: Sym, y: Sym): Sym {
  const X = full(x);
  const Y = full(y);
  const at = (i: number, j: number) => {
    let sum = 0;
    for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) sum += X[i][k] * Y[k][l] * X[l][j];
    return sum;
  };
  return [at(0, 0), at(1, 1), at(2, 2), at(0, 1), at(0, 2), at(1, 2)];
}

/** Its three rows. */
export const full = ([a, b, c, d, e, f]: Sym): readonly (readonly number[])[] => [
  [a, d, e],
  [d, b, f],
  [e, f, c],
];
