import type { Bag } from '../bag/types.ts';
import { addBreakpoint, type Breakpoints, placeOnSide, seamEnds, spreadBreakpoints } from '../panels/index.ts';
import type { Draft } from '../panels/types.ts';

export type { Breakpoints };

/** A place on an edge that should be a vertex unless one is near anyway (a region's border): moved onto a breakpoint within `near` m. */
export interface SoftBreakpoint {
  readonly panel: number;
  readonly edge: number;
  readonly at: number;
}

/**
 * Where every edge must have a vertex: corners, ends of seam stretches, ends of clips, region borders, and whatever these are sewn to.
 * A corner on one side of a seam is a vertex on the other, and on through further seams, until nothing is new.
 */
export function findBreakpoints(bag: Bag, draft: Draft, soft: readonly SoftBreakpoint[], near: number): Breakpoints {
  const breakpoints = seamEnds(draft);
  for (const seam of draft.seams)
    for (const bunch of seam.bunches ?? [])
      for (const end of [bunch.from, bunch.to])
        seam.sides.forEach((side, k) => {
          const { run, fraction } = placeOnSide(side, end[k]);
          addBreakpoint(breakpoints, draft, run.panel, run.edge, fraction);
        });
  bag.panels.forEach((panel) => {
    for (const clip of panel.clips) {
      if (clip.kind !== 'edge') continue;
      const p = draft.panels.findIndex((d) => d.name === clip.run.panel);
      const e = p < 0 ? -1 : draft.panels[p].edges.findIndex((d) => d.name === clip.run.edge);
      if (e < 0) continue;
      addBreakpoint(breakpoints, draft, p, e, clip.run.from);
      addBreakpoint(breakpoints, draft, p, e, clip.run.to);
    }
  });
  spreadBreakpoints(breakpoints, draft);
  const hard = breakpoints.map((edges) => edges.map((list) => [...list]));
  addSoft(breakpoints, draft, soft, near, false);
  if (!crowded(breakpoints, hard, draft, near)) return breakpoints;
  // A border that meets one edge a little further on than another border, carried over, meets the edge sewn to it: moved onto it.
  addSoft(hard, draft, soft, near, true);
  return hard;
}

/** Adds what is not near a breakpoint already (mutates breakpoints), carried across seams at the end, or at once so that later ones see it. */
function addSoft(breakpoints: Breakpoints, draft: Draft, soft: readonly SoftBreakpoint[], near: number, atOnce: boolean): void {
  for (const s of soft) {
    const length = draft.panels[s.panel].edges[s.edge].length;
    if (breakpoints[s.panel][s.edge].some((t) => Math.abs(t - s.at) * length < near)) continue;
    addBreakpoint(breakpoints, draft, s.panel, s.edge, s.at);
    if (atOnce) spreadBreakpoints(breakpoints, draft);
  }
  spreadBreakpoints(breakpoints, draft);
}

/** Do two breakpoints stand nearer than `near` that did not before? */
function crowded(breakpoints: Breakpoints, hard: Breakpoints, draft: Draft, near: number): boolean {
  return breakpoints.some((edges, p) =>
    edges.some((list, e) => {
      if (list.length === hard[p][e].length) return false;
      const { length } = draft.panels[p].edges[e];
      const close = (of: readonly number[]): number => of.filter((t, i) => i > 0 && (t - of[i - 1]) * length < near).length;
      return close(list) > close(hard[p][e]);
    }),
  );
}
