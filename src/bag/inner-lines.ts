/** Written fold lines and other lines inside a panel. */
import { distanceToPolygon, insidePolygon, libm } from '../numerics/index.ts';
import { at } from './faults.ts';
import { goodName, NAME_RULE } from './names.ts';
import type { ParseContext } from './parse-context.ts';
import type { LineForm } from './schema-panels.ts';
import type { InnerLine, Point2 } from './types.ts';
import { point } from './written-corners.ts';

/** How far a line's end may overhang the outline, m: rounding of formulas and flattened curves. */
const SLACK = 2e-4;
/** A crease wider than this is a bend, not a crease, m. */
const WIDEST = 0.05;
const MOST_POINTS = 200;

/**
 * The lines of one panel; those with faults are left out after their faults: too few points, a point twice running, a point outside the panel, a
 * stretch that leaves it, an angle without a fold.
 * Parameters: path of the panel's lines; written lines by name; the panel's outline and holes as polygons.
 */
export function innerLines(
  ctx: ParseContext,
  path: string,
  written: Readonly<Record<string, LineForm>>,
  outline: readonly Point2[],
  holes: readonly (readonly Point2[])[],
): InnerLine[] {
  const outside = (p: Point2): boolean =>
    (!insidePolygon(p, outline) && distanceToPolygon(p, outline) > SLACK) || holes.some((h) => insidePolygon(p, h) && distanceToPolygon(p, h) > SLACK);
  return Object.entries(written).flatMap(([name, form]): InnerLine[] => {
    const here = at(path, name);
    const before = ctx.faults.faults.length;
    if (!goodName(name)) ctx.faults.add(here, name, NAME_RULE);
    const where = at(here, 'points');
    if (form.points.length < 2 || form.points.length > MOST_POINTS)
      ctx.faults.addText(where, `${form.points.length} point${form.points.length === 1 ? '' : 's'}`, `2 to ${MOST_POINTS} points`);
    const points = form.points.slice(0, MOST_POINTS).map((p, i) => point(ctx, at(where, i), p));
    points.forEach((p, i) => {
      if (!p) return;
      if (outside(p)) ctx.faults.add(at(where, i), form.points[i], 'a point inside the panel');
      const q = points[i - 1];
      if (!q) return;
      if (libm.hypot(p[0] - q[0], p[1] - q[1]) < 1e-6) ctx.faults.add(at(where, i), form.points[i], 'a point other than the one before');
      else if (!outside(p) && !outside(q) && leaves(q, p, outside)) ctx.faults.add(at(where, i), form.points[i], 'a line that stays inside the panel');
    });
    const width = form.fold === undefined ? null : ctx.size(at(here, 'fold'), form.fold, 'length', { min: 0, max: WIDEST });
    const angle = form.angle === undefined ? null : ctx.size(at(here, 'angle'), form.angle, 'angle', { min: -Math.PI, max: Math.PI });
    if (form.angle !== undefined && form.fold === undefined) ctx.faults.add(at(here, 'angle'), form.angle, 'an angle only on a line with "fold"');
    if (ctx.faults.faults.length > before) return [];
    return [{ name, points: points as Point2[], fold: width === null || form.fold === undefined ? null : { width, angle } }];
  });
}

/** Does the straight stretch leave the panel between its ends? Looked at in 64 places: what is narrower than that stays unseen. */
function leaves(a: Point2, b: Point2, outside: (p: Point2) => boolean): boolean {
  const steps = 64;
  for (let i = 1; i < steps; i++) if (outside([a[0] + ((b[0] - a[0]) * i) / steps, a[1] + ((b[1] - a[1]) * i) / steps])) return true;
  return false;
}
