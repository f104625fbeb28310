import { createElastic, evaluate } from '../solver/index.ts';
import type { Model } from '../solver/types.ts';
import { strainOf } from './strain.ts';

/** What the cloth's plane bears at one position, triangle by triangle (m of them), in each triangle's own rest frame (x = warp). */
export interface Membrane {
  /** 6m rest corners, m. */ readonly rest: Float64Array;
  /** m rest areas, m2. */ readonly area: Float64Array;
  /** 6m columns F1 F2 of the deformation gradient. */ readonly F: Float64Array;
  /** 3m Green strain E11 E22 2 E12. */ readonly strain: Float64Array;
  /** 3m second Piola-Kirchhoff stress resultants S11 S22 S12, N/m. */ readonly stress: Float64Array;
}

/**
 * Strain and stress resultants of every triangle at x, as the solver's energy has them: E = (F^T F - 1)/2, its edges lengthened by the arcs' correction
 * where the state was settled with it (solver/elastic/arc.ts: a bent edge's chord is no shortening of the cloth), S = C E.
 * Constant over a triangle; linear cloth. Parameters: model of the cloth (straps and contents may be left out), x: 3n positions, m; arcs: was it settled
 * with the correction? Mutates nothing.
 */
export function membraneAt(model: Model, x: Float64Array, arcs: boolean): Membrane {
  const el = createElastic(model);
  evaluate(el, x, null, arcs ? 'arc-corrected' : 'plain');
  return { rest: model.triRest, area: el.sheet.area, F: el.F, strain: el.strain, stress: el.stress };
}

/** Larger principal stretch, length over rest length, less one, of a Green strain E11 E22 2 E12: sqrt(1 + 2 E_1) - 1. */
export const principalStrain = (e11: number, e22: number, e12twice: number): number => strainOf(1 + 2 * e11, 1 + 2 * e22, e12twice, false);
