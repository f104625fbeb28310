import { libm } from '../numerics/index.ts';
import { symmetricEigen } from './linear.ts';
import { type PanelSheet, triangleNormal, vertexNormals } from './sheet.ts';

/** What a wall's shape says: lean, bulge, and the deviation that folds are counted in. */
export interface WallShape {
  /** rad */ readonly lean: number;
  /** Largest deviation over drafted width. */ readonly bulge: number;
  /** Drafted width, m. */ readonly width: number;
  /** Per local vertex: signed distance off the best-fit plane (curved walls: off the drafted shape laid on the settled one), m. */
  readonly deviation: Float64Array;
}

/** A wall counts as drafted flat when nothing of it lies further than this off its own plane, as a fraction of its width. */
const FLAT = 0.02;

/**
 * Lean and bulge of one wall. Drafted flat walls:
 *   plane: least squares through the vertices, area weights (smallest eigenvector of the 3 x 3 covariance), normal out of the face;
 *   lean = |asin(n_z settled) - asin(n_z drafted)|: what a set square on the table reads, so a wall that only turns about the upright does not lean;
 *   bulge = max |distance off the settled plane| / W, W = drafted extent along the wall's own level direction (straightedge).
 * Walls drafted curved (tubes, gussets round a corner) have no plane:
 *   lean = angle between the wall's axis drafted and settled, axis = slope of position against drafted height;
 *   bulge = max |(x - (R x0 + t)) . R n0| / W, R, t the best rigid fit of the drafted wall, n0 its drafted normal (a rim gone oval shows here).
 * Assumes z up. sheet: the wall; drafted, settled: 3n positions, m. Source: least squares; rigid fit Horn 1987 (from memory).
 */
export function wallShape(sheet: PanelSheet, drafted: Float64Array, settled: Float64Array): WallShape {
  const width = levelWidth(sheet, drafted);
  const plane0 = fitPlane(sheet, drafted);
  if (largest(plane0.distance) <= FLAT * width) {
    const plane1 = fitPlane(sheet, settled);
    const lean = Math.abs(libm.asin(clamp(plane1.normal[2])) - libm.asin(clamp(plane0.normal[2])));
    return { lean, bulge: largest(plane1.distance) / width, width, deviation: plane1.distance };
  }
  const deviation = offDrafted(sheet, drafted, settled);
  return { lean: axisLean(sheet, drafted, settled), bulge: largest(deviation) / width, width, deviation };
}

const clamp = (v: number): number => Math.min(1, Math.max(-1, v));

function largest(values: Float64Array): number {
  let m = 0;
  for (const v of values) m = Math.max(m, Math.abs(v));
  return m;
}

function centroid(sheet: PanelSheet, x: Float64Array): [number, number, number] {
  const c: [number, number, number] = [0, 0, 0];
  let total = 0;
  sheet.verts.forEach((v, i) => {
    for (let k = 0; k < 3; k++) c[k] += sheet.area[i] * x[3 * v + k];
    total += sheet.area[i];
  });
  return [c[0] / total, c[1] / total, c[2] / total];
}

/** Extent of the drafted wall along the level direction in which it spreads most: W of a flat wall, the diameter of a tube, m. */
function levelWidth(sheet: PanelSheet, x: Float64Array): number {
  const c = centroid(sheet, x);
  let xx = 0;
  let xy = 0;
  let yy = 0;
  sheet.verts.forEach((v, i) => {
    const dx = x[3 * v] - c[0];
    const dy = x[3 * v + 1] - c[1];
    xx += sheet.area[i] * dx * dx;
    xy += sheet.area[i] * dx * dy;
    yy += sheet.area[i] * dy * dy;
  });
  const [ux, uy] = symmetricEigen([
    [xx, xy],
    [xy, yy],
  ]).vectors[1];
  let low = Infinity;
  let high = -Infinity;
  for (const v of sheet.verts) {
    const s = ux * x[3 * v] + uy * x[3 * v + 1];
    low = Math.min(low, s);
    high = Math.max(high, s);
  }
  return high - low;
}

