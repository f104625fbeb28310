import type { Bag } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import type { Draft } from '../panels/types.ts';
import { EDGE_SEAM, type Gathered, type Gathers } from './types.ts';

/** Mesh edges to one wave of gathered cloth: fewer would draw a zigzag. */
export const EDGES_A_WAVE = 6;

/** What the gathers are read from: the welded tables of a mesh. */
interface Tables {
  readonly triVerts: Uint32Array;
  readonly triPanel: Uint16Array;
  readonly triFlat: Float64Array;
  readonly edgeTris: Int32Array;
  readonly edgeLocal: Int8Array;
  readonly edgeKind: Uint8Array;
  readonly edgeSeam: Int32Array;
}

/**
 * Rest shape of gathered cloth beside its seam; undefined for a bag without a gathered seam.
 * Gathering stitches lay the fullness in pleats of a few millimetres, far below any mesh; with distance from the seam pleats join into wider ones
 * (wrinkles held narrow at one end coarsen away from it). What a mesh of edge h cannot draw is taken up below it: along the seam the rest length is the
 * sewn one, 1/ratio of the cut, and it grows linearly to the full cut length over a strip half a wave wide, 3 h, a wave being 6 h of cloth.
 *   edge length^2 = |e|^2 + (s^2 - 1)(e . t)^2, s = mean of its ends' shares, t = direction of the seam: one length for both triangles of an edge.
 * Assumptions (estimates): unfolding pleats carry no force; the width of the strip goes with the mesh, so a finer mesh draws more of the gather.
 */
export function gathersOf(bag: Bag, draft: Draft, mesh: Tables, h: number): Gathers | undefined {
  const stretches: number[][] = draft.panels.map(() => []);
  const plain: number[][] = draft.panels.map(() => []);
  const sewnEdge = new Map<number, number>();
  const { triFlat } = mesh;
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_SEAM) continue;
    const sides = [0, 1].map((side) => {
      const [t, k] = [mesh.edgeTris[2 * e + side], mesh.edgeLocal[2 * e + side]];
      const [i, j] = [6 * t + 2 * ((k + 1) % 3), 6 * t + 2 * ((k + 2) % 3)];
      return { t, k, i, j, length: libm.hypot(triFlat[j] - triFlat[i], triFlat[j + 1] - triFlat[i + 1]) };
    });
    const [long, short] = sides[0].length >= sides[1].length ? sides : [sides[1], sides[0]];
    const write = (to: number[][], { t, i, j }: typeof long, share: number): void => {
      to[mesh.triPanel[t]].push(triFlat[i], triFlat[i + 1], triFlat[j], triFlat[j + 1], share);
    };
    if ((bag.seams[mesh.edgeSeam[e]].gather ?? 1) <= 1 || long.length <= short.length * (1 + 1e-6)) {
      for (const side of sides) write(plain, side, 1);
      continue;
    }
    write(plain, short, 1);
    write(stretches, long, short.length / long.length);
    const key = 3 * long.t + long.k;
    sewnEdge.set(key, Math.min(short.length, sewnEdge.get(key) ?? Number.POSITIVE_INFINITY));
  }
  if (sewnEdge.size === 0) return undefined;
  const width = (EDGES_A_WAVE / 2) * h;
  const panels = stretches.flatMap((list, panel): Gathered[] => (list.length > 0 ? [{ panel, stretches: Float64Array.from(list) }] : []));
  const [triSewn, triPressed] = [triFlat.slice(), triFlat.slice()];
  for (const gathered of panels) {
    shorten(mesh, gathered.panel, (x, y) => shareAt(gathered, width, x, y), sewnEdge, triSewn);
    shorten(mesh, gathered.panel, (x, y) => pressedAt(gathered, plain[gathered.panel], x, y), sewnEdge, triPressed);
  }
  return { triSewn, triPressed, width, panels };
}

/** Share of the cut length at a flat place, and the direction it is taken in. */
interface Share {
  readonly share: number;
  readonly tx: number;
  readonly ty: number;
}

/**
 * As if the panel had never been cut fuller: the share of the nearest gathered place, going over to 1 toward seams that run alongside without a gather.
 * A seam counts by the square of the cosine of its turn from the gather: side seams, square to it, hold no length that way.
 */
function pressedAt(gathered: Gathered, plain: readonly number[], x: number, y: number): Share {
  const near = shareAt(gathered, Number.POSITIVE_INFINITY, x, y);
  let other = Number.POSITIVE_INFINITY;
  for (let i = 0; i < plain.length; i += 5) {
    const [dx, dy] = [plain[i + 2] - plain[i], plain[i + 3] - plain[i + 1]];
    const length2 = dx * dx + dy * dy;
    const turn = libm.square(dx * near.tx + dy * near.ty) / length2;
    if (turn < 0.25) continue;
    const w = Math.min(1, Math.max(0, ((x - plain[i]) * dx + (y - plain[i + 1]) * dy) / length2));
    other = Math.min(other, libm.hypot(x - plain[i] - w * dx, y - plain[i + 1] - w * dy) / turn);
  }
  const toward = other === Number.POSITIVE_INFINITY ? 0 : near.distance / (near.distance + other || 1);
  return { share: near.share + (1 - near.share) * toward, tx: near.tx, ty: near.ty };
}

