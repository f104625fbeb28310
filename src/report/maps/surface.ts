/**
 * Screen-only geometry of a settled bag: per-panel vertices (seams stay creases), smooth normals, curvature for the map.
 * float32 is enough here; no figure shown in words comes from this file.
 */

import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';

/** Fixed parts of one panel's picture: local triangles over local vertices. n local vertices, m triangles. */
export interface PanelPatch {
  readonly panel: number;
  /** n welded vertex numbers. */ readonly verts: Uint32Array;
  /** 2n flat coordinates, m. */ readonly flat: Float32Array;
  /** 3m local vertex numbers. */ readonly tris: Uint32Array;
}

/** A panel where it is drawn now: 3 per local vertex each, m and unit normals. */
export interface Drawn {
  readonly position: ArrayLike<number>;
  readonly normal: ArrayLike<number>;
}

/** The drawn surface of every panel. A panel sewn to itself has a seam's vertex twice, once on either side: a corner takes the one that lies where it was cut. */
export function panelPatches(mesh: BagMesh): PanelPatch[] {
  const { triPanel, triVerts, triFlat } = mesh;
  return mesh.panelVerts.map(({ verts, flat }, panel) => {
    const places = new Map<number, number[]>();
    verts.forEach((v, i) => {
      places.set(v, [...(places.get(v) ?? []), i]);
    });
    const off = (i: number, corner: number): number => Math.abs(flat[2 * i] - triFlat[2 * corner]) + Math.abs(flat[2 * i + 1] - triFlat[2 * corner + 1]);
    const tris: number[] = [];
    for (let corner = 0; corner < triVerts.length; corner++) {
      if (triPanel[Math.trunc(corner / 3)] !== panel) continue;
      tris.push(places.get(triVerts[corner])!.reduce((best, i) => (off(i, corner) < off(best, corner) ? i : best)));
    }
    return { panel, verts, flat: Float32Array.from(flat), tris: Uint32Array.from(tris) };
  });
}

/** Writes positions (3n) and area-weighted unit normals (3n) of one panel from welded positions x. */
export function pose(patch: PanelPatch, x: ArrayLike<number>, position: Float32Array, normal: Float32Array): void {
  const { verts, tris } = patch;
  for (let i = 0; i < verts.length; i++) {
    const v = 3 * verts[i];
    position[3 * i] = x[v];
    position[3 * i + 1] = x[v + 1];
    position[3 * i + 2] = x[v + 2];
  }
  normal.fill(0);
  for (let t = 0; t < tris.length; t += 3) {
    const a = 3 * tris[t];
    const b = 3 * tris[t + 1];
    const c = 3 * tris[t + 2];
    const ux = position[b] - position[a];
    const uy = position[b + 1] - position[a + 1];
    const uz = position[b + 2] - position[a + 2];
    const vx = position[c] - position[a];
    const vy = position[c + 1] - position[a + 1];
    const vz = position[c + 2] - position[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (const o of [a, b, c]) {
      normal[o] += nx;
      normal[o + 1] += ny;
      normal[o + 2] += nz;
    }
  }
  for (let i = 0; i < normal.length; i += 3) {
    const l = libm.hypot(normal[i], normal[i + 1], normal[i + 2]) || 1;
    normal[i] /= l;
    normal[i + 1] /= l;
    normal[i + 2] /= l;
  }
}

/**
 * Largest principal curvature (1/m, unsigned) at each local vertex, from how the normals turn across each flat triangle
 * (after Rusinkiewicz 2004: per-triangle least squares, averaged by area). Ends of the scale only; sub-mesh folds are missed.
 */
export function bendOf(patch: PanelPatch, position: Float32Array, normal: Float32Array, out: Float32Array): void {
  const { flat, tris } = patch;
  const area = new Float32Array(out.length);
  out.fill(0);
  for (let t = 0; t < tris.length; t += 3) {
    const i = tris[t];
    const j = tris[t + 1];
    const k = tris[t + 2];
    const e1x = flat[2 * j] - flat[2 * i];
    const e1y = flat[2 * j + 1] - flat[2 * i + 1];
    const e2x = flat[2 * k] - flat[2 * i];
    const e2y = flat[2 * k + 1] - flat[2 * i + 1];
    const det = e1x * e2y - e1y * e2x;
    if (Math.abs(det) < 1e-14) continue;
    // Second fundamental form on the two edges: dn . dx.
    const q = (a: number, b: number, c: number, d: number): number =>
      (normal[3 * b] - normal[3 * a]) * (position[3 * d] - position[3 * c]) +
      (normal[3 * b + 1] - normal[3 * a + 1]) * (position[3 * d + 1] - position[3 * c + 1]) +
      (normal[3 * b + 2] - normal[3 * a + 2]) * (position[3 * d + 2] - position[3 * c + 2]);
    const g11 = q(i, j, i, j);
    const g12 = 0.5 * (q(i, j, i, k) + q(i, k, i, j));
    const g22 = q(i, k, i, k);
    // Into the flat frame: K = J^-T G J^-1 with J = [e1 e2].
    const ax = e2y / det;
    const ay = -e2x / det;
    const bx = -e1y / det;
    const by = e1x / det;
    const kxx = g11 * ax * ax + 2 * g12 * ax * bx + g22 * bx * bx;
    const kyy = g11 * ay * ay + 2 * g12 * ay * by + g22 * by * by;
    const kxy = g11 * ax * ay + g12 * (ax * by + ay * bx) + g22 * bx * by;
    const mean = 0.5 * (kxx + kyy);
    const spread = libm.hypot(0.5 * (kxx - kyy), kxy);
    const largest = Math.abs(mean) + spread;
    const w = Math.abs(det);
    for (const v of [i, j, k]) {
      out[v] += w * largest;
      area[v] += w;
    }
  }
  for (let v = 0; v < out.length; v++) out[v] /= area[v] || 1;
}
