import { libm } from '../numerics/index.ts';
/** Allowances that stand off a seam: a fin along it. */

/** The two layers of a fin and the cloth that it stands on, all along the seam. */
export interface Fin {
  /** Allowance, m. */ readonly height: number;
  /** In-plane stiffness of both layers together, N/m. */ readonly inPlane: number;
  /** Rigidity of both layers together, loose on one another, N*m. */ readonly bending: number;
  /** In-plane stiffness of the cloth times the width of it that bends along, N. */ readonly flange: number;
}

/**
 * Bending rigidity, N*m2, that a fin adds to the cloth it stands on, along the seam and out of the cloth: with E A = C h of the fin, its middle h/2 off the cloth's, and F of the flange,
 * EI = C h^3/12 + (C h F/(C h + F)) (h/2)^2; C h^3/3 on a flange that does not stretch. Holds until the fin's free edge ripples. Beam theory (composite section).
 */
export function finRigidity({ height: h, inPlane, flange }: Fin): number {
  const area = inPlane * h;
  return (inPlane * libm.cube(h)) / 12 + ((area * flange) / (area + flange)) * libm.square(h / 2);
}

/** Buckling coefficient of a long plate, one long side hinged and one free, under uniform compression (plate theory; from memory). */
const ONE_FREE = 0.43;

/** Curvature, 1/m, at which the free edge of a fin ripples: its strain h kappa is that of a long plate with one free side, 0.43 pi^2 D/(h^2 C). The bend's gradient of strain is left out, which is the low side. */
export const rippleCurvature = ({ height: h, inPlane, bending }: Fin): number => (ONE_FREE * libm.square(Math.PI) * bending) / (inPlane * libm.cube(h));

/** Radius of a softly bowed wall, m: the bend at which a fin that ripples is counted (common practice, no source). */
const BOWED = 0.2;

/** What a fin adds in a bag, N*m2: past its ripples it carries on with the moment that it had there, so that its secant at a bend of 200 mm is taken. An estimate. */
export const rippledRigidity = (fin: Fin): number => finRigidity(fin) * Math.min(1, rippleCurvature(fin) * BOWED);
