/** Written shapes (rectangle, trapezoid, circle, outline, half, copy, mirror) to outline edges, with every geometric fault on the list. */

import { insidePolygon, libm, polygonArea } from '../numerics/index.ts';
import { type Corner, joinCorners, mirrored, reversedChain, unfold } from './corners.ts';
import { polygonsMeet, selfCrossing } from './crossings.ts';
import { polygonOf } from './curve.ts';
import { at, oneOf } from './faults.ts';
import { goodName, NAME_RULE } from './names.ts';
import { type Drawn, type ParseContext, Reported } from './parse-context.ts';
import type { SizeForm } from './schema-base.ts';
import { type HoleForm, type PanelForm, type RectangleForm, SHAPES } from './schema-panels.ts';
import type { OutlineEdge, Point2 } from './types.ts';
import { LIMITS } from './words.ts';
import { point, readCorners } from './written-corners.ts';

const LONG = { min: 0, above: true, max: LIMITS.length } as const;
function closedChain(ctx: ParseContext, path: string, corners: readonly Corner[] | null, closed = true, pathOf = (i: number) => at(path, i)): OutlineEdge[] {
  if (!corners) throw new Reported();
  const { edges, faults } = joinCorners(corners, closed);
  for (const f of faults) ctx.faults.addText(pathOf(f.corner), f.got, f.expected);
  if (faults.length > 0) throw new Reported();
  return edges;
}

const straight = (places: readonly Point2[], names: readonly string[], radii: readonly number[]): Corner[] =>
  places.map((p, i) => ({ at: p, name: names[i], side: { kind: 'line' }, round: radii[i] > 0 ? { kind: 'radius', radius: radii[i] } : null }));

const FOUR = ['bottom', 'right', 'top', 'left'] as const;

