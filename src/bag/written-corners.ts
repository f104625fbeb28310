/** Written corners to corners in metres: place, name, rounding and the shape of the edge that leaves. */
import { type Corner, risePoint } from './corners.ts';
import { at } from './faults.ts';
import { goodName, NAME_RULE } from './names.ts';
import type { ParseContext } from './parse-context.ts';
import type { SizeForm } from './schema-base.ts';
import type { CornerForm } from './schema-panels.ts';
import type { Point2 } from './types.ts';
import { LIMITS } from './words.ts';

/** Allowed range of a coordinate, m. */
const PLACE = { min: -LIMITS.length, max: LIMITS.length } as const;

/** A written point in metres, or null after its faults. */
export function point(ctx: ParseContext, path: string, written: readonly [SizeForm, SizeForm]): Point2 | null {
  const x = ctx.size(at(path, 0), written[0], 'length', PLACE);
  const y = ctx.size(at(path, 1), written[1], 'length', PLACE);
  return x === null || y === null ? null : [x, y];
}

/**
 * Corners of an outline, or null after their faults. Parameters: path of the list; its written form; closed, whether the last corner joins the first
 * (otherwise it only ends the edge before it).
 */
export function readCorners(ctx: ParseContext, path: string, forms: readonly CornerForm[], closed: boolean): Corner[] | null {
  const places = forms.map((c, i) => point(ctx, at(at(path, i), 'at'), c.at));
  const corners = forms.map((c, i): Corner | null => {
    const here = at(path, i);
    const name = c.edge ?? `edge${i + 1}`;
    if (!goodName(name)) ctx.faults.add(at(here, 'edge'), name, NAME_RULE);
    const a = places[i];
    const b = places[(i + 1) % forms.length];
    if (!a || !b) return null;
    const curved = [c.through, c.rise, c.curve].filter((v) => v !== undefined).length;
    if (curved > 1) {
      ctx.faults.addText(here, 'several of through, rise and curve', 'at most one of them');
      return null;
    }
    if (!closed && i === forms.length - 1 && (curved > 0 || c.edge !== undefined))
      ctx.faults.addText(here, 'an edge that leaves the last corner', 'a last corner on the centre line with only its place');
    const side = readSide(ctx, here, c, a, b);
    const round = readRound(ctx, here, c);
    return side && round !== undefined ? { at: a, name, side, round } : null;
  });
  return corners.every((c) => c !== null) ? (corners as Corner[]) : null;
}

function readSide(ctx: ParseContext, path: string, c: CornerForm, a: Point2, b: Point2): Corner['side'] | null {
  if (c.through) {
    const via = point(ctx, at(path, 'through'), c.through);
    return via && { kind: 'arc', via };
  }
  if (c.rise !== undefined) {
    const rise = ctx.size(at(path, 'rise'), c.rise, 'length', PLACE);
    return rise === null ? null : { kind: 'arc', via: risePoint(a, b, rise) };
  }
  if (c.curve) {
    const p = point(ctx, at(at(path, 'curve'), 0), c.curve[0]);
    const q = point(ctx, at(at(path, 'curve'), 1), c.curve[1]);
    return p && q && { kind: 'cubic', control: [p, q] };
  }
  return { kind: 'line' };
}

/** null: a sharp corner; undefined: faulty. A radius of 0 is a sharp corner too, so that a parameter may take it away. */
function readRound(ctx: ParseContext, path: string, c: CornerForm): Corner['round'] | undefined {
  if (c.radius === undefined) return null;
  const here = at(path, 'radius');
  const range = { min: 0, max: LIMITS.length };
  if (Array.isArray(c.radius)) {
    const before = ctx.size(at(here, 0), c.radius[0], 'length', range);
    const after = ctx.size(at(here, 1), c.radius[1], 'length', range);
    if (before === null || after === null) return undefined;
    return before === 0 || after === 0 ? null : { kind: 'setbacks', before, after };
  }
  const radius = ctx.size(here, c.radius as SizeForm, 'length', range);
  if (radius === null) return undefined;
  return radius === 0 ? null : { kind: 'radius', radius };
}
