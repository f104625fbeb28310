import { libm } from '../../numerics/index.ts';
import type { Cord, Model } from '../types.ts';
import { across, addLengthGradient, type CableState } from './cables.ts';

/**
 * Cords in channels, drawn to a length and pulled at both free ends with T0. Three things set them apart from other ties:
 *   friction: drawn up, a cord slides towards its ends everywhere, and its pull falls with all the angle theta that it has turned by since the nearer end,
 *     T = T0 f, f = exp(-mu theta) (Euler; Eytelwein 1808);
 *   length: T0 = k <sum f l - R>, with a spring k that is soft beside what stretch would resist; each time that all else is near rest R moves by what the length is still off,
 *     times sum f l / sum l. At rest sum l = L whatever k is (method of multipliers: Hestenes 1969, Powell 1969). With a spring as stiff as a cord one millimetre of a
 *     step's own curvature brought pulls of a thousand newtons on the way;
 *   preconditioner: its pieces slide into one another, so that their stiffness along is one vector's, k u u^T, u the gradient of sum f l: beside the factor A of
 *     everything else (A + k u u^T)^-1 r = z - Z y, Z = A^-1 U, (1/k + U^T Z) y = Z^T r (Sherman, Morrison, Woodbury).
 * f stays for a step and follows once it is accepted, as the anchors of friction do: within a step W = k/2 <sum f l - R>^2, and T0 stays as f follows.
 * Assumes that the cord was drawn last, and that nothing has slid back since.
 */
export interface CordState {
  readonly cords: readonly Cord[];
  /** Do they rub? Hands that draw a cord up in steps draw it evenly. */ rubs: boolean;
  /** Share of its pull that each has left where it has turned most, half way round. */ readonly far: Float64Array;
  /** How far each was from its length when it was last pulled, m. */ readonly off: Float64Array;
  /** Of each that pulls: U and A^-1 U (3n), and the lower factor of 1/k + U^T A^-1 U. */
  readonly rows: { readonly u: Float64Array; readonly z: Float64Array }[];
  lower: Float64Array;
}

/** Spring of a cord to begin with, and its largest, N/m; firmer by FIRMER each time that its length comes nearer by less than that. Chosen: soft beside cloth in its plane. */
const SOFT = 500;
const FIRM = 5e4;
const FIRMER = 4;
/** Only this near to its length, m: further off a firm spring throws its cloth about. */
const NEAR = 1e-4;
/** Hardest pull at the free ends, N: what two hands give. What does not come then stays open. */
const HARDEST = 100;

export function createCords(model: Model, cables: CableState | null): CordState | null {
  const cords = model.cables?.ties?.cords ?? [];
  if (!cables || cords.length === 0) return null;
  for (const { cable } of cords) cables.spring[cable] = SOFT;
  return {
    cords,
    rubs: true,
    far: new Float64Array(cords.length).fill(1),
    off: new Float64Array(cords.length).fill(Number.POSITIVE_INFINITY),
    rows: [],
    lower: new Float64Array(0),
  };
}

/** Shares of the pull follow the accepted state x (3n); the pull at the ends stays. Mutates s and cables. */
export function commitCords(s: CordState, cables: CableState, x: Float64Array): void {
  const { dir, length, share, ahead } = cables;
  across(cables, x, dir);
  for (let p = 0; p < cables.pieces; p++) {
    const l = Math.sqrt(dir[3 * p]! * dir[3 * p]! + dir[3 * p + 1]! * dir[3 * p + 1]! + dir[3 * p + 2]! * dir[3 * p + 2]!);
    length[p] = l;
    for (let k = 3 * p; k < 3 * p + 3; k++) dir[k] = l > 0 ? dir[k]! / l : 0;
  }
  s.cords.forEach((cord, i) => {
    if (cord.friction === 0 || !s.rubs) return;
    const [first, end] = piecesOf(cables, cord);
    let more = 0;
    for (let p = first; p < end; p++) more += share[p]! * length[p]!;
    s.far[i] = sharesOf(cables, cord, first, end);
    for (let p = first; p < end; p++) more -= share[p]! * length[p]!;
    ahead[cord.cable] = ahead[cord.cable]! + more;
  });
}

/** Moves R of cords that are not at their lengths, where all else is near rest. Call after commitCords at the same x. */
export function pullCords(s: CordState, cables: CableState): void {
  const { length, share, spring, ahead, drawn } = cables;
  s.cords.forEach((cord, i) => {
    const c = cord.cable,
      [first, end] = piecesOf(cables, cord);
    let [whole, shared] = [0, 0];
    for (let p = first; p < end; p++) {
      whole += length[p]!;
      shared += share[p]! * length[p]!;
    }
    const k = spring[c]!,
      off = whole - drawn[c]!,
      pull = k * Math.max(0, shared - drawn[c]! + ahead[c]!);
    if (Math.abs(off) > NEAR) spring[c] = SOFT;
    else if (pull > 0 && Math.abs(off) * FIRMER > Math.abs(s.off[i]!)) spring[c] = Math.min(FIRM, FIRMER * k);
    s.off[i] = off;
    // What the length is off by is asked of sum f l in proportion, beside the pull as it is.
    ahead[c] = Math.min(HARDEST / spring[c]!, Math.max(0, pull / spring[c]! + (shared / whole) * off)) - shared + drawn[c]!;
  });
}

