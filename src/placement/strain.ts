import { type BagMesh, restCorners } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/** Mean and largest relative change of triangle edge lengths. */
export function strainOf(mesh: BagMesh, positions: Float64Array): { mean: number; max: number } {
  let [sum, most] = [0, 0];
  const { triVerts } = mesh;
  const triFlat = restCorners(mesh);
  for (let t = 0; t < mesh.triPanel.length; t++)
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [3 * triVerts[3 * t + k], 3 * triVerts[3 * t + j]];
      const rest = libm.hypot(triFlat[6 * t + 2 * j] - triFlat[6 * t + 2 * k], triFlat[6 * t + 2 * j + 1] - triFlat[6 * t + 2 * k + 1]);
      const strain = Math.abs(libm.hypot(positions[b] - positions[a], positions[b + 1] - positions[a + 1], positions[b + 2] - positions[a + 2]) / rest - 1);
      sum += strain;
      most = Math.max(most, strain);
    }
  return { mean: sum / (3 * mesh.triPanel.length), max: most };
}
