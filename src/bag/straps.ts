/** Written straps to records: where their patches lie, and whether they fit there. */

import { distanceToPolygon, insidePolygon, libm } from '../numerics/index.ts';
import { polygonOf } from './curve.ts';
import { at } from './faults.ts';
import { FormulaError } from './formula.ts';
import { NAME_RULE } from './names.ts';
import type { Drawn, ParseContext } from './parse-context.ts';
import type { AnchorForm, StrapForm } from './schema-sewing.ts';
import { STITCH, STITCHES, STRONGEST } from './topstitch.ts';
import type { Anchor, AnchorKind, Point2, Strap } from './types.ts';
import { LIMITS } from './words.ts';

const LONG = { min: 0, above: true, max: LIMITS.length } as const;
/** A patch is sewn this far below the edge above it. Common practice, no source. */
const DOWN = 0.025;
/** Height of a single row of stitches and size of a rivet's cap, m. Common practice, no source; boxes and loops are as high as the strap is wide. */
const ROW = 0.003;
const RIVET = 0.009;
/** A patch may stand over by rounding, m. */
const SLACK = 1e-7;

/** Smallest and largest coordinate at which a level (axis 1) or upright (axis 0) line through `value` meets a polygon, or null. */
export function span(polygon: readonly Point2[], axis: 0 | 1, value: number): [number, number] | null {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length];
    if (Math.min(a[axis], b[axis]) > value || Math.max(a[axis], b[axis]) < value) return;
    const ends = a[axis] === b[axis] ? [a[1 - axis], b[1 - axis]] : [a[1 - axis] + ((b[1 - axis] - a[1 - axis]) * (value - a[axis])) / (b[axis] - a[axis])];
    low = Math.min(low, ...ends);
    high = Math.max(high, ...ends);
  });
  return low <= high ? [low, high] : null;
}

/**
 * Centre of a patch: `side` from the panel's side at the patch's own height, its top `top` below the edge above it. Each depends on the other where
 * sides slant or the mouth is scooped, so both are repeated until they agree (a micrometre). null when they do not.
 */
export function placed(polygon: readonly Point2[], left: boolean, side: number, top: number, height: number): Point2 | null {
  let y = Math.max(...polygon.map((p) => p[1])) - top - height / 2;
  for (let i = 0; i < 200; i++) {
    const level = span(polygon, 1, y);
    if (!level) return null;
    const x = left ? level[0] + side : level[1] - side;
    const upright = span(polygon, 0, x);
    if (!upright) return null;
    const next = upright[1] - top - height / 2;
    if (Math.abs(next - y) < 1e-9) return [x, next];
    y = Math.abs(next - y) < 1e-6 ? next : (y + next) / 2;
  }
  return null;
}

export const patchOutline = (a: Pick<Anchor, 'at' | 'width' | 'height'>): Point2[] =>
  [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
  ].map(([u, v]) => [a.at[0] + u * a.width, a.at[1] + v * a.height]);

/** Corners, and points between them that a bulging edge might cut off. */
export function within(patch: Pick<Anchor, 'at' | 'width' | 'height'>, drawn: Pick<Drawn, 'outline' | 'holes'>): boolean {
  const outer = polygonOf(drawn.outline);
  const corners = patchOutline(patch);
  const tests = corners.flatMap((a, i) =>
    [0, 0.25, 0.5, 0.75].map((t): Point2 => {
      const b = corners[(i + 1) % 4];
      return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    }),
  );
  const clearOf = (hole: readonly Point2[]) => tests.every((p) => !insidePolygon(p, hole)) && hole.every((p) => !insidePolygon(p, corners));
  return (
    tests.every((p) => insidePolygon(p, outer) || distanceToPolygon(p, outer) <= SLACK) &&
    outer.every((p) => !insidePolygon(p, corners) || distanceToPolygon(p, corners) <= SLACK) &&
    drawn.holes.every((h) => clearOf(polygonOf(h)))
  );
}

function anchor(ctx: ParseContext, path: string, form: AnchorForm, strap: number): Anchor | null {
  const drawn = ctx.attempt(at(path, 'panel'), form.panel, () => ctx.drawn(form.panel));
  const sides = (['from left', 'from right'] as const).filter((k) => form[k] !== undefined);
  if (sides.length !== 1)
    ctx.faults.addText(path, sides.length === 0 ? 'an anchor without its side' : 'an anchor with both sides', 'exactly one of "from left", "from right"');
  const side = sides.length === 1 ? ctx.size(at(path, sides[0]), form[sides[0]] ?? 0, 'length', { min: 0, max: LIMITS.length }) : null;
  const top = form['from top'] === undefined ? DOWN : ctx.size(at(path, 'from top'), form['from top'], 'length', { min: 0, max: LIMITS.length });
  const kind: AnchorKind = form.kind ?? 'box with cross';
  const usual = kind === 'row' ? ROW : kind === 'rivet' ? RIVET : strap;
  const height = form.height === undefined ? usual : ctx.size(at(path, 'height'), form.height, 'length', LONG);
  if (!drawn || side === null || top === null || height === null) return null;
  return ctx.attempt(path, form, () => {
    const centre = placed(polygonOf(drawn.outline), sides[0] === 'from left', side, top, height);
    const made = centre && { panel: form.panel, kind, at: centre, width: kind === 'rivet' ? RIVET : strap, height };
    if (!made || !within(made, drawn))
      throw new FormulaError(`a patch of ${mm(kind === 'rivet' ? RIVET : strap)} x ${mm(height)} mm that lies on panel ${form.panel}`);
    return made;
  });
}

