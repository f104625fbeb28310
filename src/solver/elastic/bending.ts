import type { Work } from '../work.ts';
import { type CondensedSolve, factorisingCondensed } from './condensed.ts';
import { entries, type Rows, times, transposed } from './rows.ts';
import type { Sheet } from './sheet.ts';

/**
 * What bending is in numbers that the rest shape alone gives. With phi the angles less their seams' rest angles and y the condensed unknowns (sheet.ts), the energy
 *   W = 1/2 phi . K phi + y . L phi + 1/2 y . S y
 * is least at S y = -L phi, where the moments conjugate to the angles are K phi + L^T y and W is half their product with phi.
 * The angle of edge e's arc, averaged over its triangles, is row e of V [phi, y].
 * A angles (hinges, then clamps), Y condensed unknowns, E triangle edges (those that two triangles share count once).
 */
export interface Bending {
  readonly angles: number;
  readonly condensed: number;
  /** A: rest angle of each sprung seam, 0 elsewhere, rad. */ readonly rest: Float64Array;
  /** L, Y x A. */ readonly load: Rows;
  /** [K L^T], A x (A + Y), N*m. */ readonly moment: Rows;
  /** V, E x (A + Y). */ readonly arc: Rows;
  /** V^T, (A + Y) x E. */ readonly arcBack: Rows;
  readonly edges: number;
  /** 3m: edge of each triangle's side. */ readonly edgeOf: Int32Array;
  /** Springs of seams beside whose edges both panels turn by themselves: the two unknowns, and N*m/rad. */ readonly springs: readonly (readonly [
    number,
    number,
    number,
  ])[];
  readonly solve: CondensedSolve;
}

/** Triangles gone through in one go. */
const SLICE = 4000;

/** In steps: everything above for a sheet. perm: elimination order of its points, perm[new] = old. Throws where a rigidity is zero (condensed.ts). */
export function* creatingBending(
  sheet: Sheet,
  hingeRest: Float64Array,
  sprungSeams: readonly (readonly [hinge: number, y1: number, y2: number])[],
  perm: Int32Array,
): Work<Bending> {
  const A = sheet.hinges + sheet.clamps,
    { m, K, R, angleOf, angleCoef, condensedOf, condensedCoef, partner, ownWeight, condensed } = sheet;
  const edgeOf = new Int32Array(3 * m);
  let edges = 0;
  for (let q = 0; q < 3 * m; q++) {
    const p = partner[q]!;
    edgeOf[q] = p >= 0 && p < q ? edgeOf[p]! : edges++;
  }
  const sprung = sprungSeams.length,
    load = entries(9 * m + 2 * sprung),
    moment = entries(18 * m + 3 * sprung),
    arc = entries(18 * m);
  const add = (from: number, to: number): void => {
    for (let t = from; t < to; t++)
      for (let a = 0; a < 3; a++) {
        const q = 3 * t + a;
        for (let b = 0; b < 3; b++) {
          const p = 3 * t + b,
            k = K[9 * t + 3 * a + b]!,
            w = ownWeight[q]! * R[9 * t + 3 * a + b]!;
          if (angleOf[q]! >= 0 && angleOf[p]! >= 0) moment.add(angleOf[q]!, angleOf[p]!, angleCoef[q]! * k * angleCoef[p]!);
          if (angleOf[q]! >= 0 && condensedOf[p]! >= 0) moment.add(angleOf[q]!, A + condensedOf[p]!, angleCoef[q]! * k * condensedCoef[p]!);
          if (condensedOf[q]! >= 0 && angleOf[p]! >= 0) load.add(condensedOf[q]!, angleOf[p]!, condensedCoef[q]! * k * angleCoef[p]!);
          if (angleOf[p]! >= 0) arc.add(edgeOf[q]!, angleOf[p]!, w * angleCoef[p]!);
          if (condensedOf[p]! >= 0) arc.add(edgeOf[q]!, A + condensedOf[p]!, w * condensedCoef[p]!);
        }
      }
  };
  for (let t = 0; t < m; t += SLICE) {
    add(t, Math.min(m, t + SLICE));
    yield;
  }
  const rest = new Float64Array(A);
  for (const [h, i, j] of sprungSeams) {
    const k = sheet.seamSpring[h]!;
    rest[h] = hingeRest[h]!;
    moment.add(h, h, k);
    for (const y of [i, j]) {
      moment.add(h, A + y, -k);
      load.add(y, h, -k);
    }
  }
  const arcRows = yield* arc.rows(edges),
    loadRows = yield* load.rows(condensed),
    momentRows = yield* moment.rows(A),
    arcBack = yield* transposed(arcRows, A + condensed);
  const springs = sprungSeams.map(([h, i, j]) => [i, j, sheet.seamSpring[h]!] as const);
  const solve = yield* factorisingCondensed(sheet, springs, perm);
  return {
    angles: A,
    condensed,
    rest,
    load: loadRows,
    moment: momentRows,
    arc: arcRows,
    arcBack,
    edges,
    edgeOf,
    springs,
    solve,
  };
}

/** y = -S^-1 L phi, the condensed unknowns that go with the angles in `phi`; `load` is scratch of Y numbers. */
export function condensedFor(b: Bending, phi: Float64Array, load: Float64Array, y: Float64Array): void {
  times(b.load, -1, phi, load);
  b.solve(load, y);
}

/** Scratch for one set of angles and condensed unknowns. */
export interface BendingScratch {
  /** A + Y: angles or their rates, then condensed unknowns; and these alone. */ readonly phiY: Float64Array;
  readonly y: Float64Array;
  /** A + Y: moments on the arcs, taken back to angles and condensed unknowns; and the two parts of it. */ readonly adjoint: Float64Array;
  readonly adjointAngles: Float64Array;
  readonly adjointCondensed: Float64Array;
  /** Y */ readonly z: Float64Array;
}

/**
 * Moments (A) of the angles and condensed unknowns in s where the moments `arcMoment` (E) act on the arcs as well, by one adjoint solve:
 * [K L^T] [phi, y - S^-1 V_y^T arcMoment] + V_phi^T arcMoment. Mutates s.y.
 */
export function momentsWithArcs(b: Bending, s: BendingScratch, arcMoment: Float64Array, moment: Float64Array): void {
  times(b.arcBack, 1, arcMoment, s.adjoint);
  b.solve(s.adjointCondensed, s.z);
  for (let i = 0; i < s.z.length; i++) s.y[i] = s.y[i]! - s.z[i]!;
  times(b.moment, 1, s.phiY, moment);
  for (let k = 0; k < moment.length; k++) moment[k] = moment[k]! + s.adjointAngles[k]!;
}
