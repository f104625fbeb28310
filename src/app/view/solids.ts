import type { BufferGeometry, Mesh, RawShaderMaterial } from 'three';
import type { SharedUniforms } from './programs.ts';
import { litMesh, ROD_LOOK } from './straps.ts';

/** A rigid thing that the bag leans on or lies over: 3 per vertex, m, and its triangles, counterclockwise from outside. */
export interface SolidShape {
  readonly x: ArrayLike<number>;
  readonly triVerts: ArrayLike<number>;
}

/** Each triangle with corners of its own and one normal: flat faces, sharp edges. */
export function solidMesh({ x, triVerts }: SolidShape, shared: SharedUniforms): Mesh<BufferGeometry, RawShaderMaterial> {
  const n = triVerts.length;
  const [position, normal, flat] = [new Float32Array(3 * n), new Float32Array(3 * n), new Float32Array(2 * n)];
  for (let t = 0; t < n; t += 3) {
    const [a, b, c] = [3 * triVerts[t], 3 * triVerts[t + 1], 3 * triVerts[t + 2]];
    const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
    const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const l = Math.hypot(nx, ny, nz) || 1;
    [a, b, c].forEach((v, k) => {
      position.set([x[v], x[v + 1], x[v + 2]], 3 * (t + k));
      normal.set([nx / l, ny / l, nz / l], 3 * (t + k));
    });
  }
  return litMesh({ position, normal, flat, index: Array.from({ length: n }, (_, i) => i) }, ROD_LOOK, shared);
}
