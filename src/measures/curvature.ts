import { libm } from '../numerics/index.ts';
import { leastSquares } from './linear.ts';
import { type PanelSheet, vertexNormals } from './sheet.ts';

/**
 * Largest principal curvature of one panel, 1/m: the tightest bend anywhere inside it (its inverse is the smallest bend radius).
 * Formula: at every vertex off the outline the height h over the tangent plane is fitted to its two-ring neighbours within the panel,
 *   h = c0 + c1 u + c2 v + c3 u^2 + c4 u v + c5 v^2,   (u, v) = tangent direction times the chord length |d|,
 * (on a circle h = |d|^2 / 2R exactly, so tight bends on a coarse mesh are not read as flatter than they are)
 * and the principal curvatures are the eigenvalues of the shape operator I^-1 II with
 *   I = [1 + c1^2, c1 c2; c1 c2, 1 + c2^2], II = [2 c3, c4; c4, 2 c5] / sqrt(1 + c1^2 + c2^2).
 * Seams and outlines are left out: a seam is a crease with its own hinge, and a one-sided fit is not trusted. 0 when no vertex has enough neighbours.
 * Assumes bends wider than two edges of the mesh; sharper folds read as about 1 / (2 edges). Source: quadric fitting (from memory; e.g. Petitjean 2002).
 */
export function largestCurvature(sheet: PanelSheet, x: Float64Array): number {
  const ring = neighbours(sheet);
  const normals = vertexNormals(sheet, x);
  let worst = 0;
  for (let v = 0; v < sheet.verts.length; v++) {
    if (sheet.border[v] === 1) continue;
    worst = Math.max(worst, curvatureAt(sheet, x, normals, v, twoRing(ring, v)));
  }
  return worst;
}

function neighbours(sheet: PanelSheet): Set<number>[] {
  const ring = Array.from(sheet.verts, () => new Set<number>());
  for (let t = 0; t < sheet.tris.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      ring[sheet.tris[t + k]].add(sheet.tris[t + ((k + 1) % 3)]);
      ring[sheet.tris[t + k]].add(sheet.tris[t + ((k + 2) % 3)]);
    }
  }
  return ring;
}

function twoRing(ring: readonly Set<number>[], v: number): number[] {
  const out = new Set<number>([v]);
  for (const a of ring[v]) {
    out.add(a);
    for (const b of ring[a]) out.add(b);
  }
  return [...out];
}

function curvatureAt(sheet: PanelSheet, x: Float64Array, normals: Float64Array, v: number, near: readonly number[]): number {
  if (near.length < 9) return 0;
  const n = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
  // Any direction in the tangent plane will do; the coordinate axis furthest from n gives a safe one.
  const k = Math.abs(n[0]) < Math.abs(n[1]) ? (Math.abs(n[0]) < Math.abs(n[2]) ? 0 : 2) : Math.abs(n[1]) < Math.abs(n[2]) ? 1 : 2;
  const e = [0, 0, 0];
  e[k] = 1;
  const raw = e.map((c, i) => c - n[k] * n[i]);
  const l = libm.norm(raw);
  const tu = raw.map((c) => c / l);
  const tv = [n[1] * tu[2] - n[2] * tu[1], n[2] * tu[0] - n[0] * tu[2], n[0] * tu[1] - n[1] * tu[0]];
  const p = 3 * sheet.verts[v];
  let size = 0;
  const local = near.map((q) => {
    const d = [0, 1, 2].map((c) => x[3 * sheet.verts[q] + c] - x[p + c]);
    size = Math.max(size, libm.norm(d));
    const [u, w, h] = [tu, tv, n].map((axis) => axis[0] * d[0] + axis[1] * d[1] + axis[2] * d[2]);
    const level = libm.hypot(u, w);
    const stretch = level > 0 ? libm.norm(d) / level : 1;
    return [u * stretch, w * stretch, h];
  });
  // Scaled to the ring's size so that the normal equations do not mix metres and square metres.
  const rows = local.map(([a, b]) => [1, a / size, b / size, libm.square(a / size), (a * b) / libm.square(size), libm.square(b / size)]);
  const c = leastSquares(
    rows,
    local.map((q) => q[2] / size),
  );
  if (c === null) return 0;
  const root = Math.sqrt(1 + c[1] * c[1] + c[2] * c[2]);
  const [E, F, G] = [1 + c[1] * c[1], c[1] * c[2], 1 + c[2] * c[2]];
  const [L, M, N] = [(2 * c[3]) / root, c[4] / root, (2 * c[5]) / root];
  const mean = (E * N - 2 * F * M + G * L) / (2 * (E * G - F * F));
  const gauss = (L * N - M * M) / (E * G - F * F);
  return (Math.abs(mean) + Math.sqrt(Math.max(0, mean * mean - gauss))) / size;
}
