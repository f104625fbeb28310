import { multiply } from '../sparse/index.ts';
import { addSpread, gather } from './angles.ts';
import { condensedFor, momentsWithArcs } from './bending.ts';
import { applyCables, predictCables } from './cables.ts';
import type { Elastic } from './elastic.ts';
import { predictRods } from './rods.ts';
import { times } from './rows.ts';
import { addEdgeStrains, gradients, strainRates, stresses } from './stretch.ts';
import { addTensionOnlyRates, tensionOnlyRates } from './tension-only.ts';

/**
 * out = H dx, the action of the exact Hessian (of the linearisation) on dx (3n). Two scalar sparse solves with arcs, one without.
 *
 * In the words of bending.ts, with J the angles' gradients, r = J dx and y = -S^-1 L r:
 *   H dx = (shell) dx + J^T (K r + L^T y), and with arcs, whose angles change by w = V [r, y] and whose moments by f = Q dx + N w,
 *   H dx += Q^T w + J^T V_r^T f, y less S^-1 V_y^T f.
 */
export function apply(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { bending, angles, shell } = el,
    s = el.scratch;
  multiply(shell.pattern, shell.values, dx, out);
  gather(angles.verts, angles.grad, dx, s.phi);
  condensedFor(bending, s.phi, s.load, s.y);
  if (el.formulation === 'arc-corrected') {
    const { verts, arcForces, arcStiffness } = el.coupling,
      { edgeOf } = bending,
      { edge, arcMoment } = s;
    times(bending.arc, 1, s.phiY, edge);
    addSpread(verts, arcForces, edge, out);
    gather(verts, arcForces, dx, arcMoment);
    for (let e = 0; e < arcMoment.length; e++) arcMoment[e] = arcMoment[e]! + el.bendSlope[e]! * edge[e]!;
    for (let q = 0, k = 0; q < edgeOf.length; q += 3, k += 6) {
      const i = edgeOf[q]!,
        j = edgeOf[q + 1]!,
        l = edgeOf[q + 2]!,
        a = edge[i]!,
        b = edge[j]!,
        c = edge[l]!;
      arcMoment[i] = arcMoment[i]! + arcStiffness[k]! * a + arcStiffness[k + 1]! * b + arcStiffness[k + 2]! * c;
      arcMoment[j] = arcMoment[j]! + arcStiffness[k + 1]! * a + arcStiffness[k + 3]! * b + arcStiffness[k + 4]! * c;
      arcMoment[l] = arcMoment[l]! + arcStiffness[k + 2]! * a + arcStiffness[k + 4]! * b + arcStiffness[k + 5]! * c;
    }
    momentsWithArcs(bending, s, arcMoment, s.moment);
  } else times(bending.moment, 1, s.phiY, s.moment);
  addSpread(angles.verts, angles.grad, s.moment, out);
  if (el.cables) applyCables(el.cables, dx, out);
}

/** Predicted stress = stress + C dE (3m), arcs included: the mixed-integration-point predictor. Call with el evaluated. */
export function predictStress(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { sheet, bending, angles } = el,
    s = el.scratch;
  gradients(sheet, dx, s.dF);
  strainRates(el.F, s.dF, out);
  if (el.formulation === 'arc-corrected') {
    gather(angles.verts, angles.grad, dx, s.phi);
    condensedFor(bending, s.phi, s.load, s.y);
    times(bending.arc, 1, s.phiY, s.edge);
    for (let e = 0; e < s.edge.length; e++) s.edge[e] = el.slope[e]! * s.edge[e]!;
    addEdgeStrains(sheet, bending.edgeOf, s.edge, out);
  }
  if (el.tensionOnly) tensionOnlyRates(el.tensionOnly, out);
  stresses(sheet, out, out);
  if (el.tensionOnly) addTensionOnlyRates(el.tensionOnly, out);
  for (let q = 0; q < out.length; q++) out[q] = out[q]! + el.stress[q]!;
  if (el.cables) predictCables(el.cables, dx);
  if (el.rods) predictRods(el.rods, dx);
}