/** Force, N, by which the cord that is furthest from its length is off: of one that pulls, or is too long. Call with cables evaluated. */
export function cordsOff({ cords }: CordState, { cables, length, drawn, tension }: CableState): number {
  let worst = 0;
  for (const { cable } of cords) {
    let off = -drawn[cable]!;
    for (let p = 0; p < length.length; p++) if (cables.cableOf[p] === cable) off += length[p]!;
    if (off > 0 || tension[cable]! > 0) worst = Math.max(worst, SOFT * Math.abs(off));
  }
  return worst;
}

const piecesOf = ({ cables }: CableState, { cable }: Cord): readonly [number, number] => [cables.cableOf.indexOf(cable), cables.cableOf.lastIndexOf(cable) + 1];

/** Sets f of the pieces first to end - 1 from the angles between them; f half way round. */
function sharesOf({ dir, share }: CableState, { friction, loop }: Cord, first: number, end: number): number {
  const n = end - first,
    // turned[i]: between piece i - 1 and piece i; at the ends of a loop half of it lies on either side.
    turned = new Float64Array(n + 1);
  for (let i = 1; i < n; i++) turned[i] = between(dir, first + i - 1, first + i);
  if (loop) turned[0] = turned[n] = between(dir, end - 1, first) / 2;
  let total = 0;
  for (const t of turned) total += t;
  let from = 0;
  for (let i = 0; i < n; i++) {
    from += turned[i]!;
    share[first + i] = libm.exp(-friction * Math.min(from, total - from));
  }
  return libm.exp((-friction * total) / 2);
}

/** Angle between two unit vectors, rad. */
function between(d: Float64Array, p: number, q: number): number {
  const [a, b, c, u, v, w] = [d[3 * p]!, d[3 * p + 1]!, d[3 * p + 2]!, d[3 * q]!, d[3 * q + 1]!, d[3 * q + 2]!];
  const cross = Math.sqrt((b * w - c * v) * (b * w - c * v) + (c * u - a * w) * (c * u - a * w) + (a * v - b * u) * (a * v - b * u));
  return libm.atan2(cross, a * u + b * v + c * w);
}

/** Pull of every cable, N: of a cord where friction has left least of it. Call with cables evaluated. */
export function leastPulls({ cords, cables }: { readonly cords: CordState | null; readonly cables: CableState | null }): Float64Array {
  const out = cables?.tension.slice() ?? new Float64Array(0);
  cords?.cords.forEach(({ cable }, i) => {
    out[cable] = out[cable]! * cords.far[i]!;
  });
  return out;
}

/** What a state of cords is, to be put back with the positions it belongs to. */
export type SavedCords = readonly Float64Array[];

const kept = (s: CordState, { share, spring, ahead }: CableState): readonly Float64Array[] => [share, spring, ahead, s.off, s.far];

export const saveCords = (s: CordState, cables: CableState): SavedCords => kept(s, cables).map((a) => a.slice());

export const putBackCords = (s: CordState, cables: CableState, saved: SavedCords): void => {
  kept(s, cables).forEach((a, i) => {
    a.set(saved[i]!);
  });
};

/** Makes ready for preconditionCords, after the factor that `solve` goes by was made. held: n. */
export function factorCords(s: CordState, cables: CableState, held: Uint8Array, solve: (b: Float64Array, x: Float64Array) => void): void {
  s.rows.length = 0;
  const firm: number[] = [];
  for (const { cable } of s.cords) {
    if (!(cables.along[cable]! > 0)) continue;
    const u = new Float64Array(3 * held.length),
      z = new Float64Array(u.length);
    addLengthGradient(cables, cable, u);
    for (let v = 0; v < held.length; v++) if (held[v]) u.fill(0, 3 * v, 3 * v + 3);
    solve(u, z);
    s.rows.push({ u, z });
    firm.push(cables.along[cable]!);
  }
  const m = firm.length;
  s.lower = new Float64Array(m * m);
  for (let j = 0; j < m; j++)
    for (let i = j; i < m; i++) {
      let sum = dot(s.rows[i]!.u, s.rows[j]!.z) + (i === j ? 1 / firm[i]! : 0);
      for (let k = 0; k < j; k++) sum -= s.lower[i * m + k]! * s.lower[j * m + k]!;
      s.lower[i * m + j] = i === j ? Math.sqrt(sum) : sum / s.lower[j * m + j]!;
    }
}

/** z (A^-1 r, already there) becomes (A + sum k u u^T)^-1 r. Mutates z. */
export function preconditionCords(s: CordState, r: Float64Array, z: Float64Array): void {
  const m = s.rows.length,
    y = s.rows.map((row) => dot(row.z, r));
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < i; k++) y[i] = y[i]! - s.lower[i * m + k]! * y[k]!;
    y[i] = y[i]! / s.lower[i * m + i]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    for (let k = i + 1; k < m; k++) y[i] = y[i]! - s.lower[k * m + i]! * y[k]!;
    y[i] = y[i]! / s.lower[i * m + i]!;
  }
  for (let i = 0; i < m; i++) {
    const { z: column } = s.rows[i]!,
      a = y[i]!;
    for (let q = 0; q < z.length; q++) z[q] = z[q]! - a * column[q]!;
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
