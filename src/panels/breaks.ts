import { placeOnSide } from './chains.ts';
import { acrossKnots } from './seams.ts';
import type { Draft, SeamSide } from './types.ts';

/** Two places on an edge closer than this are one, m: far below any mesh, far above rounding. */
const SAME = 1e-6;

/** breaks[panel][edge]: increasing arc-length fractions at which the edge is cut into stretches, 0 and 1 included. */
export type Breaks = number[][][];

/** Adds a break unless one is there already (mutates breaks); true when it was new. */
export function addBreak(breaks: Breaks, draft: Draft, panel: number, edge: number, t: number): boolean {
  const list = breaks[panel][edge];
  const slack = SAME / draft.panels[panel].edges[edge].length;
  let i = 0;
  while (i < list.length && list[i] < t - slack) i++;
  if (i < list.length && Math.abs(list[i] - t) <= slack) return false;
  list.splice(i, 0, t);
  return true;
}

/** Breaks where seams begin and end, not yet carried across them. */
export function seamEnds(draft: Draft): Breaks {
  const breaks: Breaks = draft.panels.map((p) => p.edges.map(() => [0, 1]));
  for (const seam of draft.seams)
    for (const side of seam.sides)
      for (const run of side.runs) {
        addBreak(breaks, draft, run.panel, run.edge, run.from);
        addBreak(breaks, draft, run.panel, run.edge, run.to);
      }
  return breaks;
}

/**
 * Carries breaks across seams until nothing is new (mutates breaks); returns null then. Twelve rounds cover any real bag; a ring of seams whose lengths
 * disagree could go on for ever: then the number of a seam of that ring.
 */
export function spreadBreaks(breaks: Breaks, draft: Draft): number | null {
  let last: number | null = null;
  for (let round = 0; round < 12; round++) {
    last = null;
    for (const [s, seam] of draft.seams.entries())
      for (const from of [0, 1] as const) {
        const target = seam.sides[1 - from];
        for (const u of breaksOnSide(breaks, seam.sides[from])) {
          const place = placeOnSide(target, acrossKnots(seam.knots, u, from));
          if (addBreak(breaks, draft, place.run.panel, place.run.edge, place.fraction)) last = s;
        }
      }
    if (last === null) break;
  }
  return last;
}

function breaksOnSide(breaks: Breaks, side: SeamSide): number[] {
  const found: number[] = [];
  for (const run of side.runs)
    for (const t of breaks[run.panel][run.edge]) {
      if (t < run.from || t > run.to) continue;
      const w = (t - run.from) / (run.to - run.from);
      found.push(run.u0 + (run.forward ? w : 1 - w) * (run.u1 - run.u0));
    }
  return found;
}
