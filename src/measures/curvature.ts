import { libm } from '../numerics/index.ts';
import { normalEquations } from './linear.ts';
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
  const rings = neighbours(sheet),
    normals = vertexNormals(sheet, x),
    seen = new Int32Array(sheet.verts.length).fill(-1),
    near: number[] = [];
  let worst = 0;
  for (let v = 0; v < sheet.verts.length; v++) {
    if (sheet.border[v] === 1) continue;
    twoRing(rings, v, seen, near);
    worst = Math.max(worst, curvatureAt(sheet, x, normals, v, near));
  }
  return worst;
}

/** Neighbours of vertex v, each once, in the order in which its triangles name them: list[start[v]] .. list[end[v] - 1]. */
interface Rings {
  readonly start: Int32Array;
  readonly end: Int32Array;
  readonly list: Int32Array;
}

function neighbours({ verts, tris }: PanelSheet): Rings {
  const start = new Int32Array(verts.length + 1);
  for (let i = 0; i < tris.length; i++) start[tris[i] + 1] += 2;
  for (let v = 0; v < verts.length; v++) start[v + 1] += start[v];
  const end = start.slice(0, verts.length),
    list = new Int32Array(2 * tris.length);
  const add = (v: number, w: number): void => {
    for (let p = start[v]; p < end[v]; p++) if (list[p] === w) return;
    list[end[v]++] = w;
  };
  for (let t = 0; t < tris.length; t += 3)
    for (let k = 0; k < 3; k++) {
      add(tris[t + k], tris[t + ((k + 1) % 3)]);
      add(tris[t + k], tris[t + ((k + 2) % 3)]);
    }
  return { start, end, list };
}

/** v, its neighbours and theirs, each once, into `out`. seen: marks of earlier calls, mutated. */
function twoRing({ start, end, list }: Rings, v: number, seen: Int32Array, out: number[]): void {
  out.length = 0;
  const add = (w: number): void => {
    if (seen[w] === v) return;
    seen[w] = v;
    out.push(w);
  };
  add(v);
  for (let p = start[v]; p < end[v]; p++) {
    const a = list[p];
    add(a);
    for (let q = start[a]; q < end[a]; q++) add(list[q]);
  }
}

function curvatureAt(sheet: PanelSheet, x: Float64Array, normals: Float64Array, v: number, near: readonly number[]): number {
  if (near.length < 9) return 0;
  const n = [normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]];
  // Any direction in the tangent plane will do; the coordinate axis furthest from n gives a safe one.
  const k = Math.abs(n[0]) < Math.abs(n[1]) ? (Math.abs(n[0]) < Math.abs(n[2]) ? 0 : 2) : Math.abs(n[1]) < Math.abs(n[2]) ? 1 : 2;
  const raw = n.map((c, i) => (i === k ? 1 : 0) - n[k] * c);
  const l = libm.norm(raw);
  const tu = raw.map((c) => c / l);
  const tv = [n[1] * tu[2] - n[2] * tu[1], n[2] * tu[0] - n[0] * tu[2], n[0] * tu[1] - n[1] * tu[0]];
  const p = 3 * sheet.verts[v];
  const local = new Float64Array(3 * near.length);
  let size = 0;
  for (let i = 0; i < near.length; i++) {
    const q = 3 * sheet.verts[near[i]],
      dx = x[q] - x[p],
      dy = x[q + 1] - x[p + 1],
      dz = x[q + 2] - x[p + 2],
      far = libm.hypot(dx, dy, dz);
    size = Math.max(size, far);
    const u = tu[0] * dx + tu[1] * dy + tu[2] * dz,
      w = tv[0] * dx + tv[1] * dy + tv[2] * dz,
      level = libm.hypot(u, w),
      stretch = level > 0 ? far / level : 1;
    local[3 * i] = u * stretch;
    local[3 * i + 1] = w * stretch;
    local[3 * i + 2] = n[0] * dx + n[1] * dy + n[2] * dz;
  }
  // Scaled to the ring's size so that the normal equations do not mix metres and square metres.
  const fit = normalEquations(6);
  const row = new Float64Array(6);
  for (let i = 0; i < local.length; i += 3) {
    const a = local[i],
      b = local[i + 1];
    row[0] = 1;
    row[1] = a / size;
    row[2] = b / size;
    row[3] = libm.square(a / size);
    row[4] = (a * b) / libm.square(size);
    row[5] = libm.square(b / size);
    fit.add(row, local[i + 2] / size);
  }
  const c = fit.solved();
  if (c === null) return 0;
  const root = Math.sqrt(1 + c[1] * c[1] + c[2] * c[2]);
  const [E, F, G] = [1 + c[1] * c[1], c[1] * c[2], 1 + c[2] * c[2]];
  const [L, M, N] = [(2 * c[3]) / root, c[4] / root, (2 * c[5]) / root];
  const mean = (E * N - 2 * F * M + G * L) / (2 * (E * G - F * F));
  const gauss = (L * N - M * M) / (E * G - F * F);
  return (Math.abs(mean) + Math.sqrt(Math.max(0, mean * mean - gauss))) / size;
}
