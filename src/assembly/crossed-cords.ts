import type { Bag, Member } from '../bag/types.ts';
import { memberFigures } from '../material/index.ts';
import type { Draft } from '../panels/types.ts';

const ROUND: readonly Member['kind'][] = ['cotton cord', 'paper cord', 'plastic cord', 'spring wire', 'figures'];
const SAME = 1e-9;

/**
 * The thickest cord that a seam is sewn across at one of its ends, and its diameter, m; null where there is none. A cord that runs on to the corner where the seam begins or ends
 * lies in its allowance unless it stops short by as much: there the foot climbs over it. Piping in the seam itself does not count, its foot runs beside the cord.
 * s: the seam; allowance: its width as sewn, m.
 */
export function crossedCord(bag: Bag, draft: Draft, s: number, allowance: number): { readonly member: Member; readonly size: number } | null {
  const runs = draft.seams[s]!.sides.flatMap((side) => side.runs);
  let thickest: { member: Member; size: number } | null = null;
  for (const member of bag.members ?? []) {
    if (!ROUND.includes(member.kind) || member.stopsShort >= allowance - SAME) continue;
    // What goes on over the seam onto another panel is sewn on when the seam is done.
    if (member.ends === 'ring' || new Set(member.runs.map((r) => r.panel)).size > 1) continue;
    const { size } = memberFigures(member);
    const across = member.runs.some(({ panel, edge, from, to }) => {
      const p = draft.panels.findIndex((q) => q.name === panel),
        e = draft.panels[p]!.edges.findIndex((q) => q.name === edge),
        { next, previous } = draft.panels[p]!.edges[e]!;
      return runs.some(
        (r) => r.panel === p && ((to > 1 - SAME && r.edge === next && r.from < SAME) || (from < SAME && r.edge === previous && r.to > 1 - SAME)),
      );
    });
    if (across && size > (thickest?.size ?? 0)) thickest = { member, size };
  }
  return thickest;
}
