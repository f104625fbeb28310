import { strainOf } from './strain.ts';

/** Strains and stress resultants in the cloth's plane at one position, triangle by triangle (m of them), in each triangle's own rest frame (x = warp). */
export interface Membrane {
  /** 6m rest corners, m. */ readonly rest: Float64Array;
  /** m rest areas, m2. */ readonly area: Float64Array;
  /** 6m columns F1 F2 of the deformation gradient. */ readonly F: Float64Array;
  /** 3m Green strain E11 E22 2 E12. */ readonly strain: Float64Array;
  /** 3m second Piola-Kirchhoff stress resultants S11 S22 S12, N/m. */ readonly stress: Float64Array;
}

/**
 * The membrane of a state that carries its strains and stress resultants as the solver's energy has them: E = (F^T F - 1)/2, edges lengthened by the arcs'
 * correction where the state was settled with it (a bent edge's chord is no shortening of the cloth), S = C E. Constant over a triangle; linear cloth.
 * Parameters: rest: 6m rest corners, m; triVerts: 3m; x: 3n positions, m; strain, stress: 3m. Mutates nothing.
 */
export function membraneOf(rest: Float64Array, triVerts: ArrayLike<number>, x: ArrayLike<number>, strain: Float64Array, stress: Float64Array): Membrane {
  const m = rest.length / 6,
    area = new Float64Array(m),
    F = new Float64Array(6 * m);
  for (let t = 0; t < m; t++) {
    const q = 6 * t,
      u1 = rest[q + 2]! - rest[q]!,
      v1 = rest[q + 3]! - rest[q + 1]!,
      u2 = rest[q + 4]! - rest[q]!,
      v2 = rest[q + 5]! - rest[q + 1]!,
      det = u1 * v2 - u2 * v1,
      a = 3 * triVerts[3 * t]!,
      b = 3 * triVerts[3 * t + 1]!,
      c = 3 * triVerts[3 * t + 2]!;
    area[t] = det / 2;
    for (let k = 0; k < 3; k++) {
      const d1 = x[b + k]! - x[a + k]!,
        d2 = x[c + k]! - x[a + k]!;
      F[q + k] = (d1 * v2 - d2 * v1) / det;
      F[q + 3 + k] = (d2 * u1 - d1 * u2) / det;
    }
  }
  return { rest, area, F, strain, stress };
}

/** Larger principal stretch, length over rest length, less one, of a Green strain E11 E22 2 E12: sqrt(1 + 2 E_1) - 1. */
export const principalStrain = (e11: number, e22: number, e12twice: number): number => strainOf(1 + 2 * e11, 1 + 2 * e22, e12twice, false);
