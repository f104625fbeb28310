import { placeOnSide } from './chains.ts';
import { acrossKnots } from './seams.ts';
import type { Draft, SeamSide } from './types.ts';

/** Two places on an edge closer than this are one, m: far below any mesh, far above rounding. */
const SAME = 1e-6;

/** breakpoints[panel][edge]: increasing arc-length fractions at which the edge is cut into stretches, 0 and 1 included. */
export type Breakpoints = number[][][];

/** Adds a breakpoint unless one is there already (mutates breakpoints); true when it was new. */
export function addBreakpoint(breakpoints: Breakpoints, draft: Draft, panel: number, edge: number, t: number): boolean {
  const list = breakpoints[panel][edge];
  const slack = SAME / draft.panels[panel].edges[edge].length;
  let i = 0;
  while (i < list.length && list[i] < t - slack) i++;
  if (i < list.length && Math.abs(list[i] - t) <= slack) return false;
  list.splice(i, 0, t);
  return true;
}

/** Breakpoints where seams begin and end, not yet carried across them. */
export function seamEnds(draft: Draft): Breakpoints {
  const breakpoints: Breakpoints = draft.panels.map((p) => p.edges.map(() => [0, 1]));
  for (const seam of draft.seams)
    for (const side of seam.sides)
      for (const run of side.runs) {
        addBreakpoint(breakpoints, draft, run.panel, run.edge, run.from);
        addBreakpoint(breakpoints, draft, run.panel, run.edge, run.to);
      }
  return breakpoints;
}

/**
 * Carries breakpoints across seams until nothing is new (mutates breakpoints); returns null then. Twelve rounds cover any real bag; a ring of seams whose lengths
 * disagree could go on for ever: then the number of a seam of that ring.
 */
export function spreadBreakpoints(breakpoints: Breakpoints, draft: Draft): number | null {
  let last: number | null = null;
  for (let round = 0; round < 12; round++) {
    last = null;
    for (const [s, seam] of draft.seams.entries())
      for (const from of [0, 1] as const) {
        const target = seam.sides[1 - from];
        for (const u of breakpointsOnSide(breakpoints, seam.sides[from])) {
          const place = placeOnSide(target, acrossKnots(seam.knots, u, from));
          if (addBreakpoint(breakpoints, draft, place.run.panel, place.run.edge, place.fraction)) last = s;
        }
      }
    if (last === null) break;
  }
  return last;
}

function breakpointsOnSide(breakpoints: Breakpoints, side: SeamSide): number[] {
  const found: number[] = [];
  for (const run of side.runs)
    for (const t of breakpoints[run.panel][run.edge]) {
      if (t < run.from || t > run.to) continue;
      const w = (t - run.from) / (run.to - run.from);
      found.push(run.u0 + (run.forward ? w : 1 - w) * (run.u1 - run.u0));
    }
  return found;
}
