import type { Cables } from '../types.ts';

/**
 * Cable elements: tension along their length, such as the stretches of a strap. A cable is one straight piece, or several that run freely through the points where
 * they meet. Each end of a piece is a weighted mean of vertices: one vertex, or a patch of cloth that shares the tension by its weights.
 * e_p = b - a, l = sum |e_p|, t_p = e_p/|e_p|, T = EA (l - L)/L, W = sum over cables EA (l - L)^2 / (2 L). Compressed they resist alike, so that a
 * slack strap stays a chain of pieces of their own length. Ties only pull: W = k/2 <l - R>^2, k = EA/L, <v> = v for v > 0, else 0, with R the length they are drawn to just
 * now (L in the end). Once continuously differentiable. Assumes small strain. Cords among the ties: cords.ts.
 */
export interface CableState {
  readonly cables: Cables;
  readonly pieces: number;
  readonly count: number;
  /** 3p unit vectors and p lengths, m, at the last evaluation. */ readonly dir: Float64Array;
  readonly length: Float64Array;
  /** c tensions, N, at the last evaluation. */ readonly tension: Float64Array;
  /** c lengths beyond which each pulls just now, m: its rest length but where a tie is still being drawn up. Mutated by rest/closing.ts. */ readonly drawn: Float64Array;
  /** c stiffness along at the last evaluation, N/m: nought of a tie that is slack. */ readonly along: Float64Array;
  /** Number of the first tie. */ readonly firstTie: number;
  /** p: share of its cable's pull that each piece has, 1 but in a cord that rubs. Mutated by cords.ts. */ readonly share: Float64Array;
  /** c: of a cord its spring, N/m, and by how much its pull runs ahead of it, m; 0 of what is no cord. Mutated by cords.ts. */ readonly spring: Float64Array;
  readonly ahead: Float64Array;
  /** c tensions predicted by the last step, and those the linearisation uses. */ readonly predicted: Float64Array;
  readonly geometric: Float64Array;
  /** c: change of length in a displacement. */ readonly change: Float64Array;
  /** 3p: differences of a displacement across the pieces. */ readonly rate: Float64Array;
}

export function createCables(cables: Cables): CableState {
  const pieces = cables.cableOf.length,
    count = cables.rest.length,
    f = (k: number) => new Float64Array(k);
  return {
    cables,
    pieces,
    count,
    dir: f(3 * pieces),
    length: f(pieces),
    tension: f(count),
    drawn: cables.rest.slice(),
    along: f(count),
    firstTie: cables.ties?.first ?? count,
    share: f(pieces).fill(1),
    spring: f(count),
    ahead: f(count),
    predicted: f(count),
    geometric: f(count),
    change: f(count),
    rate: f(3 * pieces),
  };
}

/** out (3p) = b - a of every piece in the field x (positions or displacements). */
export function across(s: CableState, x: Float64Array, out: Float64Array): void {
  const { start, verts, weights } = s.cables;
  for (let p = 0; p < s.pieces; p++) {
    let a = 0,
      b = 0,
      c = 0;
    for (let q = start[p]!; q < start[p + 1]!; q++) {
      const v = 3 * verts[q]!,
        w = weights[q]!;
      a += w * x[v]!;
      b += w * x[v + 1]!;
      c += w * x[v + 2]!;
    }
    out[3 * p] = a;
    out[3 * p + 1] = b;
    out[3 * p + 2] = c;
  }
}

/** out += the force f on the end of piece p and -f on its beginning. */
function spread(s: CableState, p: number, fx: number, fy: number, fz: number, out: Float64Array): void {
  const { start, verts, weights } = s.cables;
  for (let q = start[p]!; q < start[p + 1]!; q++) {
    const v = 3 * verts[q]!,
      w = weights[q]!;
    out[v] = out[v]! + w * fx;
    out[v + 1] = out[v + 1]! + w * fy;
    out[v + 2] = out[v + 2]! + w * fz;
  }
}

/** c lengths of the cables at x, m. Mutates the scratch of s, so that it has to be evaluated again. */
export function cableLengths(s: CableState, x: Float64Array): Float64Array {
  const out = new Float64Array(s.count),
    { rate, cables } = s;
  across(s, x, rate);
  for (let p = 0; p < s.pieces; p++) {
    const c = cables.cableOf[p]!;
    out[c] = out[c]! + Math.sqrt(rate[3 * p]! * rate[3 * p]! + rate[3 * p + 1]! * rate[3 * p + 1]! + rate[3 * p + 2]! * rate[3 * p + 2]!);
  }
  return out;
}