/**
 * Share of the cut length that cloth has at a flat place, with the seam's direction there and its distance, m. Ends of neighbouring stretches take the
 * mean of their shares, so that the share is one number at every place.
 */
export function shareAt(gathered: Gathered, width: number, x: number, y: number): { share: number; tx: number; ty: number; distance: number } {
  const g = gathered.stretches;
  let [least, sum, tx, ty, count] = [Number.POSITIVE_INFINITY, 0, 0, 0, 0];
  for (let i = 0; i < g.length; i += 5) {
    const dx = g[i + 2] - g[i];
    const dy = g[i + 3] - g[i + 1];
    const length2 = dx * dx + dy * dy;
    const w = Math.min(1, Math.max(0, ((x - g[i]) * dx + (y - g[i + 1]) * dy) / length2));
    const offX = x - g[i] - w * dx;
    const offY = y - g[i + 1] - w * dy;
    const distance = Math.sqrt(offX * offX + offY * offY);
    if (distance > least + 1e-9) continue;
    if (distance < least - 1e-9) [sum, tx, ty, count] = [0, 0, 0, 0];
    least = Math.min(least, distance);
    const length = Math.sqrt(length2);
    // A stretch may be run either way: directions are added as lines, not as arrows.
    const sign = tx * dx + ty * dy < 0 ? -1 : 1;
    sum += g[i + 4];
    tx += (sign * dx) / length;
    ty += (sign * dy) / length;
    count++;
  }
  const norm = libm.hypot(tx, ty) || 1;
  const sewn = sum / count;
  return { share: sewn + (1 - sewn) * Math.min(1, least / width), tx: tx / norm, ty: ty / norm, distance: least };
}

/** Writes the shortened triangles of one panel into `out` (6 a triangle, mutated). */
function shorten(mesh: Tables, panel: number, shareOf: (x: number, y: number) => Share, sewnEdge: ReadonlyMap<number, number>, out: Float64Array): void {
  const { triFlat: f } = mesh;
  // A vertex is a corner of six triangles; its share is looked up once.
  const known = new Map<number, Map<number, Share>>();
  const shareHere = (x: number, y: number): Share => {
    const row = known.get(x) ?? new Map<number, Share>();
    known.set(x, row);
    const share = row.get(y) ?? shareOf(x, y);
    row.set(y, share);
    return share;
  };
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== panel) continue;
    const q = 6 * t;
    const at = [0, 1, 2].map((k) => shareHere(f[q + 2 * k], f[q + 2 * k + 1]));
    if (at.every((a) => a.share > 1 - 1e-12)) continue;
    const length = (k: number): number => {
      const sewn = sewnEdge.get(3 * t + k);
      if (sewn !== undefined) return sewn;
      const [i, j] = [(k + 1) % 3, (k + 2) % 3];
      const [ex, ey] = [f[q + 2 * j] - f[q + 2 * i], f[q + 2 * j + 1] - f[q + 2 * i + 1]];
      const sign = at[i].tx * at[j].tx + at[i].ty * at[j].ty < 0 ? -1 : 1;
      const [tx, ty] = [at[i].tx + sign * at[j].tx, at[i].ty + sign * at[j].ty];
      const along = (ex * tx + ey * ty) / (libm.hypot(tx, ty) || 1);
      const share = (at[i].share + at[j].share) / 2;
      return Math.sqrt(ex * ex + ey * ey + (share * share - 1) * along * along);
    };
    out.set(withLengths(f.subarray(q, q + 6), length(2), length(0), length(1)), q);
  }
}

/**
 * Triangle of the three given side lengths (corners 0-1, 1-2, 2-0), turned and moved onto the flat one as well as it goes, so that the grain keeps its
 * direction. Lengths that no triangle has give the flat one.
 */
function withLengths(flat: Float64Array, a01: number, a12: number, a20: number): Float64Array {
  const u = (a01 * a01 + a20 * a20 - a12 * a12) / (2 * a01);
  const v2 = a20 * a20 - u * u;
  if (!(v2 > 1e-4 * a01 * a01)) return flat;
  const local = [0, 0, a01, 0, u, Math.sqrt(v2)];
  const mean = (c: ArrayLike<number>, d: number): number => (c[d] + c[2 + d] + c[4 + d]) / 3;
  const [mx, my, lx, ly] = [mean(flat, 0), mean(flat, 1), mean(local, 0), mean(local, 1)];
  let [cos, sin] = [0, 0];
  for (let k = 0; k < 3; k++) {
    const [px, py, qx, qy] = [local[2 * k] - lx, local[2 * k + 1] - ly, flat[2 * k] - mx, flat[2 * k + 1] - my];
    cos += px * qx + py * qy;
    sin += px * qy - py * qx;
  }
  const r = libm.hypot(cos, sin);
  [cos, sin] = [cos / r, sin / r];
  return Float64Array.from(
    [0, 1, 2].flatMap((k) => [mx + cos * (local[2 * k] - lx) - sin * (local[2 * k + 1] - ly), my + sin * (local[2 * k] - lx) + cos * (local[2 * k + 1] - ly)]),
  );
}
