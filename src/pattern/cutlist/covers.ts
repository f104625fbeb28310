/** Strips that cover cords: piping is a cord in a bias strip, whose allowances are sewn into the seam. */
import { runsOverlap } from '../../bag/index.ts';
import type { Bag, BagOption, Member, Seam } from '../../bag/types.ts';
import { memberFigures } from '../../material/index.ts';
import type { Draft } from '../../panels/types.ts';
import { formatMm } from '../../units/index.ts';
import { BINDING_LAP, bindingTape, shellOf } from '../pieces/extras.ts';
import type { Tape } from '../pieces/types.ts';
import { memberCuts } from './lengths.ts';

const isCord = (m: Member): boolean => /cord$/.test(m.kind);

/** Seams that a cord is sewn into; empty where a stretch of it lies on an edge that no seam takes up, or along a drawn line. */
function seamsOf(bag: Bag, draft: Draft, m: Member): Seam[] {
  if ((m.lines ?? []).length > 0) return [];
  const found = m.runs.map((run) =>
    bag.seams.filter(
      (seam, i) =>
        seam.type !== 'fold' &&
        draft.seams[i]!.sides.some((side) =>
          side.runs.some((r) => {
            const { name, edges } = draft.panels[r.panel]!;
            return runsOverlap({ panel: name, edge: edges[r.edge]!.name, from: r.from, to: r.to }, run);
          }),
        ),
    ),
  );
  return found.some((seams) => seams.length === 0) ? [] : [...new Set(found.flat())];
}

/**
 * A strip for each cord that is sewn into seams, of the shell of the first panel it runs along: as wide as goes round the cord, pi d, and both allowances; as long as the cord with a lap
 * where it closes or is joined. Cut on the bias (common practice, no source: 25-30 mm for cords of 3 to 6 mm). The bag's weight and its cloth's stiffness do not count it.
 */
export function cordCovers(bag: Bag, draft: Draft, option: BagOption): Tape[] {
  return (bag.members ?? []).filter(isCord).flatMap((m): Tape[] => {
    const seams = seamsOf(bag, draft, m);
    if (seams.length === 0) return [];
    const { size } = memberFigures(m),
      allowance = Math.max(...seams.map((s) => s.allowance)),
      long = memberCuts(bag, draft, { ...m, stopsShort: 0 }).reduce((sum, l) => sum + l, 0),
      round = Math.PI * size,
      sheet = shellOf(bag, bag.stacks.find((s) => s.name === option.stacks[m.runs[0]!.panel])!),
      how = `on the bias: ${formatMm(long)} of seam and ${formatMm(BINDING_LAP)} to lap; ${formatMm(round)} round the cord and ${formatMm(allowance)} of allowance on both sides; not in the bag's weight`;
    return [bindingTape(`cover of ${m.name}`, sheet, long, round + 2 * allowance, how)];
  });
}
