/** Written rows of topstitching to lines on their panels. What they hold down: panels/held-strips.ts. */

import { distanceToPolygon, insidePolygon } from '../numerics/index.ts';
import { polygonOf } from './curve.ts';
import { at } from './faults.ts';
import { FormulaError } from './formula.ts';
import type { ParseContext } from './parse-context.ts';
import type { TopstitchForm } from './schema-panels.ts';
import { runsOnPanel, stripAlong } from './strip.ts';
import type { Topstitch } from './types.ts';
import { LIMITS } from './words.ts';

/** Topstitch of 7-8 stitches per inch, m. Common practice, no source. */
export const STITCH = 0.003;
/** Thread: a slip of the unit above it, N. Stitch length: shortest and longest that a machine or hand sews, m. */
export const STRONGEST = 1000;
export const STITCHES = { min: 0.0005, max: 0.02 } as const;
const SLACK = 2e-4;

/** The rows of one panel; faulty ones are left out after their faults. Parameters: panel name; its written rows. */
export function resolveTopstitch(ctx: ParseContext, panel: string, forms: readonly TopstitchForm[]): Topstitch[] {
  return forms.flatMap((form, i) => {
    const path = at(at(at('panels', panel), 'topstitch'), i);
    const offset = ctx.size(at(path, 'offset'), form.offset, 'length', { min: 0, above: true, max: LIMITS.allowance });
    const stitch = form.stitch === undefined ? STITCH : ctx.size(at(path, 'stitch'), form.stitch, 'length', STITCHES);
    const drawn = ctx.attempt(path, form, () => ctx.drawn(panel));
    const thread = form.thread === undefined ? 0 : ctx.quantity(at(path, 'thread'), form.thread, 'force', { min: 0, above: true, max: STRONGEST });
    if (!drawn || offset === null || stitch === null || thread === null) return [];
    const runs = runsOnPanel(ctx, at(path, 'along'), form.along, 'a row of topstitching', panel);
    const line =
      runs &&
      ctx.attempt(at(path, 'along'), form.along, () => {
        const { inner } = stripAlong(runs, drawn.outline, offset);
        const outer = polygonOf(drawn.outline);
        if (inner.some((p) => !insidePolygon(p, outer) && distanceToPolygon(p, outer) > SLACK)) throw new FormulaError('a row that stays on the panel');
        return inner;
      });
    return runs && line ? [{ panel, runs, offset, stitch, thread: form.thread === undefined ? null : thread, line }] : [];
  });
}