/** Energy, J; adds the gradient to g (3n) and keeps directions and tensions. */
export function evaluateCables(s: CableState, x: Float64Array, g: Float64Array | null): number {
  const { rest, stiffness, cableOf } = s.cables,
    { dir, length, tension, change, drawn, along, share, spring, ahead } = s;
  across(s, x, dir);
  change.fill(0);
  for (let p = 0; p < s.pieces; p++) {
    const l = Math.sqrt(dir[3 * p]! * dir[3 * p]! + dir[3 * p + 1]! * dir[3 * p + 1]! + dir[3 * p + 2]! * dir[3 * p + 2]!),
      i = l > 0 ? 1 / l : 0;
    length[p] = l;
    for (let k = 3 * p; k < 3 * p + 3; k++) dir[k] = dir[k]! * i;
    change[cableOf[p]!] = change[cableOf[p]!]! + share[p]! * l;
  }
  let energy = 0;
  for (let c = 0; c < s.count; c++) {
    const longer = c < s.firstTie ? change[c]! - drawn[c]! : Math.max(0, change[c]! - drawn[c]! + ahead[c]!);
    along[c] = c < s.firstTie || longer > 0 ? spring[c]! || stiffness[c]! / rest[c]! : 0;
    tension[c] = spring[c]! > 0 ? spring[c]! * longer : (stiffness[c]! * longer) / rest[c]!;
    energy += 0.5 * tension[c]! * longer;
  }
  if (g) {
    for (let p = 0; p < s.pieces; p++) {
      const T = share[p]! * tension[cableOf[p]!]!;
      spread(s, p, T * dir[3 * p]!, T * dir[3 * p + 1]!, T * dir[3 * p + 2]!, g);
    }
  }
  return energy;
}

/** Tensions that carry the geometric stiffness: predicted or actual; `positive` drops compressions. */
export function lineariseCables(s: CableState, predicted: boolean, positive: boolean): void {
  s.geometric.set(predicted ? s.predicted : s.tension);
  if (positive) for (let c = 0; c < s.count; c++) s.geometric[c] = Math.max(0, s.geometric[c]!);
}

/** Differences and changes of length of a displacement, into s.rate and s.change. */
function rates(s: CableState, dx: Float64Array): void {
  const { dir, rate, change } = s;
  across(s, dx, rate);
  change.fill(0);
  for (let p = 0; p < s.pieces; p++) {
    const c = s.cables.cableOf[p]!;
    const k = s.share[p]!;
    change[c] = change[c]! + k * dir[3 * p]! * rate[3 * p]! + k * dir[3 * p + 1]! * rate[3 * p + 1]! + k * dir[3 * p + 2]! * rate[3 * p + 2]!;
  }
}

/** Stiffness across piece p, T/l, N/m. */
const crosswise = (s: CableState, p: number): number => (s.share[p]! * s.geometric[s.cables.cableOf[p]!]!) / Math.max(s.length[p]!, 1e-9);

/** out += H dx. */
export function applyCables(s: CableState, dx: Float64Array, out: Float64Array): void {
  const { dir, rate, change } = s,
    { cableOf } = s.cables;
  rates(s, dx);
  for (let p = 0; p < s.pieces; p++) {
    const q = 3 * p,
      c = cableOf[p]!,
      n = crosswise(s, p),
      own = dir[q]! * rate[q]! + dir[q + 1]! * rate[q + 1]! + dir[q + 2]! * rate[q + 2]!,
      a = s.share[p]! * s.along[c]! * change[c]! - n * own;
    spread(s, p, a * dir[q]! + n * rate[q]!, a * dir[q + 1]! + n * rate[q + 1]!, a * dir[q + 2]! + n * rate[q + 2]!, out);
  }
}

/** Tensions after the step dx, to first order. */
export function predictCables(s: CableState, dx: Float64Array): void {
  rates(s, dx);
  for (let c = 0; c < s.count; c++) {
    const T = s.tension[c]! + s.along[c]! * s.change[c]!;
    s.predicted[c] = c < s.firstTie ? T : Math.max(0, T);
  }
}

/** Pairs of vertices that a piece couples, each once per piece: for laying out a matrix, not for filling it (it calls back). */
export function eachCablePair(s: CableState, visit: (a: number, b: number) => void): void {
  const { start, verts } = s.cables;
  for (let p = 0; p < s.pieces; p++) for (let q = start[p]!; q < start[p + 1]!; q++) for (let r = start[p]!; r <= q; r++) visit(verts[q]!, verts[r]!);
}

/** out (3n) += the gradient of cable c's length, each piece by its share. Call with s evaluated. */
export function addLengthGradient(s: CableState, c: number, out: Float64Array): void {
  for (let p = 0; p < s.pieces; p++)
    if (s.cables.cableOf[p] === c) spread(s, p, s.share[p]! * s.dir[3 * p]!, s.share[p]! * s.dir[3 * p + 1]!, s.share[p]! * s.dir[3 * p + 2]!, out);
}

/** 9 numbers (symmetric): stiffness of piece p between its two ends, as if the other pieces of its cable stood still (a preconditioner's view); of a cord only across. */
export function cableBlock(s: CableState, p: number, out: Float64Array): void {
  const c = s.cables.cableOf[p]!,
    n = crosswise(s, p),
    a = (s.spring[c]! > 0 ? 0 : s.along[c]!) - n;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) out[3 * i + j] = a * s.dir[3 * p + i]! * s.dir[3 * p + j]! + (i === j ? n : 0);
}
