import type { Bag } from '../bag/types.ts';
import { type FindingList, millimetres } from './findings.ts';
import { heldStrips } from './held-strips.ts';
import type { Draft } from './types.ts';

/** A row of topstitching that runs beside a seam further in than its allowance reaches catches nothing. */
export function checkRows(bag: Bag, _draft: Draft, findings: FindingList): void {
  for (const { panel, edge, seam, offset, allowance } of heldStrips(bag).misses)
    findings.warning({
      kind: 'row misses',
      panel,
      edge,
      seam,
      value: offset - allowance,
      figure: `${millimetres(offset - allowance)} too far in`,
      text: `The row of topstitching ${millimetres(offset)} from ${panel}.${edge} misses the allowance of seam ${seam}, which is ${millimetres(allowance)} wide: it holds nothing down and stiffens nothing.`,
    });
}
