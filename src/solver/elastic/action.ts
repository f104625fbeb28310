import { multiply } from '../sparse/index.ts';
import { addSpread, gather } from './angles.ts';
import { momentsUnder, slavesOf } from './bending.ts';
import { applyCords, predictCords } from './cords.ts';
import type { Elastic } from './elastic.ts';
import { times } from './rows.ts';
import { addEdgeStrains, gradients, strainRates, stresses } from './stretch.ts';
import { addTautRates, tautRates } from './tension-only.ts';

/**
 * out = H dx, the action of the exact Hessian (of the linearisation) on dx (3n). Two scalar sparse solves with arcs, one without.
 *
 * In the words of bending.ts, with J the angles' gradients, r = J dx and y = -S^-1 L r:
 *   H dx = (shell) dx + J^T (K r + L^T y), and with arcs, whose turns change by w = V [r, y] and pull by f = Q dx + N w,
 *   H dx += Q^T w + J^T V_r^T f, y less S^-1 V_y^T f.
 */
export function apply(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { bending, angles, shell } = el,
    s = el.scratch;
  multiply(shell.pattern, shell.values, dx, out);
  gather(angles.verts, angles.grad, dx, s.phi);
  slavesOf(bending, s.phi, s.load, s.y);
  if (el.arcs) {
    const { verts, pulls, among } = el.coupling,
      { edgeOf } = bending,
      { edge, pull } = s;
    times(bending.arc, 1, s.bent, edge);
    addSpread(verts, pulls, edge, out);
    gather(verts, pulls, dx, pull);
    for (let e = 0; e < pull.length; e++) pull[e] = pull[e]! + el.bendSlope[e]! * edge[e]!;
    for (let q = 0, k = 0; q < edgeOf.length; q += 3, k += 6) {
      const i = edgeOf[q]!,
        j = edgeOf[q + 1]!,
        l = edgeOf[q + 2]!,
        a = edge[i]!,
        b = edge[j]!,
        c = edge[l]!;
      pull[i] = pull[i]! + among[k]! * a + among[k + 1]! * b + among[k + 2]! * c;
      pull[j] = pull[j]! + among[k + 1]! * a + among[k + 3]! * b + among[k + 4]! * c;
      pull[l] = pull[l]! + among[k + 2]! * a + among[k + 4]! * b + among[k + 5]! * c;
    }
    momentsUnder(bending, s, pull, s.moment);
  } else times(bending.moment, 1, s.bent, s.moment);
  addSpread(angles.verts, angles.grad, s.moment, out);
  if (el.cords) applyCords(el.cords, dx, out);
}

/** Predicted stress = stress + C dE (3m), arcs included: the mixed-integration-point predictor. Call with el evaluated. */
export function predictStress(el: Elastic, dx: Float64Array, out: Float64Array): void {
  const { sheet, bending, angles } = el,
    s = el.scratch;
  gradients(sheet, dx, s.dF);
  strainRates(el.F, s.dF, out);
  if (el.arcs) {
    gather(angles.verts, angles.grad, dx, s.phi);
    slavesOf(bending, s.phi, s.load, s.y);
    times(bending.arc, 1, s.bent, s.edge);
    for (let e = 0; e < s.edge.length; e++) s.edge[e] = el.slope[e]! * s.edge[e]!;
    addEdgeStrains(sheet, bending.edgeOf, s.edge, out);
  }
  if (el.taut) tautRates(el.taut, out);
  stresses(sheet, out, out);
  if (el.taut) addTautRates(el.taut, out);
  for (let q = 0; q < out.length; q++) out[q] = out[q]! + el.stress[q]!;
  if (el.cords) predictCords(el.cords, dx);
}
