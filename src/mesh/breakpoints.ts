import type { Bag } from '../bag/types.ts';
import { addBreak, type Breaks, placeOnSide, seamEnds, spreadBreaks } from '../panels/index.ts';
import type { Draft } from '../panels/types.ts';

export type { Breaks };

/** A place on an edge that should be a vertex unless one is near anyway (a region's border): moved onto a break within `near` m. */
export interface SoftBreak {
  readonly panel: number;
  readonly edge: number;
  readonly at: number;
}

/**
 * Where every edge must have a vertex: corners, ends of seam stretches, ends of clips, region borders, and whatever these are sewn to.
 * A corner on one side of a seam is a vertex on the other, and on through further seams, until nothing is new.
 */
export function findBreaks(bag: Bag, draft: Draft, soft: readonly SoftBreak[], near: number): Breaks {
  const breaks = seamEnds(draft);
  for (const seam of draft.seams)
    for (const bunch of seam.bunches ?? [])
      for (const end of [bunch.from, bunch.to])
        seam.sides.forEach((side, k) => {
          const { run, fraction } = placeOnSide(side, end[k]);
          addBreak(breaks, draft, run.panel, run.edge, fraction);
        });
  bag.panels.forEach((panel) => {
    for (const clip of panel.clips) {
      if (clip.kind !== 'edge') continue;
      const p = draft.panels.findIndex((d) => d.name === clip.run.panel);
      const e = p < 0 ? -1 : draft.panels[p].edges.findIndex((d) => d.name === clip.run.edge);
      if (e < 0) continue;
      addBreak(breaks, draft, p, e, clip.run.from);
      addBreak(breaks, draft, p, e, clip.run.to);
    }
  });
  spreadBreaks(breaks, draft);
  const hard = breaks.map((edges) => edges.map((list) => [...list]));
  addSoft(breaks, draft, soft, near, false);
  if (!crowded(breaks, hard, draft, near)) return breaks;
  // A border that meets one edge a little further on than another border, carried over, meets the edge sewn to it: moved onto it.
  addSoft(hard, draft, soft, near, true);
  return hard;
}

/** Adds what is not near a break already (mutates breaks), carried across seams at the end, or at once so that later ones see it. */
function addSoft(breaks: Breaks, draft: Draft, soft: readonly SoftBreak[], near: number, atOnce: boolean): void {
  for (const s of soft) {
    const length = draft.panels[s.panel].edges[s.edge].length;
    if (breaks[s.panel][s.edge].some((t) => Math.abs(t - s.at) * length < near)) continue;
    addBreak(breaks, draft, s.panel, s.edge, s.at);
    if (atOnce) spreadBreaks(breaks, draft);
  }
  spreadBreaks(breaks, draft);
}

/** Do two breaks stand nearer than `near` that did not before? */
function crowded(breaks: Breaks, hard: Breaks, draft: Draft, near: number): boolean {
  return breaks.some((edges, p) =>
    edges.some((list, e) => {
      if (list.length === hard[p][e].length) return false;
      const { length } = draft.panels[p].edges[e];
      const close = (of: readonly number[]): number => of.filter((t, i) => i > 0 && (t - of[i - 1]) * length < near).length;
      return close(list) > close(hard[p][e]);
    }),
  );
}
