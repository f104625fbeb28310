import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import { areaNormal } from './panel-surface.ts';

/**
 * The settled surface as binary STL: millimetres, z up, one facet for each triangle of the mesh, seen from the face counterclockwise. It is a sheet without
 * thickness, open at the mouth: a printer's program must thicken it. Parameters: mesh; x: 3 per vertex, m. Source of the form: common practice, no standard.
 */
export function bagStl(mesh: BagMesh, x: Float64Array): Uint8Array {
  const count = mesh.triPanel.length;
  const bytes = new Uint8Array(84 + 50 * count);
  bytes.set(Uint8Array.from('slumpline: a surface in millimetres, z up', (c) => c.charCodeAt(0)));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  for (let t = 0; t < count; t++) {
    const at = 84 + 50 * t;
    const corners = [0, 1, 2].map((k) => mesh.triVerts[3 * t + k]!);
    const n = areaNormal(x, corners);
    const l = libm.hypot(...n);
    n.forEach((v, k) => {
      view.setFloat32(at + 4 * k, l > 0 ? v / l : 0, true);
    });
    corners.forEach((v, i) => {
      for (let k = 0; k < 3; k++) view.setFloat32(at + 12 + 12 * i + 4 * k, 1000 * x[3 * v + k]!, true);
    });
  }
  return bytes;
}
