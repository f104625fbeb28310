import { eachAllowance } from '../../src/assembly/allowances.ts';
import { eachFinish } from '../../src/assembly/finishes.ts';
import { eachInside } from '../../src/assembly/inside-seams.ts';
import type { Bag } from '../../src/bag/types.ts';
import { sewnLayers } from '../../src/material/index.ts';
import type { BagLaminates } from '../../src/material/types.ts';
import type { BagMesh } from '../../src/mesh/types.ts';

/**
 * Mass of all seam allowances and finishes less what ends inside the seams, kg, for checks of what the panels themselves weigh; each has a check by hand of its own
 * (mesh/allowances.test.ts, assembly/finishes.test.ts, assembly/skived.test.ts).
 */
export function allowanceMass(bag: Bag, mesh: BagMesh, laminates: BagLaminates): number {
  let sum = 0;
  const { allowances, finishes, inside } = sewnLayers(bag, laminates, 'mid');
  eachAllowance(bag, mesh, allowances, (_, __, kg) => {
    sum += kg;
  });
  eachFinish(bag, mesh, allowances, finishes, (_, kg) => {
    sum += kg;
  });
  eachInside(bag, mesh, laminates, inside, (_, less) => {
    sum -= less;
  });
  return sum;
}
