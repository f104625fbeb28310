import { UnionFind } from '../numerics/index.ts';
import type { Draft, SideRun } from '../panels/types.ts';

/** Panels joined by seams, as lists of panel numbers; each list increasing. */
export function sewnGroups(draft: Draft): number[][] {
  const sewn = new UnionFind(draft.panels.length);
  for (const seam of draft.seams) {
    const runs = [...seam.sides[0].runs, ...seam.sides[1].runs];
    for (const run of runs) sewn.join(runs[0].panel, run.panel);
  }
  const groups = new Map<number, number[]>();
  draft.panels.forEach((_, p) => {
    const root = sewn.find(p);
    groups.set(root, [...(groups.get(root) ?? []), p]);
  });
  return [...groups.values()];
}

/** A run of one panel's edge and the run it is sewn to, when one run meets exactly one run. */
export interface Join {
  readonly own: SideRun;
  readonly other: SideRun;
  readonly seam: number;
}

/**
 * Where a stretch of seam joins run to run: for each pair of overlapping runs of a seam one join, in both directions.
 * joins[panel] lists what that panel is sewn to.
 */
export function joinsOf(draft: Draft): Join[][] {
  const joins: Join[][] = draft.panels.map(() => []);
  draft.seams.forEach((seam, s) => {
    for (const a of seam.sides[0].runs)
      for (const b of seam.sides[1].runs) {
        // Corners matched within tolerance differ by a hair; a real overlap is a good part of the shorter run.
        const overlap = Math.min(a.u1, b.u1) - Math.max(a.u0, b.u0);
        if (overlap < 0.3 * Math.min(a.u1 - a.u0, b.u1 - b.u0)) continue;
        joins[a.panel].push({ own: a, other: b, seam: s });
        joins[b.panel].push({ own: b, other: a, seam: s });
      }
  });
  return joins;
}