/** Corners of a rectangle, lower left at `at` or (0, 0): edges bottom, right, top, left. */
export function rectangle(ctx: ParseContext, path: string, form: RectangleForm): OutlineEdge[] {
  const width = ctx.size(at(path, 'width'), form.width, 'length', LONG);
  const height = ctx.size(at(path, 'height'), form.height, 'length', LONG);
  const origin = form.at ? point(ctx, at(path, 'at'), form.at) : ([0, 0] as const);
  const radius = form.radius ?? 0;
  const written: readonly SizeForm[] = Array.isArray(radius) ? radius : [radius, radius, radius, radius];
  const radii = written.map((r, i) =>
    ctx.size(Array.isArray(radius) ? at(at(path, 'radius'), i) : at(path, 'radius'), r, 'length', { min: 0, max: LIMITS.length }),
  );
  if (width === null || height === null || !origin || radii.includes(null)) throw new Reported();
  const [x, y] = origin;
  const places: Point2[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return closedChain(ctx, path, straight(places, FOUR, radii as number[]), true, () => path);
}

function trapezoid(ctx: ParseContext, path: string, form: NonNullable<PanelForm['trapezoid']>): OutlineEdge[] {
  const bottom = ctx.size(at(path, 'bottom'), form.bottom, 'length', LONG);
  const top = ctx.size(at(path, 'top'), form.top, 'length', LONG);
  const height = ctx.size(at(path, 'height'), form.height, 'length', LONG);
  if (bottom === null || top === null || height === null) throw new Reported();
  const over = (top - bottom) / 2;
  const places: Point2[] = [
    [0, 0],
    [bottom, 0],
    [bottom + over, height],
    [-over, height],
  ];
  return closedChain(ctx, path, straight(places, FOUR, [0, 0, 0, 0]), true, () => path);
}

/** Four quarter arcs rim1 to rim4 from the lowest point round; together they are the chain "rim". */
function circle(ctx: ParseContext, path: string, form: { diameter: SizeForm; centre?: readonly [SizeForm, SizeForm] }): OutlineEdge[] {
  const diameter = ctx.size(at(path, 'diameter'), form.diameter, 'length', LONG);
  const middle = form.centre ? point(ctx, at(path, 'centre'), form.centre) : null;
  if (diameter === null || (form.centre && !middle)) throw new Reported();
  const r = diameter / 2;
  const [cx, cy] = middle ?? [r, r];
  const rim = (eighth: number): Point2 => [cx + r * libm.sin((eighth * Math.PI) / 4), cy - r * libm.cos((eighth * Math.PI) / 4)];
  return [0, 1, 2, 3].map((q) => ({ name: `rim${q + 1}`, kind: 'arc', from: rim(2 * q), via: rim(2 * q + 1), to: rim(q === 3 ? 0 : 2 * q + 2) }));
}

function outer(ctx: ParseContext, path: string, form: PanelForm, chains: Map<string, readonly string[]>): { edges: OutlineEdge[]; from: string } {
  const given = SHAPES.filter((s) => form[s] !== undefined);
  if (given.length !== 1) {
    ctx.faults.addText(path, given.length === 0 ? 'a panel without a shape' : `a panel with ${given.join(' and ')}`, `exactly one of ${SHAPES.join(', ')}`);
    throw new Reported();
  }
  const from = at(path, given[0]);
  if (form.rectangle) return { edges: rectangle(ctx, from, form.rectangle), from };
  if (form.trapezoid) return { edges: trapezoid(ctx, from, form.trapezoid), from };
  if (form.circle) {
    chains.set('rim', ['rim1', 'rim2', 'rim3', 'rim4']);
    return { edges: circle(ctx, from, form.circle), from };
  }
  if (form.outline) return { edges: closedChain(ctx, from, readCorners(ctx, from, form.outline, true)), from };
  if (form.half) {
    const corners = readCorners(ctx, from, form.half, false);
    if (corners && (corners.length < 3 || [corners[0], corners[corners.length - 1]].some((c) => Math.abs(c.at[0]) > 1e-9))) {
      ctx.faults.addText(from, 'a half that does not start and end on x = 0', 'at least three corners, the first and the last with x = 0');
      throw new Reported();
    }
    const whole = unfold(closedChain(ctx, from, corners, false));
    for (const [name, members] of whole.chains) chains.set(name, members);
    return { edges: whole.edges, from };
  }
  return { edges: [], from };
}

function hole(ctx: ParseContext, path: string, form: HoleForm, number: number): OutlineEdge[] {
  const given = (['rectangle', 'circle', 'outline'] as const).filter((s) => form[s] !== undefined);
  if (given.length !== 1) {
    ctx.faults.addText(path, given.length === 0 ? 'a hole without a shape' : `a hole with ${given.join(' and ')}`, 'exactly one of rectangle, circle, outline');
    throw new Reported();
  }
  const from = at(path, given[0]);
  const edges = form.rectangle
    ? rectangle(ctx, from, form.rectangle)
    : form.circle
      ? circle(ctx, from, form.circle)
      : closedChain(ctx, from, readCorners(ctx, from, form.outline ?? [], true));
  soundOutline(ctx, from, edges);
  return reversedChain(edges).map((e) => ({ ...e, name: `hole${number} ${e.name}` }));
}

/** Adds the faults of a closed chain as a whole: too few sides, clockwise, crossing itself. Throws Reported when there is one. */
function soundOutline(ctx: ParseContext, path: string, edges: readonly OutlineEdge[]): Point2[] {
  const stop = (got: string, expected: string): never => {
    ctx.faults.addText(path, got, expected);
    throw new Reported();
  };
  if (edges.length > LIMITS.edgesPerPanel) stop(`${edges.length} edges`, `at most ${LIMITS.edgesPerPanel} edges`);
  const names = new Set<string>();
  for (const e of edges) if (names.size === names.add(e.name).size) stop(`two edges called "${e.name}"`, 'a name of its own for each edge');
  const points = polygonOf(edges);
  if (edges.length < 2 || points.length < 3) stop(`${edges.length} edges`, 'at least three corners');
  for (const p of points)
    if (Math.max(Math.abs(p[0]), Math.abs(p[1])) > 2 * LIMITS.length) stop('a curve that leaves the drawing', `points within ${LIMITS.length} m`);
  const crossing = selfCrossing(points);
  if (crossing)
    stop(
      `an outline that meets itself near [${crossing.map((v) => `${Number((v * 1000).toFixed(1))} mm`).join(', ')}]`,
      'an outline that neither crosses nor touches itself',
    );
  if (polygonArea(points) <= 0) stop('a clockwise outline', 'corners listed counterclockwise, seen from the face');
  return points;
}

/** The drawn outline, holes and chains of one panel. Throws Reported after putting all its geometric faults on the list. */
export function drawShape(ctx: ParseContext, path: string, form: PanelForm): Drawn {
  const chains = new Map<string, readonly string[]>();
  const model = form.copy ?? form.mirror;
  if (model !== undefined && SHAPES.filter((s) => form[s] !== undefined).length === 1) return likeAnother(ctx, path, form, model);
  const { edges, from } = outer(ctx, path, form, chains);
  const polygon = soundOutline(ctx, from, edges);
  const holes: OutlineEdge[][] = [];
  let broken = false;
  (form.holes ?? []).forEach((h, i) => {
    const where = at(at(path, 'holes'), i);
    const made = ctx.attempt(where, h, () => hole(ctx, where, h, i + 1));
    if (!made) {
      broken = true;
      return;
    }
    const inner = polygonOf(made);
    if (polygonsMeet(inner, polygon) || !insidePolygon(inner[0], polygon) || holes.some((other) => holesClash(inner, polygonOf(other)))) {
      ctx.faults.addText(where, 'a hole that leaves the panel or meets another hole', 'a hole inside the outline, clear of the others');
      broken = true;
      return;
    }
    holes.push(made);
    chains.set(
      `hole${i + 1}`,
      made.map((e) => e.name),
    );
  });
  if (broken) throw new Reported();
  return finish(ctx, path, form, edges, holes, chains);
}

const holesClash = (a: readonly Point2[], b: readonly Point2[]): boolean => polygonsMeet(a, b) !== null || insidePolygon(a[0], b) || insidePolygon(b[0], a);

function likeAnother(ctx: ParseContext, path: string, form: PanelForm, model: string): Drawn {
  const where = at(path, form.copy !== undefined ? 'copy' : 'mirror');
  if (form.holes) ctx.faults.addText(at(path, 'holes'), 'holes on a copied panel', 'holes only on the panel it is copied from');
  const other = ctx.attempt(where, model, () => ctx.drawn(model));
  if (!other) throw new Reported();
  if (form.copy !== undefined) return finish(ctx, path, form, other.outline, other.holes, new Map(other.chains));
  const xs = polygonOf(other.outline).map((p) => p[0]);
  // Mirrored within its own width, so that the image lies where the model lay.
  const sum = Math.min(...xs) + Math.max(...xs);
  const chains = new Map([...other.chains].map(([name, members]) => [name, [...members].reverse()] as const));
  return finish(
    ctx,
    path,
    form,
    mirrored(other.outline, sum),
    other.holes.map((h) => mirrored(h, sum)),
    chains,
  );
}

function finish(
  ctx: ParseContext,
  path: string,
  form: PanelForm,
  outline: readonly OutlineEdge[],
  holes: readonly (readonly OutlineEdge[])[],
  chains: Map<string, readonly string[]>,
): Drawn {
  const edges = new Map([...outline, ...holes.flat()].map((e) => [e.name, e]));
  for (const [name, members] of Object.entries(form.chains ?? {})) {
    const here = at(at(path, 'chains'), name);
    if (!goodName(name)) ctx.faults.add(here, name, NAME_RULE);
    if (edges.has(name)) ctx.faults.add(here, name, 'a name that no edge has');
    if (members.length === 0) ctx.faults.addText(here, 'an empty list', 'at least one edge');
    members.forEach((m, i) => {
      if (!edges.has(m)) ctx.faults.add(at(here, i), m, oneOf('an edge of this panel', m, edges.keys()));
    });
    // Strangers are on the list already; without this every seam that names the chain would be at fault as well.
    chains.set(
      name,
      members.filter((m) => edges.has(m)),
    );
  }
  return { outline, holes, edges, chains };
}
