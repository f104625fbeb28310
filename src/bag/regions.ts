/** Parts of a panel as polygons: what lies above or below a line, inside a margin, or inside a drawn shape. */

import { distanceToPolygon, insidePolygon, libm, polygonArea } from '../numerics/index.ts';
import { selfCrossing } from './crossings.ts';
import { polygonOf } from './curve.ts';
import { at } from './faults.ts';
import { type ParseContext, Reported } from './parse-context.ts';
import type { RegionForm } from './schema-panels.ts';
import { rectangle } from './shapes.ts';
import { runsOnPanel, stripAlong } from './strip.ts';
import type { OutlineEdge, Point2 } from './types.ts';
import { LIMITS } from './words.ts';
import { point } from './written-corners.ts';

/** How far a region may overhang the outline, m: rounding of formulas and flattened curves. */
const SLACK = 2e-4;

/** Part of a polygon with y on one side of a level. Sutherland-Hodgman (1974), one clip line. */
function cutAt(points: readonly Point2[], level: number, above: boolean): Point2[] {
  const keeps = (p: Point2) => (above ? p[1] >= level : p[1] <= level);
  const out: Point2[] = [];
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length];
    if (keeps(a)) out.push(a);
    if (keeps(a) !== keeps(b)) out.push([a[0] + ((b[0] - a[0]) * (level - a[1])) / (b[1] - a[1]), level]);
  });
  return out.filter((p, i) => libm.hypot(p[0] - out[(i + 1) % out.length][0], p[1] - out[(i + 1) % out.length][1]) > 1e-9);
}

/**
 * Polygon moved inward by a margin, mitred. Assumes a counterclockwise polygon and a margin well under its smallest feature;
 * a margin that is too wide shows as a crossing or a negative area, which the caller tests.
 */
function inset(points: readonly Point2[], margin: number): Point2[] {
  const n = points.length;
  return points.map((p, i) => {
    const a = points[(i + n - 1) % n];
    const b = points[(i + 1) % n];
    const u = unit(a, p);
    const v = unit(p, b);
    // Inward normals are the directions turned left; the mitre runs along their sum at margin / cos(half turn).
    const nx = -u[1] - v[1];
    const ny = u[0] + v[0];
    const scale = margin / (1 + u[0] * v[0] + u[1] * v[1]);
    return [p[0] + nx * scale, p[1] + ny * scale];
  });
}

function unit(a: Point2, b: Point2): Point2 {
  const d = libm.hypot(b[0] - a[0], b[1] - a[1]);
  return [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
}

function drawn(ctx: ParseContext, path: string, form: RegionForm, outline: readonly OutlineEdge[], panel: readonly Point2[], home: string): Point2[] {
  if (form.outline) {
    const points = form.outline.map((p, i) => point(ctx, at(at(path, 'outline'), i), p));
    if (points.includes(null)) throw new Reported();
    return points as Point2[];
  }
  if (form.rectangle) return polygonOf(rectangle(ctx, at(path, 'rectangle'), form.rectangle));
  if (form.inside !== undefined) {
    const margin = ctx.size(at(path, 'inside'), form.inside, 'length', { min: 0, max: LIMITS.length });
    if (margin === null) throw new Reported();
    if (margin === 0) return [...panel];
    const moved = inset(panel, margin);
    // A margin wider than half the panel turns the polygon inside out, twice over in a rectangle: only the distance tells.
    return moved.every((p) => distanceToPolygon(p, panel) > margin * (1 - 1e-6)) ? moved : [];
  }
  if (form.along !== undefined) return strip(ctx, path, form, outline, home);
  const above = form.above !== undefined;
  const level = ctx.size(at(path, above ? 'above' : 'below'), form.above ?? form.below ?? 0, 'length', { min: -LIMITS.length, max: LIMITS.length });
  if (level === null) throw new Reported();
  return cutAt(panel, level, above);
}

function strip(ctx: ParseContext, path: string, form: RegionForm, outline: readonly OutlineEdge[], home: string): Point2[] {
  const width = ctx.size(at(path, 'width'), form.width ?? 0, 'length', { min: 0, above: true, max: LIMITS.length });
  const runs = runsOnPanel(ctx, at(path, 'along'), form.along ?? [], 'a region', home);
  const made = width !== null && runs ? ctx.attempt(at(path, 'along'), form.along, () => stripAlong(runs, outline, width)) : null;
  if (!made) throw new Reported();
  return [...made.outer, ...made.inner.reverse()];
}

/**
 * Counterclockwise polygon of a written region, or null after its faults: not exactly one shape, no area, crossing itself, outside the panel.
 * Parameters: path of the region; its written form; the panel's outline and name.
 */
export function regionOutline(ctx: ParseContext, path: string, form: RegionForm, outline: readonly OutlineEdge[], home: string): Point2[] | null {
  const given = (['outline', 'rectangle', 'above', 'below', 'inside', 'along'] as const).filter((k) => form[k] !== undefined);
  if (given.length !== 1) {
    ctx.faults.addText(
      path,
      given.length === 0 ? 'a region without a shape' : `a region with ${given.join(' and ')}`,
      'exactly one of outline, rectangle, above, below, inside, along',
    );
    return null;
  }
  if (form.width !== undefined && form.along === undefined) ctx.faults.add(at(path, 'width'), form.width, 'a width only with "along"');
  const panel = polygonOf(outline);
  const points = ctx.attempt(path, form, () => drawn(ctx, path, form, outline, panel, home));
  if (!points) return null;
  const where = at(path, given[0]);
  if (points.length < 3 || Math.abs(polygonArea(points)) < 1e-8 || selfCrossing(points)) {
    ctx.faults.addText(where, 'a region of no area, or one that crosses itself', 'a simple shape with some area inside the panel');
    return null;
  }
  if (points.some((p) => !insidePolygon(p, panel) && distanceToPolygon(p, panel) > SLACK)) {
    ctx.faults.addText(where, 'a region that leaves the panel', 'points inside the outline');
    return null;
  }
  return polygonArea(points) > 0 ? points : points.reverse();
}
