import { choleskyInPlace, choleskySolve } from '../../dense-cholesky.ts';
import { geometricStiffness } from '../edge-face/body-span-steps.ts';
import type { BodySpan } from '../edge-face/body-spans.ts';
import type { Bodies, BodyContact } from './bodies.ts';
import { geometric } from './body-geometry.ts';

/**
 * Preconditioner for sheet and bodies together: the sheet's factor knows the contacts' stiffness at its own vertices, but not that a body ties them to one
 * another. Its six unknowns are eliminated exactly: S = Sb - C^T A^-1 C, C the coupling of sheet and bodies, Z = A^-1 C by one solve a column. Without it CG
 * takes up to its limit wherever a heavy thing lies on soft cloth.
 */
export interface Schur {
  /** 6 per body */ readonly size: number;
  /** Columns of C and Z, 3 * sheet numbers each. */ readonly C: Float64Array[];
  readonly Z: Float64Array[];
  /** Cholesky factor of S, lower, size^2 */ readonly L: Float64Array;
}

export function createSchur(bodies: Bodies): Schur {
  const size = 6 * bodies.list.length,
    columns = () => Array.from({ length: size }, () => new Float64Array(3 * bodies.model.vertexCount));
  return { size, C: columns(), Z: columns(), L: new Float64Array(size * size) };
}

/** Motion of a contact point per unknown of body i: [1 | G], row r, column c of 0..5. */
const part = (G: Float64Array, r: number, c: number): number => (c < 3 ? (r === c ? 1 : 0) : G[3 * r + c - 3]!);

/**
 * Coupling and Schur complement at the contacts of the last evaluation. massFactor: of the masses added to the Hessian, 1/s2; solveSheet: x = A^-1 b by
 * the factor at hand. The sheet's factor is not the exact one, so that S may come out indefinite where the state is stable: then the forces' turning is left
 * out of it, and CG on the exact action has the last word. Returns false where even that S is not positive. Mutates schur.
 */
export function factorSchur(schur: Schur, bodies: Bodies, massFactor: number, solveSheet: (b: Float64Array, x: Float64Array) => void): boolean {
  return (bodies.exact && reduce(schur, bodies, massFactor, solveSheet, true)) || reduce(schur, bodies, massFactor, solveSheet, false);
}

function reduce(schur: Schur, bodies: Bodies, massFactor: number, solveSheet: (b: Float64Array, x: Float64Array) => void, turned: boolean): boolean {
  const { size, C, Z, L } = schur,
    { held, mass } = bodies.model;
  for (const c of C) c.fill(0);
  L.fill(0);
  bodies.list.forEach((b, i) => {
    for (let k = 0; k < 6; k++) L[(6 * i + k) * size + 6 * i + k] = massFactor * mass[b.at + (k < 3 ? 0 : 1)]!;
  });
  if (turned) {
    addGeometric(schur, bodies);
    addGeometricSpans(schur, bodies);
  }
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!;
    if (t.vertex >= 0) {
      own(schur, t, t.b, t.Gb);
      if (!held[t.vertex])
        for (let c = 0; c < 6; c++)
          for (let r = 0; r < 3; r++) {
            const q = 3 * t.vertex + r,
              column = C[6 * t.b + c]!;
            column[q] = column[q]! - times(t, t.Gb, r, c);
          }
      continue;
    }
    own(schur, t, t.a, t.Ga);
    if (t.b < 0) continue;
    own(schur, t, t.b, t.Gb);
    for (let c = 0; c < 6; c++)
      for (let d = 0; d < 6; d++) {
        let s = 0;
        for (let r = 0; r < 3; r++) s += part(t.Ga, r, c) * times(t, t.Gb, r, d);
        const i = 6 * t.a + c,
          j = 6 * t.b + d;
        L[i * size + j] = L[i * size + j]! - s;
        L[j * size + i] = L[j * size + i]! - s;
      }
  }
  for (let k = 0; k < bodies.spans.count; k++) {
    const t = bodies.spans.contacts[k]!;
    own(schur, t, t.body, t.G);
    for (let i = 0; i < 3; i++) {
      if (held[t.verts[i]!]) continue;
      for (let c = 0; c < 6; c++)
        for (let r = 0; r < 3; r++) {
          const column = C[6 * t.body + c]!,
            q = 3 * t.verts[i]! + r;
          column[q] = column[q]! - t.weights[i]! * times(t, t.G, r, c);
        }
    }
  }
  const first = 3 * bodies.sheet;
  for (let c = 0; c < size; c++) {
    solveSheet(C[c]!, Z[c]!);
    Z[c]!.fill(0, first);
  }
  for (let c = 0; c < size; c++)
    for (let d = 0; d <= c; d++) {
      let s = 0;
      const a = C[c]!,
        b = Z[d]!;
      for (let q = 0; q < first; q++) s += a[q]! * b[q]!;
      L[c * size + d] = L[c * size + d]! - s;
    }
  return choleskyInPlace(L, size);
}

