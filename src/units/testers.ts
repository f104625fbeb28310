/**
 * Units and reported figures of fabric testers, to SI. Formulas that turn a test reading into a rigidity live here
 * because they need no fabric, only the definition of the test.
 */
import { libm } from '../numerics/index.ts';
import { DEGREE, GRAM_FORCE, GRAVITY } from './constants.ts';

/** N*m of 1 gf*cm2/cm, the pure-bending tester's B. Source: definition. */
export const PURE_BENDING_UNIT = GRAM_FORCE * 1e-2;
/** N (N*m per metre) of 1 gf*cm/cm, the pure-bending tester's hysteresis 2HB. Source: definition. */
export const BENDING_HYSTERESIS_UNIT = GRAM_FORCE;
/** N/m per radian of 1 gf/(cm*deg), the shear tester's G: 0.980665 x 180/pi. Source: definition. */
export const SHEAR_UNIT = (GRAM_FORCE * 1e2) / DEGREE;
/** N*m of 1 mg*cm (weight). Source: definition. */
export const MG_CM = 1e-6 * GRAVITY * 1e-2;
/** N*m of 1 mN*cm. Source: definition. */
export const MN_CM = 1e-5;

/**
 * Flexural rigidity per width, N*m: G = w c^3.
 * Parameters: arealMass kg/m2, bendingLength m. Assumes a flat strip bending under its own weight, linear elastic.
 * Source: Peirce 1930, J. Text. Inst. 21 T377.
 */
export const rigidityFromBendingLength = (arealMass: number, bendingLength: number): number => arealMass * GRAVITY * libm.cube(bendingLength);

/** Bending length, m: c = (B/w)^(1/3). Parameters: flexuralRigidity N*m, arealMass kg/m2. Source: Peirce 1930. */
export const bendingLength = (flexuralRigidity: number, arealMass: number): number => libm.cbrt(flexuralRigidity / (arealMass * GRAVITY));

/**
 * Bending length over overhang for a chord angle: c/L = (cos(theta/2)/(8 tan theta))^(1/3).
 * Approximate: at 41.5 deg it is 1.9 % high in c (5.75 % in rigidity); use exactOverhangRatio for figures that are shown.
 * Parameter: theta rad in (0, pi/2), chord from edge to tip below the horizontal. Source: Peirce 1930, J. Text. Inst. 21 T377.
 */
export const peirceRatio = (theta: number): number => libm.cbrt(libm.cos(theta / 2) / (8 * libm.tan(theta)));

/** Angle of the fixed-angle cantilever tester, rad: 41.5 deg, chosen so that the bending length is half the overhang. */
export const FIXED_ANGLE = 41.5 * DEGREE;

/** w L^3/B of a heavy elastica whose chord hangs at 41.5 deg. Source: computed (ODE and series, cross-checked). */
export const FIXED_ANGLE_LOAD = 8.0042;

/** Overhang at 41.5 deg, m: O = 2c (true to 0.02 %). Parameters: flexuralRigidity N*m, arealMass kg/m2. Source: fixed-angle tester practice. */
export const overhangAtFixedAngle = (flexuralRigidity: number, arealMass: number): number => 2 * bendingLength(flexuralRigidity, arealMass);

/** Flexural rigidity from a 41.5 deg overhang, N*m: B = w (O/2)^3. Parameters: overhang m, arealMass kg/m2. */
export const rigidityFromOverhang = (overhang: number, arealMass: number): number => rigidityFromBendingLength(arealMass, overhang / 2);

/** Rigidity of warp and weft taken together, N*m: G0 = sqrt(G1 G2). Source: BS 3356 (from memory). */
export const overallRigidity = (warp: number, weft: number): number => Math.sqrt(warp * weft);

/** Effective bending modulus of a sheet, Pa: 12 B/t^3. Parameters: flexuralRigidity N*m, thickness m. Source: Saville 1999 ch. 10 (from memory). */
export const bendingModulus = (flexuralRigidity: number, thickness: number): number => (12 * flexuralRigidity) / libm.cube(thickness);

/** Sheet rigidity from its bending modulus, N*m: B = E_b t^3/12 (strip; no plate factor). Parameters: modulus Pa, thickness m. */
export const rigidityFromModulus = (modulus: number, thickness: number): number => (modulus * libm.cube(thickness)) / 12;

/** Board tested at a fixed overhang with a small drop, N*m: B = w L^4/(8 delta). Parameters: arealMass kg/m2, overhang m, drop m (drop < L/10). */
export const rigidityFromTipDrop = (arealMass: number, overhang: number, drop: number): number =>
  (arealMass * GRAVITY * libm.square(libm.square(overhang))) / (8 * drop);

/**
 * Curvature left after bending, 1/m: kappa0 = 2HB/(2 B). Parameters: hysteresis N (2HB), flexuralRigidity N*m.
 * Source: definition of the pure-bending test.
 */
export const residualCurvature = (hysteresis: number, flexuralRigidity: number): number => hysteresis / (2 * flexuralRigidity);

/** Shear rigidity, N/m, from the bias extension in per cent at 5 gf/cm: G = 123/EB5. Source: a fabric-assurance laboratory's report (1994), second-hand. */
export const shearFromBiasExtension = (percent: number): number => 123 / percent;

/** The printed constant of one cantilever standard, uJ/m per (g/m2 * mm3); 1.449 x the true 9.80665e-6: report it, never use it. From memory. */
export const PRINTED_CANTILEVER_CONSTANT = 1.421e-5;
