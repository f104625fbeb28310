import type { BagMesh } from '../mesh/types.ts';
import { leastOverFace } from '../solver/index.ts';
import type { SupportShape } from '../solver/types.ts';

const corners = new Float64Array(9);

/** Least signed distance of triangle t of the cloth at x (3n, m) to a shape, m. */
export function clothFrom(shape: SupportShape, mesh: BagMesh, x: Float64Array, t: number): number {
  for (let k = 0; k < 3; k++) for (let c = 0; c < 3; c++) corners[3 * k + c] = x[3 * mesh.triVerts[3 * t + k]! + c]!;
  return leastOverFace(shape, corners);
}

/** Furthest that a shape reaches through the cloth at x (3n, m), m, and through which panel; 0 and '' where it is clear of it. */
export function reachThrough(shape: SupportShape, mesh: BagMesh, x: Float64Array): { by: number; panel: string } {
  let [by, panel] = [0, ''];
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const d = -clothFrom(shape, mesh, x, t);
    if (d > by) [by, panel] = [d, mesh.panelNames[mesh.triPanel[t]!]!];
  }
  return { by, panel };
}
