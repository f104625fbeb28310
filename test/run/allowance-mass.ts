import { eachAllowance } from '../../src/assembly/allowances.ts';
import { eachFinish } from '../../src/assembly/finishes.ts';
import type { Bag } from '../../src/bag/types.ts';
import { sewnLayers } from '../../src/material/index.ts';
import type { BagLaminates } from '../../src/material/types.ts';
import type { BagMesh } from '../../src/mesh/types.ts';

/** Mass of all seam allowances and finishes, kg, for checks of what the panels themselves weigh; both have a check by hand of their own (mesh/allowances.test.ts, assembly/finishes.test.ts). */
export function allowanceMass(bag: Bag, mesh: BagMesh, laminates: BagLaminates): number {
  let sum = 0;
  const { allowances, finishes } = sewnLayers(bag, laminates, 'mid');
  eachAllowance(bag, mesh, allowances, (_, __, kg) => {
    sum += kg;
  });
  eachFinish(bag, mesh, allowances, finishes, (_, kg) => {
    sum += kg;
  });
  return sum;
}
