import type { Bag, Point2 } from '../bag/types.ts';
import { insidePolygon, libm } from '../numerics/index.ts';
import { polyline } from './outline.ts';
import { acrossKnots } from './seams.ts';
import type { BaseLine, BoxedPanel, DraftPanel, DraftSeam, SideRun } from './types.ts';

/** A cut-out's inner corner is square; this far off it is still one, and not a dart's tip (which is nearly a full turn). */
const SQUARE_SLACK = (35 * Math.PI) / 180;
/** A base line carries on a cut edge to this much. */
const STRAIGHT_ON = libm.cos((30 * Math.PI) / 180);

/** The inner corner of a cut-out whose two edges are sewn to each other. */
interface CutCorner {
  readonly at: Point2;
  /** Unit directions in which the two cut edges leave the corner. */ readonly away: readonly [Point2, Point2];
}

/**
 * Panels whose cut-outs make a flat bottom once their edges are sewn to each other (boxed corners), by panel; null for all others.
 * A base line runs from one cut-out's inner corner to another's, straight on from a cut edge at both. The cloth beyond it becomes the
 * base: with one line the part without an opening (the lower one if neither has one), with several the part between them.
 * What stands above the line between its two ends is the wall; what lies to either side of that turns round the corner.
 * A square cut-out of D/2 thus takes D off the width and D/2 off the height (trade notes, boxed corner; common practice).
 */
