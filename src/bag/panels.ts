/** One written panel to a Panel: role, grain, openings, marks, clips, regions and pose on top of the drawn outline. */

import { distanceToPolygon, insidePolygon, libm } from '../numerics/index.ts';
import { pointAt, polygonOf } from './curve.ts';
import { at, oneOf } from './faults.ts';
import { FormulaError } from './formula.ts';
import { innerLines } from './inner-lines.ts';
import { goodName, NAME_RULE } from './names.ts';
import type { Drawn, ParseContext } from './parse-context.ts';
import { regionOutline } from './regions.ts';
import type { SizeForm } from './schema-base.ts';
import type { PanelForm } from './schema-panels.ts';
import type { Clip, OutlineEdge, Panel, PanelRole, Point2, Region } from './types.ts';
import { LIMITS, ROLES } from './words.ts';
import { point } from './written-corners.ts';

const FULL_TURN = { min: -2 * Math.PI, max: 2 * Math.PI } as const;
/** A mark may sit on the outline; this much outside is rounding, m. */
const ON_EDGE = 2e-4;

/** Edges that are a mouth when nothing is sewn to them and the file does not list its openings. */
const MOUTH = /^(top|mouth|rim|hem)\b/i;
/** true when an edge is a mouth by its name. */
export const isMouth = (edge: string): boolean => MOUTH.test(edge);

/** Role read from a panel's name: "left side" is a side, "front pocket" a pocket; null when the name says nothing. */
function roleFromName(name: string): PanelRole | null {
  const words = name.toLowerCase().split(/[\s_+-]+/);
  // The last telling word names the thing ("front pocket"), the ones before it say where.
  for (const word of words.reverse()) {
    const role = ROLES.find((r) => r === word || `${r}s` === word);
    if (role) return role;
    if (word === 'left' || word === 'right' || word === 'end') return 'side';
    if (word === 'bottom') return 'base';
    if (word === 'handle') return 'strap';
    if (word === 'facing' || word === 'tab' || word === 'binding') return 'trim';
  }
  return null;
}

/** A place in a panel: a point [x, y], or "edge[50%]" on an edge. Throws FormulaError or Reported. */
export function placeOn(ctx: ParseContext, path: string, panel: string, written: readonly [SizeForm, SizeForm] | string, drawn: Drawn): Point2 | null {
  if (typeof written !== 'string') return point(ctx, path, written);
  return ctx.attempt(path, written, () => {
    const m = /^([^[\]]{1,120})\[([^[\]]{1,120})\]\s*$/.exec(written);
    if (!m) throw new FormulaError('a point [x, y] or a place on an edge such as "top[50%]"');
    if (m[2].includes('..')) throw new FormulaError('one place such as "top[50%]", not a stretch');
    const runs = ctx.reference(`${m[1]}[0..${/^\s*0\s*(%|mm|cm|m|in)?\s*$/.test(m[2]) ? '1' : m[2]}]`, 'a place', panel);
    const first = /^\s*0\s*(%|mm|cm|m|in)?\s*$/.test(m[2]);
    const run = first ? runs[0] : runs[runs.length - 1];
    if (run.panel !== panel) throw new FormulaError(`a place on panel ${panel} itself`);
    return pointAt(drawn.edges.get(run.edge) as OutlineEdge, first ? run.from : run.to);
  });
}

function clips(ctx: ParseContext, path: string, name: string, form: PanelForm, drawn: Drawn, polygon: readonly Point2[]): Clip[] {
  const out: Clip[] = [];
  (form.clips ?? []).forEach((clip, i) => {
    const here = at(at(path, 'clips'), i);
    if ((clip.edge === undefined) === (clip.point === undefined)) {
      ctx.faults.addText(here, clip.edge === undefined ? 'a clip without a place' : 'a clip with edge and point', 'exactly one of edge, point');
    } else if (clip.point !== undefined) {
      const where = at(here, 'point');
      const spot = placeOn(ctx, where, name, clip.point, drawn);
      if (clip.slope !== undefined) ctx.faults.add(at(here, 'slope'), clip.slope, 'slope only on a clipped edge');
      if (spot && outside(spot, polygon)) ctx.faults.add(where, clip.point, 'a point inside the panel');
      if (spot) out.push({ kind: 'point', at: spot });
    } else if (clip.edge !== undefined) {
      const edge = clip.edge;
      const runs = ctx.attempt(at(here, 'edge'), edge, () => ctx.reference(edge, 'a clip', name));
      for (const run of runs ?? []) {
        if (run.panel !== name) ctx.faults.add(at(here, 'edge'), edge, `an edge of panel ${name} itself`);
        else out.push({ kind: 'edge', run, slope: clip.slope ?? true });
      }
    }
  });
  return out;
}

/** Does a place lie off its panel, by more than rounding? */
export const outside = (p: Point2, polygon: readonly Point2[]): boolean => !insidePolygon(p, polygon) && distanceToPolygon(p, polygon) > ON_EDGE;

