/** Written finishes of open edges, and whether turned and sewn allowances have room on their panels. */

import { distanceToPolygon, insidePolygon, libm } from '../numerics/index.ts';
import { pointAt, polygonOf } from './curve.ts';
import { at } from './faults.ts';
import { FormulaError } from './formula.ts';
import type { ParseContext } from './parse-context.ts';
import { runsOverlap } from './runs-overlap.ts';
import type { FinishForm } from './schema-panels.ts';
import type { SeamForm } from './schema-sewing.ts';
import { runsOnPanel, stripAlong } from './strip.ts';
import type { EdgeFinish, EdgeRun, OutlineEdge, Panel, Seam } from './types.ts';
import { LIMITS } from './words.ts';

const SLACK = 2e-4;
/** An outline that turns more than this between two edges has a corner there, rad. */
const CORNER = Math.PI / 6;
const STEP = 1e-6;

function direction(e: OutlineEdge, end: boolean): number {
  const [a, b] = end ? [pointAt(e, 1 - STEP), pointAt(e, 1)] : [pointAt(e, 0), pointAt(e, STEP)];
  return libm.atan2(b[1] - a[1], b[0] - a[0]);
}

/** Does the chain turn a corner between two of its edges? */
const turnsCorner = (runs: readonly EdgeRun[], outline: readonly OutlineEdge[]): boolean =>
  runs.slice(1).some((run, i) => {
    const [a, b] = [runs[i], run].map((r) => outline.find((e) => e.name === r.edge));
    if (!a || !b || a === b) return false;
    const turn = direction(b, false) - direction(a, true);
    return Math.abs(libm.atan2(libm.sin(turn), libm.cos(turn))) > CORNER;
  });

/**
 * The finishes of one panel; faulty ones are left out after their faults: no width or one that is not positive, wider than the panel, on a stretch that is sewn or
 * has a finish already, turned round a corner without a mitre. Parameters: panel name; written finishes by edge; the bag's seams.
 */
export function resolveFinishes(
  ctx: ParseContext,
  panel: string,
  forms: Readonly<Record<string, FinishForm>>,
  seams: readonly Seam[],
  stackKnown: (path: string, name: string) => void,
): EdgeFinish[] {
  const out: EdgeFinish[] = [];
  const sewn = seams.flatMap((s) => s.sides.flat().map((run) => ({ run, seam: s.name })));
  for (const [edge, form] of Object.entries(forms)) {
    const path = at(at(at('panels', panel), 'finishes'), edge);
    const { faults } = ctx;
    const before = faults.faults.length;
    const ways = [{ form, path }, ...[form['in leather']].flatMap((leather) => (leather ? [{ form: leather, path: at(path, 'in leather') }] : []))].map(
      (way) => ({ ...way, width: widthOf(ctx, way.path, way.form) }),
    );
    for (const way of ways) checkCover(ctx, way.path, way.form, stackKnown);
    const drawn = ctx.attempt(path, form, () => ctx.drawn(panel));
    const runs = drawn && runsOnPanel(ctx, path, edge, 'a finish', panel);
    if (!drawn || !runs || ways.some((w) => w.width === null)) continue;
    const met = sewn.find((s) => runs.some((r) => runsOverlap(r, s.run)));
    if (met) faults.addText(path, `a finish on an edge that seam ${met.seam} sews`, 'an open edge');
    const other = out.find((o) => o.runs.some((a) => runs.some((b) => runsOverlap(a, b))));
    if (other) faults.addText(path, `a second finish on what "${other.edge}" finishes`, 'one finish on each stretch');
    for (const way of ways) checkRoom(ctx, way.path, way.form, way.width!, runs, drawn.outline);
    if (faults.faults.length > before) continue;
    const [own, leather] = ways.map((w) => ({ finish: w.form.finish, width: w.width!, stack: w.form.stack ?? null }));
    out.push({ panel, edge, runs, ...own!, ...(leather ? { leather } : {}) });
  }
  return out;
}

type MadeForm = Omit<FinishForm, 'in leather'>;

function checkCover(ctx: ParseContext, path: string, form: MadeForm, stackKnown: (path: string, name: string) => void): void {
  if (form.stack === undefined) return;
  if (form.finish !== 'faced' && form.finish !== 'bound') ctx.faults.add(at(path, 'stack'), form.stack, 'a stack only of a facing or a binding');
  stackKnown(at(path, 'stack'), form.stack);
}

function checkRoom(ctx: ParseContext, path: string, form: MadeForm, width: number, runs: readonly EdgeRun[], outline: readonly OutlineEdge[]): void {
  if (form.finish.startsWith('turned') && form.mitre !== true && turnsCorner(runs, outline))
    ctx.faults.addText(path, 'a turned edge that runs round a corner', '"mitre": true, or a finish for each edge by itself');
  if (width === 0) return;
  ctx.attempt(at(path, 'width'), form.width, () => {
    const outer = polygonOf(outline);
    const { inner } = stripAlong(runs, outline, width);
    if (inner.some((p) => !insidePolygon(p, outer) && distanceToPolygon(p, outer) > SLACK)) throw new FormulaError('a width that has room on the panel');
  });
}

/** m; 0 of a raw edge; null after a fault. */
function widthOf(ctx: ParseContext, path: string, form: MadeForm): number | null {
  if (form.finish === 'raw') {
    if (form.width !== undefined) ctx.faults.add(at(path, 'width'), form.width, 'no width of a raw edge: nothing is turned in');
    return 0;
  }
  if (form.width === undefined) {
    ctx.faults.addText(at(path, 'width'), 'nothing', 'the finished width, such as "30 mm"');
    return null;
  }
  return ctx.size(at(path, 'width'), form.width, 'length', { min: 0, above: true, max: LIMITS.allowance });
}

/** Faults of stated allowances that are as wide as a panel they are turned onto. */
export function checkAllowances(ctx: ParseContext, forms: ReadonlyMap<string, SeamForm>, seams: readonly Seam[], panels: readonly Panel[]): void {
  for (const seam of seams) {
    const form = forms.get(seam.name);
    if (!form || Array.isArray(form) || form.allowance === undefined) continue;
    const narrow = seam.sides.flat().find((run) => {
      const panel = panels.find((p) => p.name === run.panel);
      return panel !== undefined && across(panel) <= seam.allowance;
    });
    if (narrow) ctx.faults.add(at(at('seams', seam.name), 'allowance'), form.allowance, `an allowance narrower than panel ${narrow.panel}`);
  }
}

/** The smaller side of the box round a panel's outline, m. */
function across({ outline }: Panel): number {
  const points = polygonOf(outline);
  const size = ([0, 1] as const).map((k) => Math.max(...points.map((p) => p[k])) - Math.min(...points.map((p) => p[k])));
  return Math.min(...size);
}