export const mm = (m: number): string => String(Number((m * 1000).toFixed(1)));

/** The other end of a pair: as far from the other side. */
function mirrored(form: AnchorForm): AnchorForm {
  const { 'from left': left, 'from right': right, ...rest } = form;
  return { ...rest, ...(right === undefined ? {} : { 'from left': right }), ...(left === undefined ? {} : { 'from right': left }) };
}

export const overlap = (a: Anchor, b: Anchor): boolean =>
  a.panel === b.panel && Math.abs(a.at[0] - b.at[0]) < (a.width + b.width) / 2 - SLACK && Math.abs(a.at[1] - b.at[1]) < (a.height + b.height) / 2 - SLACK;

/** How the ends are sewn on; null where no thread is stated, or after its faults. */
function sewnOn(ctx: ParseContext, path: string, form: StrapForm): { stitch: number; thread: number } | null {
  const stitch = form.stitch === undefined ? STITCH : ctx.size(at(path, 'stitch'), form.stitch, 'length', STITCHES);
  if (form.thread === undefined) {
    if (form.stitch !== undefined) ctx.faults.addText(at(path, 'stitch'), 'a stitch length without a thread', '"thread" with it, such as "60 N"');
    return null;
  }
  const thread = ctx.quantity(at(path, 'thread'), form.thread, 'force', { min: 0, above: true, max: STRONGEST });
  return stitch === null || thread === null ? null : { stitch, thread };
}

/**
 * The straps of one written entry (one, and one for each panel of "also on"), or none after its faults. Parameters: name and written form; straps
 * already made, whose patches must be clear of these.
 */
export function resolveStrap(
  ctx: ParseContext,
  name: string,
  form: StrapForm,
  before: readonly Strap[],
  stackKnown: (path: string, name: string) => void,
): Strap[] {
  const path = at('straps', name);
  const { faults } = ctx;
  const width = ctx.size(at(path, 'width'), form.width, 'length', LONG);
  const length = ctx.size(at(path, 'length'), form.length, 'length', LONG);
  // An adjuster folds a strap back once: at less than half of its longest its end would come out.
  const shortest =
    form.shortest === undefined || length === null ? null : ctx.size(at(path, 'shortest'), form.shortest, 'length', { min: length / 2, max: length });
  const drop = form.drop === undefined ? null : ctx.size(at(path, 'drop'), form.drop, 'length', LONG);
  const sewn = sewnOn(ctx, path, form);
  const layers = form.layers ?? 1;
  if (!(Number.isInteger(layers) && layers >= 1 && layers <= 8)) faults.add(at(path, 'layers'), form.layers, 'a whole number from 1 to 8');
  stackKnown(at(path, 'stack'), form.stack);
  if (ctx.hasPanel(name)) faults.addText(path, `the name "${name}"`, `a name that no panel has; ${NAME_RULE}`);
  if (width === null || length === null) return [];
  const far = form.to === 'mirrored' ? mirrored(form.from) : form.to;
  const copies = form['also on'] ?? [];
  if (copies.length > 0 && far.panel !== form.from.panel)
    faults.addText(at(path, 'also on'), 'copies of a strap between two panels', 'copies only of a strap with both ends on one panel');
  const made: Strap[] = [];
  [null, ...copies].forEach((copy, i) => {
    const here = copy === null ? path : at(at(path, 'also on'), i - 1);
    const on = (a: AnchorForm): AnchorForm => (copy === null ? a : { ...a, panel: copy });
    const one = anchor(ctx, copy === null ? at(path, 'from') : here, on(form.from), width);
    const two = anchor(ctx, copy === null ? at(path, 'to') : here, on(far), width);
    if (!one || !two) return;
    if ([...before, ...made].some((s) => s.anchors.some((a) => overlap(a, one) || overlap(a, two))) || overlap(one, two))
      faults.addText(here, 'patches that lie on each other', 'each patch on cloth of its own');
    const apart = libm.hypot(one.at[0] - two.at[0], one.at[1] - two.at[1]);
    if (one.panel === two.panel && (shortest ?? length) < apart)
      faults.add(at(path, 'length'), form.length, `at least the ${mm(apart)} mm between its two patches`);
    made.push({
      name: copy === null ? name : `${name} on ${copy}`,
      width,
      length,
      stack: form.stack,
      layers,
      anchors: [one, two],
      drop,
      ...(sewn ? { sewn } : {}),
      ...(shortest === null ? {} : { shortest }),
    });
  });
  return made;
}
