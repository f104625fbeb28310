/** Gathers bunched between notches: stretches of a seam, each from one named mark to another, with a ratio of its own. */

import { distanceToSegment, nearestFraction } from '../numerics/index.ts';
import { flatten, pointAt } from './curve.ts';
import { at, oneOf } from './faults.ts';
import { FormulaError } from './formula.ts';
import type { ParseContext } from './parse-context.ts';
import type { Bunch, EdgePlace, Panel, Seam } from './types.ts';

/** A notch further than this from its edge is not on it: the cutting tolerance, m (common practice). */
const ON_EDGE = 0.003;

export interface BunchForm {
  readonly from: string;
  readonly to: string;
  readonly ratio: number | string;
}

/** A mark on one side of a seam. */
interface Notch {
  readonly side: 0 | 1;
  readonly place: EdgePlace;
}

/** The place of a mark on a seam's edges, the nearer side first; null when it lies further off than the cutting tolerance. */
function notchOf(seam: Seam, panels: readonly Panel[], panel: string, point: readonly [number, number]): Notch | null {
  let best: Notch | null = null;
  let least = ON_EDGE;
  for (const side of [0, 1] as const)
    for (const run of seam.sides[side]) {
      if (run.panel !== panel) continue;
      const owner = panels.find((p) => p.name === panel);
      const edge = owner && [...owner.outline, ...owner.holes.flat()].find((e) => e.name === run.edge);
      if (!edge) continue;
      const n = edge.kind === 'line' ? 1 : 8 * flatten(edge).length;
      for (let i = 0; i < n; i++) {
        const [s0, s1] = [run.from + ((run.to - run.from) * i) / n, run.from + ((run.to - run.from) * (i + 1)) / n];
        const [a, b] = [pointAt(edge, s0), pointAt(edge, s1)];
        const w = nearestFraction(point, a, b);
        const off = distanceToSegment(point, a, b);
        if (off < least - 1e-12) [least, best] = [off, { side, place: { panel, edge: run.edge, at: s0 + w * (s1 - s0) } }];
      }
    }
  return best;
}

/**
 * The bunches of one seam, or null after the faults: unknown marks, marks off the seam, two ends that are one place, ends on both sides.
 * All notches of a seam stand on one of its sides; the other side's follow from the ratios.
 */
export function resolveBunches(ctx: ParseContext, seam: Seam, form: readonly BunchForm[], panels: readonly Panel[]): Bunch[] | null {
  const path = at(at('seams', seam.name), 'gather');
  let side: 0 | 1 | null = null;
  const bunches = form.map((written, i): Bunch | null => {
    const here = at(path, i);
    const ratio = ctx.size(at(here, 'ratio'), written.ratio, 'number', { min: 1, max: 6 });
    const ends = (['from', 'to'] as const).map((end) =>
      ctx.attempt(at(here, end), written[end], () => {
        const dot = written[end].indexOf('.');
        const [owner, mark] = [written[end].slice(0, dot).trim(), written[end].slice(dot + 1).trim()];
        if (dot < 0) throw new FormulaError('a mark of a panel, written "panel.mark"');
        const panel = panels.find((p) => p.name === owner);
        if (!panel)
          throw new FormulaError(
            oneOf(
              `a panel of this bag instead of "${owner}"`,
              owner,
              panels.map((p) => p.name),
            ),
          );
        const found = panel.marks.find((m) => m.name === mark);
        if (!found)
          throw new FormulaError(
            oneOf(
              `a mark of panel ${owner} instead of "${mark}"`,
              mark,
              panel.marks.map((m) => m.name),
            ),
          );
        const notch = notchOf(seam, panels, owner, found.at);
        if (!notch) throw new FormulaError(`a mark within ${ON_EDGE * 1000} mm of an edge in this seam`);
        side ??= notch.side;
        if (notch.side !== side) throw new FormulaError("a mark on the same side of the seam as its other notches; the other side's follow from the ratios");
        return notch.place;
      }),
    );
    const [from, to] = ends;
    if (from && to && from.panel === to.panel && from.edge === to.edge && Math.abs(from.at - to.at) < 1e-6) {
      ctx.faults.add(at(here, 'to'), written.to, `another place than "${written.from}"`);
      return null;
    }
    return ratio !== null && from && to ? { from, to, ratio, names: [written.from, written.to] } : null;
  });
  return bunches.includes(null) || side === null ? null : (bunches as Bunch[]);
}
