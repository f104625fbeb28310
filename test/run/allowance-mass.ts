import { eachAllowance } from '../../src/assembly/allowances.ts';
import type { Bag } from '../../src/bag/types.ts';
import { sewnLayers } from '../../src/material/index.ts';
import type { BagLaminates } from '../../src/material/types.ts';
import type { BagMesh } from '../../src/mesh/types.ts';

/** Mass of all seam allowances, kg, for checks of what the panels themselves weigh; the allowances have a check by hand of their own (mesh/allowances.test.ts). */
export function allowanceMass(bag: Bag, mesh: BagMesh, laminates: BagLaminates): number {
  let sum = 0;
  eachAllowance(bag, mesh, sewnLayers(bag, laminates, 'mid').allowances, (_, __, kg) => {
    sum += kg;
  });
  return sum;
}
