/** The strip of cloth along an edge: where a stay tape, a binding or a turned edge lies. */
import { libm } from '../numerics/index.ts';
import { far, flatten, mix, pointAt } from './curve.ts';
import { at } from './faults.ts';
import { FormulaError } from './formula.ts';
import type { ParseContext } from './parse-context.ts';
import type { EdgeRun, OutlineEdge, Point2 } from './types.ts';

/** A corner sharper than this belongs to the strip, whose end then runs along the neighbouring edge; at blunter ones (a rounding) it is cut square. */
const SHARP = (120 * Math.PI) / 180;

/** Unit direction of travel at an arc-length fraction of an edge, by a difference over a millionth of it. */
function direction(e: OutlineEdge, at: number): Point2 {
  const a = Math.min(at, 1 - 1e-6);
  return unit(pointAt(e, a), pointAt(e, a + 1e-6));
}

/** Points of a stretch, both ends included, as close to the curve as `flatten` keeps. */
function pointsOf(e: OutlineEdge, from: number, to: number): Point2[] {
  const n = e.kind === 'line' ? 1 : Math.max(2, Math.ceil(flatten(e).length * (to - from)));
  return Array.from({ length: n + 1 }, (_, i) => pointAt(e, from + ((to - from) * i) / n));
}

/** Stretches of panel `home` named by one reference or a list of them, or null after the faults. */
export function runsOnPanel(ctx: ParseContext, path: string, written: string | readonly string[], what: string, home: string): EdgeRun[] | null {
  const refs = typeof written === 'string' ? [written] : written;
  if (refs.length === 0) ctx.faults.addText(path, 'an empty list', 'at least one edge');
  const runs = refs.map((ref, i) => {
    const here = typeof written === 'string' ? path : at(path, i);
    const made = ctx.attempt(here, ref, () => ctx.reference(ref, what, home));
    if (made?.every((r) => r.panel === home)) return made;
    if (made) ctx.faults.add(here, ref, `an edge of panel ${home} itself`);
    return null;
  });
  return refs.length === 0 || runs.includes(null) ? null : (runs.flat() as EdgeRun[]);
}

/**
 * A stretch of the outline and the line `width` inside it, both in outline order; outer and turned inner points make the strip's polygon.
 * Assumes a width well under the radii of the stretch; otherwise the polygon crosses itself, which the caller tests.
 * Parameters: the stretches in outline order; outline edges by order; width, m. Errors: FormulaError for stretches that do not follow each other
 * or that close round the whole panel.
 */
export function stripAlong(runs: readonly EdgeRun[], outline: readonly OutlineEdge[], width: number): { outer: Point2[]; inner: Point2[] } {
  const n = outline.length;
  const numbers = runs.map((r) => outline.findIndex((e) => e.name === r.edge));
  if (numbers.includes(-1)) throw new FormulaError('edges of the outline itself (a hole has no strip)');
  const outer: Point2[] = [];
  runs.forEach((r, i) => {
    const points = pointsOf(outline[numbers[i]], r.from, r.to);
    if (i > 0 && far(outer[outer.length - 1], points[0]) > 1e-7) throw new FormulaError('edges that follow each other counterclockwise');
    outer.push(...(i > 0 ? points.slice(1) : points));
  });
  const last = outer.length - 1;
  if (far(outer[0], outer[last]) < 1e-7) throw new FormulaError('part of the outline; "inside" draws a margin all round');
  const final = runs[runs.length - 1];
  const before = outline[(numbers[0] + n - 1) % n];
  const after = outline[(numbers[numbers.length - 1] + 1) % n];
  const inner = outer.map((p, i): Point2 => {
    if (i === 0) return endAt(p, direction(outline[numbers[0]], runs[0].from), runs[0].from === 0 ? direction(before, 1) : null, -1, width);
    if (i === last) return endAt(p, direction(outline[numbers[numbers.length - 1]], final.to), final.to === 1 ? direction(after, 0) : null, 1, width);
    const u = unit(outer[i - 1], p);
    const v = unit(p, outer[i + 1]);
    // Inward is to the left; between two pieces the mitre, width / cos(half turn) along the mean normal.
    const scale = width / (1 + u[0] * v[0] + u[1] * v[1]);
    return [p[0] - (u[1] + v[1]) * scale, p[1] + (u[0] + v[0]) * scale];
  });
  return { outer, inner };
}

function unit(a: Point2, b: Point2): Point2 {
  const d = far(a, b);
  return mix([0, 0], [b[0] - a[0], b[1] - a[1]], 1 / d);
}

/**
 * Inner end of the strip: on the neighbouring edge where a sharp corner ends it, else square to it. Parameters: outer end; directions of travel of the
 * strip's own edge and of the neighbouring one (null: the strip ends within its edge); side, -1 at its start, 1 at its end; width, m.
 */
function endAt(p: Point2, own: Point2, neighbour: Point2 | null, side: -1 | 1, width: number): Point2 {
  const square: Point2 = [p[0] - own[1] * width, p[1] + own[0] * width];
  if (!neighbour) return square;
  // Sine and angle of the outline's turn at the corner, positive to the left (a corner that juts out).
  const sine = side * (own[0] * neighbour[1] - own[1] * neighbour[0]);
  const turn = libm.atan2(sine, own[0] * neighbour[0] + own[1] * neighbour[1]);
  if (turn <= 0 || Math.PI - turn > SHARP) return square;
  const reach = (side * width) / sine;
  return [p[0] + neighbour[0] * reach, p[1] + neighbour[1] * reach];
}
