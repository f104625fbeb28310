/** A sheet made of two kinds of cloth in narrow strips side by side, and matrices in turned axes. */
import { libm } from '../numerics/index.ts';
import { full, type Sym } from './orthotropy.ts';

type Rows = readonly (readonly number[])[];
const entries = (m: Rows): Sym => [m[0]![0]!, m[1]![1]!, m[2]![2]!, m[0]![1]!, m[0]![2]!, m[1]![2]!];

/** The same sheet seen from axes turned by `angle`, rad counterclockwise from those of m: T^T m T with the Voigt vectors [k11, k22, 2 k12] of both axes. */
export function seenFrom(m: Sym, angle: number): Sym {
  const c = libm.cos(angle),
    s = libm.sin(angle);
  const T = [
    [c * c, s * s, -s * c],
    [s * s, c * c, s * c],
    [2 * s * c, -2 * s * c, c * c - s * s],
  ];
  const Q = full(m);
  const at = (i: number, j: number): number => {
    let sum = 0;
    for (let k = 0; k < 3; k++) for (let l = 0; l < 3; l++) sum += T[k]![i]! * Q[k]![l]! * T[l]![j]!;
    return sum;
  };
  return [at(0, 0), at(1, 1), at(2, 2), at(0, 1), at(0, 2), at(1, 2)];
}

/** Exchanges cause and effect of entry k (sweep operator); with sign -1 it undoes itself. */
function sweep(m: Rows, k: number, sign: 1 | -1): Rows {
  const d = m[k]![k]!;
  return m.map((row, i) =>
    row.map((v, j) => {
      if (i === k && j === k) return -1 / d;
      if (i === k || j === k) return (sign * v) / d;
      return v - (m[i]![k]! * m[k]![j]!) / d;
    }),
  );
}

/** What strips side by side have in common across their borders (1 along the strips, 2 across): the moment M22, or the pulls N22 and N12. */
const SHARED = { bending: [1], inPlane: [1, 2] } as const;

/**
 * Mean stiffness of narrow parallel strips of two sheets, exact for strips much narrower than what bends. Along the strips both take the same curvature and twist
 * (in plane: the same stretch), so their stiffnesses add; across, both carry the same moment (in plane: pull and shear), so the softer one gives.
 * Parameters: a, b in axes 1 along and 2 across the strips, positive definite; share of b, 0..1; which of the two matrices it is.
 * Source: lamination formula for strips in parallel and in series, rank-one laminates (Milton, The Theory of Composites, 2002, ch. 9; from memory).
 */
export function sideBySide(a: Sym, b: Sym, share: number, which: keyof typeof SHARED): Sym {
  const swept = [a, b].map((m) => SHARED[which].reduce<Rows>((r, k) => sweep(r, k, 1), full(m)));
  const mean = swept[0]!.map((row, i) => row.map((v, j) => (1 - share) * v + share * swept[1]![i]![j]!));
  return entries(SHARED[which].reduce<Rows>((r, k) => sweep(r, k, -1), mean));
}
