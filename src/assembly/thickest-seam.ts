import type { Bag } from '../bag/types.ts';
import { thinned } from '../material/index.ts';
import type { BagLaminates } from '../material/types.ts';
import type { Draft } from '../panels/types.ts';
import { bulkOf, catcher } from './seam-bulk.ts';

/** Thickest place of all seams of one option, m, from the flat panels alone: regions are left out, as in checkBulk. 0 of a bag without seams. */
export function thickestSeam(bag: Bag, draft: Draft, laminates: BagLaminates): number {
  const caughtOf = catcher(bag);
  const side = (seam: number, panel: number) => {
    const { stack, thickness } = laminates[panel]![0]!;
    return { caught: thinned(bag.seams[seam]!, caughtOf(stack).thickness).line, panel: thickness };
  };
  let most = 0;
  draft.seams.forEach((seam, s) => {
    for (const a of seam.sides[0].runs)
      for (const b of seam.sides[1].runs) most = Math.max(most, bulkOf(bag.seams[s]!.type, side(s, a.panel), side(s, b.panel)));
  });
  return most;
}