function pose(ctx: ParseContext, path: string, form: PanelForm['pose']): Panel['pose'] {
  if (!form) return null;
  const origin = form.origin.map((v, i) => ctx.size(at(at(path, 'origin'), i), v, 'length', { min: -LIMITS.length, max: LIMITS.length }));
  const axis = (key: 'x' | 'y'): readonly [number, number, number] | null => {
    const [a, b, c] = form[key];
    const long = libm.hypot(a, b, c);
    if (!(long > 1e-9)) {
      ctx.faults.addText(at(path, key), 'a direction of no length', 'a direction such as [1, 0, 0]');
      return null;
    }
    return [a / long, b / long, c / long];
  };
  const x = axis('x');
  const y = axis('y');
  if (x && y && Math.abs(x[0] * y[0] + x[1] * y[1] + x[2] * y[2]) > 1e-6)
    ctx.faults.addText(at(path, 'y'), 'a direction oblique to x', 'a direction at a right angle to x');
  return x && y && !origin.includes(null) ? { origin: origin as unknown as readonly [number, number, number], x, y } : null;
}

function openings(ctx: ParseContext, path: string, form: PanelForm, drawn: Drawn, sewn: ReadonlySet<string> | null, role: PanelRole): string[] {
  if (form.open) {
    const out: string[] = [];
    form.open.forEach((name, i) => {
      const members = drawn.chains.get(name) ?? (drawn.edges.has(name) ? [name] : null);
      if (members) out.push(...members);
      else ctx.faults.add(at(at(path, 'open'), i), name, oneOf('an edge of this panel', name, [...drawn.edges.keys(), ...drawn.chains.keys()]));
    });
    return out;
  }
  const names = [...drawn.edges.keys()];
  // A panel that no seam touches is a swatch or a flag: all of its edges are meant to be free.
  if (sewn === null || sewn.size === 0) return names;
  // The top edge of a base is no mouth.
  return role === 'base' ? [] : names.filter((n) => isMouth(n) && !sewn.has(n));
}

function grainOf(ctx: ParseContext, path: string, form: PanelForm, forms: ReadonlyMap<string, PanelForm>, depth = 0): number {
  if (form.grain !== undefined) return ctx.size(at(path, 'grain'), form.grain, 'angle', FULL_TURN) ?? 0;
  const model = form.copy ?? form.mirror;
  const other = model === undefined ? undefined : forms.get(model);
  // Copies share the grain, mirror images mirror it, unless they state their own.
  if (!other || depth > 200) return 0;
  const theirs = grainOf(ctx, at('panels', model as string), other, forms, depth + 1);
  return form.mirror !== undefined ? -theirs || 0 : theirs;
}

/**
 * The resolved panel, or null when its outline is broken. All faults go on the list.
 * Parameters: name and written form; all written panels (for copies); names of its edges that some seam uses.
 */
export function resolvePanel(
  ctx: ParseContext,
  name: string,
  form: PanelForm,
  forms: ReadonlyMap<string, PanelForm>,
  sewn: ReadonlySet<string>,
  stackKnown: (path: string, name: string) => void,
): Panel | null {
  const path = at('panels', name);
  const drawn = ctx.attempt(path, form, () => ctx.drawn(name));
  if (!drawn) return null;
  const polygon = polygonOf(drawn.outline);
  const marks: { name: string; at: Point2 }[] = [];
  for (const [mark, written] of Object.entries(form.marks ?? {})) {
    const here = at(at(path, 'marks'), mark);
    if (!goodName(mark)) ctx.faults.add(here, mark, NAME_RULE);
    const spot = placeOn(ctx, here, name, written, drawn);
    if (spot && outside(spot, polygon)) ctx.faults.add(here, written, 'a point inside the panel');
    if (spot) marks.push({ name: mark, at: spot });
  }
  const role = form.role ?? roleFromName(name) ?? (sewn.size === 0 ? 'flat' : 'body');
  const regions: Region[] = [];
  for (const [region, written] of Object.entries(form.regions ?? {})) {
    const here = at(at(path, 'regions'), region);
    if (!goodName(region)) ctx.faults.add(here, region, NAME_RULE);
    stackKnown(at(here, 'stack'), written.stack);
    const outline = regionOutline(ctx, here, written, drawn.outline, name);
    if (outline) regions.push({ name: region, stack: written.stack, outline });
  }
  return {
    name,
    role,
    outline: drawn.outline,
    holes: drawn.holes,
    chains: Object.fromEntries(drawn.chains),
    grain: grainOf(ctx, path, form, forms),
    marks,
    clips: clips(ctx, path, name, form, drawn, polygon),
    regions,
    lines: innerLines(
      ctx,
      at(path, 'lines'),
      form.lines ?? {},
      polygon,
      drawn.holes.map((h) => polygonOf(h)),
    ),
    openings: openings(ctx, path, form, drawn, sewn, role),
    pose: pose(ctx, at(path, 'pose'), form.pose),
  };
}