/** Best-fit plane: unit normal on the face's side, signed distance of every local vertex, m. */
function fitPlane(sheet: PanelSheet, x: Float64Array): { normal: [number, number, number]; distance: Float64Array } {
  const c = centroid(sheet, x);
  const cov = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  sheet.verts.forEach((v, i) => {
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) cov[a][b] += sheet.area[i] * (x[3 * v + a] - c[a]) * (x[3 * v + b] - c[b]);
  });
  const n = symmetricEigen(cov).vectors[0];
  const face = [0, 0, 0];
  for (let t = 0; t < sheet.tris.length; t += 3) {
    const m = triangleNormal(x, sheet.verts[sheet.tris[t]], sheet.verts[sheet.tris[t + 1]], sheet.verts[sheet.tris[t + 2]]);
    for (let k = 0; k < 3; k++) face[k] += m[k];
  }
  const sign = n[0] * face[0] + n[1] * face[1] + n[2] * face[2] < 0 ? -1 : 1;
  const normal: [number, number, number] = [sign * n[0], sign * n[1], sign * n[2]];
  const distance = Float64Array.from(sheet.verts, (v) => {
    return normal[0] * (x[3 * v] - c[0]) + normal[1] * (x[3 * v + 1] - c[1]) + normal[2] * (x[3 * v + 2] - c[2]);
  });
  return { normal, distance };
}

/** Axis of a wall: slope of its position against drafted height, area-weighted regression; unit. */
function axisOf(sheet: PanelSheet, drafted: Float64Array, x: Float64Array): [number, number, number] {
  const h0 = centroid(sheet, drafted)[2];
  const a: [number, number, number] = [0, 0, 0];
  sheet.verts.forEach((v, i) => {
    const w = sheet.area[i] * (drafted[3 * v + 2] - h0);
    for (let k = 0; k < 3; k++) a[k] += w * x[3 * v + k];
  });
  const l = libm.norm(a);
  return l > 0 ? [a[0] / l, a[1] / l, a[2] / l] : [0, 0, 1];
}

function axisLean(sheet: PanelSheet, drafted: Float64Array, settled: Float64Array): number {
  const a = axisOf(sheet, drafted, drafted);
  const b = axisOf(sheet, drafted, settled);
  // atan2 of cross and dot: acos loses half the digits near zero.
  const cross = libm.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]);
  return libm.atan2(cross, a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}

function offDrafted(sheet: PanelSheet, drafted: Float64Array, settled: Float64Array): Float64Array {
  const c0 = centroid(sheet, drafted);
  const c1 = centroid(sheet, settled);
  const R = bestRotation(sheet, drafted, c0, settled, c1);
  const n0 = vertexNormals(sheet, drafted);
  const turn = (p: readonly number[]) => R.map((row) => row[0] * p[0] + row[1] * p[1] + row[2] * p[2]);
  return Float64Array.from(sheet.verts, (v, i) => {
    const moved = turn([0, 1, 2].map((k) => drafted[3 * v + k] - c0[k]));
    const n = turn([n0[3 * i], n0[3 * i + 1], n0[3 * i + 2]]);
    return n.reduce((s, nk, k) => s + nk * (settled[3 * v + k] - c1[k] - moved[k]), 0);
  });
}

/** Rotation (rows) that lays the drafted wall best on the settled one: largest eigenvector of Horn's quaternion matrix. */
function bestRotation(sheet: PanelSheet, x0: Float64Array, c0: readonly number[], x1: Float64Array, c1: readonly number[]): number[][] {
  const S = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  sheet.verts.forEach((v, i) => {
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) S[a][b] += sheet.area[i] * (x0[3 * v + a] - c0[a]) * (x1[3 * v + b] - c1[b]);
  });
  const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = S;
  const [w, x, y, z] = symmetricEigen([
    [xx + yy + zz, yz - zy, zx - xz, xy - yx],
    [yz - zy, xx - yy - zz, xy + yx, zx + xz],
    [zx - xz, xy + yx, yy - xx - zz, yz + zy],
    [xy - yx, zx + xz, yz + zy, zz - xx - yy],
  ]).vectors[3];
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  ];
}