const unit12 = new Float64Array(12),
  back12 = new Float64Array(12);

/** The geometric part (body-geometry.ts) of coupling and bodies' blocks, column by column. */
function addGeometric({ size, C, L }: Schur, bodies: Bodies): void {
  for (let k = 0; k < bodies.count; k++) {
    const t = bodies.contacts[k]!;
    for (let side = 0; side < 2; side++) {
      const body = side === 0 ? t.a : t.b;
      if (body < 0) continue;
      for (let c = 0; c < 6; c++) {
        unit12.fill(0);
        unit12[6 * side + c] = 1;
        geometric(bodies, t, unit12, back12);
        const column = 6 * body + c;
        for (let r = 0; r < 6; r++) {
          if (t.vertex < 0) {
            const q = (6 * t.a + r) * size + column;
            L[q] = L[q]! + back12[r]!;
          } else if (r < 3 && !bodies.model.held[t.vertex]) C[column]![3 * t.vertex + r] = C[column]![3 * t.vertex + r]! + back12[r]!;
          if (t.b < 0) continue;
          const q = (6 * t.b + r) * size + column;
          L[q] = L[q]! + back12[6 + r]!;
        }
      }
    }
  }
}

const STILL = new Float64Array(9);

/** The same of the contacts between the sheet's points. */
function addGeometricSpans({ size, C, L }: Schur, bodies: Bodies): void {
  const unit = new Float64Array(6);
  for (let k = 0; k < bodies.spans.count; k++) {
    const t = bodies.spans.contacts[k]!;
    for (let c = 0; c < 6; c++) {
      unit.fill(0);
      unit[c] = 1;
      const back = geometricStiffness(bodies, t, STILL, unit, 0),
        column = 6 * t.body + c;
      for (let i = 0; i < 9; i++) {
        const v = t.verts[(i / 3) | 0]!;
        if (!bodies.model.held[v]) C[column]![3 * v + (i % 3)] = C[column]![3 * v + (i % 3)]! + back[i]!;
      }
      for (let r = 0; r < 6; r++) L[(6 * t.body + r) * size + column] = L[(6 * t.body + r) * size + column]! + back[9 + r]!;
    }
  }
}

/** What the couplings need of a contact. */
type Stiff = Pick<BodyContact | BodySpan, 'B'>;

/** (B [1 | G])[r][c] */
function times(t: Stiff, G: Float64Array, r: number, c: number): number {
  let s = 0;
  for (let k = 0; k < 3; k++) s += t.B[3 * r + k]! * part(G, k, c);
  return s;
}

function own({ L, size }: Schur, t: Stiff, body: number, G: Float64Array): void {
  for (let c = 0; c < 6; c++)
    for (let d = 0; d < 6; d++) {
      let s = 0;
      for (let r = 0; r < 3; r++) s += part(G, r, c) * times(t, G, r, d);
      const q = (6 * body + c) * size + 6 * body + d;
      L[q] = L[q]! + s;
    }
}

/** z (sheet part: A^-1 r, already there) becomes the preconditioned residual of sheet and bodies. Mutates z. */
export function applySchur(schur: Schur, bodies: Bodies, r: Float64Array, z: Float64Array): void {
  const { size, C, Z, L } = schur,
    first = 3 * bodies.sheet,
    y = new Float64Array(size);
  for (let c = 0; c < size; c++) {
    let s = r[first + c]!;
    const column = C[c]!;
    for (let q = 0; q < first; q++) s -= column[q]! * z[q]!;
    y[c] = s;
  }
  choleskySolve(L, size, y);
  for (let c = 0; c < size; c++) {
    const column = Z[c]!,
      a = y[c]!;
    z[first + c] = a;
    for (let q = 0; q < first; q++) z[q] = z[q]! - a * column[q]!;
  }
}
