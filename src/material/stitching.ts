/** Rules of thumb of the sewing trade for seams and thread, in SI. Strength figures are reference loads, never a promise. */

/** Stitch types by their trade numbers: 301 lockstitch, 401 two-thread chain, 101 single-thread chain. */
export type StitchType = '301' | '401' | '101';

const LOOP_STRENGTH: Readonly<Record<'301' | '401', number>> = { '301': 1.5, '401': 1.7 };

/**
 * Seam strength per length, N/m: stitches per metre x thread strength x 1.5 (lockstitch) or 1.7 (chain).
 * Assumes the thread gives way, not the cloth or the holes in leather. Parameters: stitchesPerMetre, threadStrength N (straight pull).
 * Common practice of sewn-products engineering, no source.
 */
export const seamStrength = (type: '301' | '401', stitchesPerMetre: number, threadStrength: number): number =>
  stitchesPerMetre * threadStrength * LOOP_STRENGTH[type];

const LENGTHS_OF_THREAD: Readonly<Record<StitchType, number>> = { '301': 2, '101': 3, '401': 4 };

/**
 * Thread used per seam length, m/m: a + 2 T S, a = 2 (301), 3 (101), 4 (401).
 * Parameters: type; seamThickness T, m; stitchesPerMetre S. Source: sewn-products engineering practice (worked examples).
 */
export const threadUse = (type: StitchType, seamThickness: number, stitchesPerMetre: number): number =>
  LENGTHS_OF_THREAD[type] + 2 * seamThickness * stitchesPerMetre;

/** Thread per seam length for a quick estimate of lockstitching, m/m. Source: as threadUse. */
export const QUICK_THREAD_RATIO = 2.5;

/** Share of the material's strength that the seam keeps, 0..1. Parameters: both N/m. Source: seam-strength test practice (formula from memory). */
export const seamEfficiency = (seam: number, material: number): number => seam / material;
