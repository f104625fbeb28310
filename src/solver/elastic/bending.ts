import { factoriseSlaves, type SlaveSolve } from './condensed.ts';
import { entries, type Rows, times, transposed } from './rows.ts';
import type { Sheet } from './sheet.ts';

/**
 * What bending is in numbers that the rest shape alone gives. With phi the angles less their seams' rest angles and y the slave unknowns (sheet.ts), the energy
 *   W = 1/2 phi . K phi + y . L phi + 1/2 y . S y
 * is least at S y = -L phi, where the moments conjugate to the angles are K phi + L^T y and W is half their product with phi.
 * The turn of edge e's arc, averaged over its triangles, is row e of V [phi, y].
 * A angles (hinges, then clamps), Y slaves, E triangle edges (those that two triangles share count once).
 */
export interface Bending {
  readonly angles: number;
  readonly slaves: number;
  /** A: rest angle of each sprung seam, 0 elsewhere, rad. */ readonly rest: Float64Array;
  /** L, Y x A. */ readonly load: Rows;
  /** [K L^T], A x (A + Y), N*m. */ readonly moment: Rows;
  /** V, E x (A + Y). */ readonly arc: Rows;
  /** V^T, (A + Y) x E. */ readonly arcBack: Rows;
  readonly edges: number;
  /** 3m: edge of each triangle's side. */ readonly edgeOf: Int32Array;
  readonly solve: SlaveSolve;
}

/** Everything above for a sheet. Throws where a rigidity is zero (condensed.ts). */
export function createBending(sheet: Sheet, hingeRest: Float64Array, seamSlaves: readonly (readonly [hinge: number, y1: number, y2: number])[]): Bending {
  const A = sheet.hinges + sheet.clamps,
    { m, K, R, angleOf, angleCoef, slaveOf, slaveCoef, partner, ownWeight, slaves } = sheet;
  const edgeOf = new Int32Array(3 * m);
  let edges = 0;
  for (let q = 0; q < 3 * m; q++) {
    const p = partner[q]!;
    edgeOf[q] = p >= 0 && p < q ? edgeOf[p]! : edges++;
  }
  const sprung = seamSlaves.length,
    load = entries(9 * m + 2 * sprung),
    moment = entries(18 * m + 3 * sprung),
    arc = entries(18 * m);
  for (let t = 0; t < m; t++)
    for (let a = 0; a < 3; a++) {
      const q = 3 * t + a;
      for (let b = 0; b < 3; b++) {
        const p = 3 * t + b,
          k = K[9 * t + 3 * a + b]!,
          w = ownWeight[q]! * R[9 * t + 3 * a + b]!;
        if (angleOf[q]! >= 0 && angleOf[p]! >= 0) moment.add(angleOf[q]!, angleOf[p]!, angleCoef[q]! * k * angleCoef[p]!);
        if (angleOf[q]! >= 0 && slaveOf[p]! >= 0) moment.add(angleOf[q]!, A + slaveOf[p]!, angleCoef[q]! * k * slaveCoef[p]!);
        if (slaveOf[q]! >= 0 && angleOf[p]! >= 0) load.add(slaveOf[q]!, angleOf[p]!, slaveCoef[q]! * k * angleCoef[p]!);
        if (angleOf[p]! >= 0) arc.add(edgeOf[q]!, angleOf[p]!, w * angleCoef[p]!);
        if (slaveOf[p]! >= 0) arc.add(edgeOf[q]!, A + slaveOf[p]!, w * slaveCoef[p]!);
      }
    }
  const rest = new Float64Array(A);
  for (const [h, i, j] of seamSlaves) {
    const k = sheet.seamSpring[h]!;
    rest[h] = hingeRest[h]!;
    moment.add(h, h, k);
    for (const y of [i, j]) {
      moment.add(h, A + y, -k);
      load.add(y, h, -k);
    }
  }
  const arcRows = arc.rows(edges);
  return {
    angles: A,
    slaves,
    rest,
    load: load.rows(slaves),
    moment: moment.rows(A),
    arc: arcRows,
    arcBack: transposed(arcRows, A + slaves),
    edges,
    edgeOf,
    solve: factoriseSlaves(
      sheet,
      seamSlaves.map(([h, i, j]) => [i, j, sheet.seamSpring[h]!] as const),
    ),
  };
}

/** y = -S^-1 L phi, the slaves that go with the angles in `phi`; `load` is scratch of Y numbers. */
export function slavesOf(b: Bending, phi: Float64Array, load: Float64Array, y: Float64Array): void {
  times(b.load, -1, phi, load);
  b.solve(load, y);
}

/** Scratch for one set of angles and slaves. */
export interface Bent {
  /** A + Y: angles or their rates, then slaves; and its slaves alone. */ readonly bent: Float64Array;
  readonly y: Float64Array;
  /** A + Y: what pulls on arcs come to on angles and slaves; and the two parts of it. */ readonly back: Float64Array;
  readonly backAngles: Float64Array;
  readonly backSlaves: Float64Array;
  /** Y */ readonly z: Float64Array;
}

/** Moments (A) of the angles and slaves in s where the arcs are pulled by `pull` (E) as well: [K L^T] [phi, y - S^-1 V_y^T pull] + V_phi^T pull. Mutates s.y. */
export function momentsUnder(b: Bending, s: Bent, pull: Float64Array, moment: Float64Array): void {
  times(b.arcBack, 1, pull, s.back);
  b.solve(s.backSlaves, s.z);
  for (let i = 0; i < s.z.length; i++) s.y[i] = s.y[i]! - s.z[i]!;
  times(b.moment, 1, s.bent, moment);
  for (let k = 0; k < moment.length; k++) moment[k] = moment[k]! + s.backAngles[k]!;
}