export function findBoxed(bag: Bag, panels: readonly DraftPanel[], seams: readonly DraftSeam[]): (BoxedPanel | null)[] {
  return panels.map((panel, p) => {
    const corners = cutCorners(panel, p, seams);
    const outline = panel.loops[0].flatMap((e) => polyline(panel.edges[e]).slice(0, -1));
    const found = baseLines(corners).filter(([from, to]) => runsInside(from, to, outline));
    if (found.length === 0) return null;
    const open = bag.panels[p].openings.flatMap((name) => {
      const edge = panel.edges.find((e) => e.name === name);
      return edge ? [edge.curve.at(0.5)] : [];
    });
    const lines = found.map(([from, to], i): BaseLine => {
      const left = (q: Point2): number => (to[0] - from[0]) * (q[1] - from[1]) - (to[1] - from[1]) * (q[0] - from[0]);
      const line = (baseOnLeft: boolean): BaseLine => {
        const far = libm.hypot(to[0] - from[0], to[1] - from[1]);
        const up: Point2 = [((baseOnLeft ? 1 : -1) * (to[1] - from[1])) / far, ((baseOnLeft ? -1 : 1) * (to[0] - from[0])) / far];
        return { from, to, tops: [firstMet(from, up, outline), firstMet(to, up, outline)], baseOnLeft };
      };
      const others = found.filter((_, k) => k !== i).map(([a, b]): Point2 => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
      if (others.length > 0) return line(others.reduce((sum, q) => sum + Math.sign(left(q)), 0) > 0);
      const opens = open.reduce((sum, q) => sum + Math.sign(left(q)), 0);
      // No opening tells: panels are drawn with y up the bag.
      return line(opens !== 0 ? opens < 0 : from[0] > to[0]);
    });
    return { lines };
  });
}

/** Which part of a boxed panel a flat place belongs to. */
export function boxedPart(boxed: BoxedPanel, [x, y]: Point2): 'base' | 'wall' | 'return' {
  let part: 'base' | 'wall' | 'return' = 'base';
  for (const { from, to, baseOnLeft } of boxed.lines) {
    const [ex, ey] = [to[0] - from[0], to[1] - from[1]];
    const left = ex * (y - from[1]) - ey * (x - from[0]);
    if (left > 0 === baseOnLeft) continue;
    const along = (ex * (x - from[0]) + ey * (y - from[1])) / (ex * ex + ey * ey);
    if (along > 0 && along < 1) return 'wall';
    part = 'return';
  }
  return part;
}

function cutCorners(panel: DraftPanel, p: number, seams: readonly DraftSeam[]): CutCorner[] {
  const corners: CutCorner[] = [];
  const seen = new Set<number>();
  for (const seam of seams)
    for (const a of seam.sides[0].runs)
      for (const b of seam.sides[1].runs) {
        if (a.panel !== p || b.panel !== p) continue;
        const [first, second] = panel.edges[a.edge].next === b.edge ? [a, b] : panel.edges[b.edge].next === a.edge ? [b, a] : [null, null];
        if (!first || !second || seen.has(second.edge) || Math.abs(panel.cornerAngle[second.edge] - 1.5 * Math.PI) > SQUARE_SLACK) continue;
        const [ua, ub] = [endAt(a, a === first), endAt(b, b === first)];
        if (ua === null || ub === null || Math.abs(acrossKnots(seam.knots, ua, 0) - ub) > 1e-3) continue;
        seen.add(second.edge);
        const [tx, ty] = panel.edges[first.edge].curve.tangent(1);
        corners.push({ at: panel.edges[second.edge].curve.at(0), away: [[-tx, -ty], panel.edges[second.edge].curve.tangent(0)] });
      }
  return corners;
}

/** Fraction of its side at which a run has its edge's end (or start); null when the run stops short of it. */
function endAt(run: SideRun, end: boolean): number | null {
  if (end ? run.to < 1 - 1e-9 : run.from > 1e-9) return null;
  return end === run.forward ? run.u1 : run.u0;
}

/** Pairs of corners joined straight on from a cut edge at both, the straightest first; each cut edge carries on to one corner at most. */
function baseLines(corners: readonly CutCorner[]): [Point2, Point2][] {
  const pairs: { readonly ends: [Point2, Point2]; readonly edges: readonly string[]; readonly straight: number }[] = [];
  corners.forEach((a, i) => {
    corners.forEach((b, k) => {
      if (k <= i) return;
      const [p, q] = [straightOn(a, b.at), straightOn(b, a.at)];
      const straight = Math.min(p.cosine, q.cosine);
      if (straight > STRAIGHT_ON) pairs.push({ ends: [a.at, b.at], edges: [`${i}:${p.edge}`, `${k}:${q.edge}`], straight });
    });
  });
  const used = new Set<string>();
  return pairs
    .sort((a, b) => b.straight - a.straight)
    .flatMap(({ ends, edges }) => {
      if (edges.some((e) => used.has(e))) return [];
      for (const e of edges) used.add(e);
      return [ends];
    });
}

/** Which of a corner's cut edges carries on most nearly to a place, and the cosine of the bend. */
function straightOn(a: CutCorner, to: Point2): { edge: 0 | 1; cosine: number } {
  const [dx, dy] = [to[0] - a.at[0], to[1] - a.at[1]];
  const far = libm.hypot(dx, dy);
  const [p, q] = a.away.map(([ex, ey]) => (far > 1e-6 ? -(ex * dx + ey * dy) / far : -1));
  return p >= q ? { edge: 0, cosine: p } : { edge: 1, cosine: q };
}

/** Where a ray from an outline corner first meets the outline again; null when it leaves the panel at once. */
function firstMet(from: Point2, [dx, dy]: Point2, outline: readonly Point2[]): Point2 | null {
  let least = Number.POSITIVE_INFINITY;
  outline.forEach(([x0, y0], i) => {
    const [x1, y1] = outline[(i + 1) % outline.length];
    const det = dx * (y1 - y0) - dy * (x1 - x0);
    if (Math.abs(det) < 1e-12) return;
    const t = ((x0 - from[0]) * (y1 - y0) - (y0 - from[1]) * (x1 - x0)) / det;
    const s = ((x0 - from[0]) * dy - (y0 - from[1]) * dx) / det;
    if (t > 1e-6 && s >= -1e-9 && s <= 1 + 1e-9) least = Math.min(least, t);
  });
  const end: Point2 = [from[0] + least * dx, from[1] + least * dy];
  return Number.isFinite(least) && runsInside(from, end, outline) ? end : null;
}

function runsInside(a: Point2, b: Point2, outline: readonly Point2[]): boolean {
  for (let k = 1; k < 16; k++) {
    const p: Point2 = [a[0] + ((b[0] - a[0]) * k) / 16, a[1] + ((b[1] - a[1]) * k) / 16];
    if (!insidePolygon(p, outline)) return false;
  }
  return true;
}
