/** The line to cut on: the stitch line with each stretch's own allowance, and the corners between them. */

import type { Point2 } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { cleaned, type Shape, unionOf, without } from './plane.ts';
import { TURNED } from './stretches.ts';
import type { CornerKind, Stretch } from './types.ts';

/** A mitre sharper than this is cut off: it would stick out further than two allowances. rad of turn. */
const SHARPEST = (120 * Math.PI) / 180;
/** Turns smaller than this are a smooth run, rad. */
const SMOOTH = 1e-3;
/** What is left beyond the corner where two turned edges meet, m (common practice: about the thickness of the leather and a half; no source). */
const AT_MITRED_TURN = 0.003;

type Meeting = { readonly at: Point2; readonly before: Stretch; readonly after: Stretch; readonly t1: Point2; readonly t2: Point2; readonly turn: number };

const plus = (p: Point2, d: Point2, far: number): Point2 => [p[0] + d[0] * far, p[1] + d[1] * far];
const normal = ([x, y]: Point2, out: 1 | -1): Point2 => [out * y, -out * x];
const dot = (a: Point2, b: Point2): number => a[0] * b[0] + a[1] * b[1];

function meetingOf(before: Stretch, after: Stretch): Meeting {
  const t1 = before.tangents[before.tangents.length - 1]!;
  const t2 = after.tangents[0]!;
  const turn = before.out * libm.atan2(t1[0] * t2[1] - t1[1] * t2[0], dot(t1, t2));
  return { at: after.points[0]!, before, after, t1, t2, turn };
}

const isHem = (s: Stretch): boolean => s.use.kind === 'finish' && s.use.finish.startsWith('turned') && s.allowance > 0;

/** How the corner between two stretches is cut. Hollow corners need no kind: their allowances run into each other. */
function cornerKind({ before, after, turn }: Pick<Meeting, 'before' | 'after' | 'turn'>): CornerKind | null {
  if (turn <= SMOOTH || (before.allowance === 0 && after.allowance === 0)) return null;
  const hems = [before, after].filter(isHem).length;
  if (hems === 2) return turn > Math.PI / 6 ? 'clipped' : 'mitred';
  if (hems === 1) return turn > Math.PI / 6 ? 'folded' : 'squared';
  if (before.allowance === 0 || after.allowance === 0) return 'squared';
  const turned = [before, after].every((s) => s.use.kind === 'seam' && TURNED.includes(s.use.type));
  return turn > SHARPEST || (turned && turn > Math.PI / 4) ? 'clipped' : 'mitred';
}

/** The strip between a stretch and its offset; null where it has no allowance. */
function strip(s: Stretch): Point2[] | null {
  if (s.allowance === 0) return null;
  const outer = s.points.map((p, i) => plus(p, normal(s.tangents[i]!, s.out), s.allowance));
  return [...s.points, ...outer.reverse()];
}

/** Points of a convex polygon with dot(p - from, way) <= most. */
function keptWithin(points: readonly Point2[], from: Point2, way: Point2, most: number): Point2[] {
  const far = (p: Point2): number => dot([p[0] - from[0], p[1] - from[1]], way) - most;
  return points.flatMap((a, i): Point2[] => {
    const b = points[(i + 1) % points.length]!;
    const [fa, fb] = [far(a), far(b)];
    const cross: Point2[] = fa < 0 !== fb < 0 ? [[a[0] + ((b[0] - a[0]) * fa) / (fa - fb), a[1] + ((b[1] - a[1]) * fa) / (fa - fb)]] : [];
    return fa <= 0 ? [a, ...cross] : cross;
  });
}

/** What a jutting corner adds, and what it takes off a hem. */
function corner(m: Meeting): { add: Point2[][]; less: Point2[][] } {
  const kind = cornerKind(m);
  if (kind === null) return { add: [], less: [] };
  const { at, before, after, t1, t2, turn } = m;
  const [n1, n2] = [normal(t1, before.out), normal(t2, after.out)];
  const [a, b] = [before.allowance, after.allowance];
  const [c, s] = [libm.cos(turn), libm.sin(turn)];
  const foot = plus(at, n1, a);
  if (kind === 'folded')
    return isHem(after) ? folded(at, t1, n1, a, t2, n2, c, s, after) : folded(at, [-t2[0], -t2[1]], n2, b, [-t1[0], -t1[1]], n1, c, s, before);
  // Along the first stretch's offset to where the second's meets it.
  const along = (b - a * c) / s;
  const tip = plus(foot, t1, along);
  const mitre = [at, foot, tip, plus(at, n2, b)];
  if (kind === 'squared') return { add: along > 0 && (a - b * c) / s > 0 && turn < SHARPEST ? [mitre] : [], less: [] };
  if (kind === 'mitred') return { add: [mitre], less: [] };
  const out: Point2 = [n1[0] + n2[0], n1[1] + n2[1]];
  const size = libm.hypot(out[0], out[1]);
  const way: Point2 = size > 1e-6 ? [out[0] / size, out[1] / size] : t1;
  const most = isHem(before) && isHem(after) ? AT_MITRED_TURN : Math.max(a, b);
  const long = 4 * (a + b);
  // A very sharp tip lies far away, or nowhere: the corner is then built from its two feet and the cut.
  const body = turn > SHARPEST ? [at, foot, plus(foot, t1, long), plus(plus(at, n2, b), t2, -long), plus(at, n2, b)] : mitre;
  const side: Point2 = [-way[1], way[0]];
  const [near, far] = [plus(at, way, most), plus(at, way, most + long)];
  return { add: [keptWithin(body, at, way, most)], less: [[plus(near, side, long), plus(far, side, long), plus(far, side, -long), plus(near, side, -long)]] };
}

/**
 * The end of a hem: the mirror of its side's cut line in the fold, and again in the next fold, so that the folded hem lies on the panel.
 * Parameters: corner; the side's direction toward the corner, outward normal and allowance; the hem's direction away from it and outward normal; cosine and
 * sine of the turn; the hem.
 */
function folded(
  at: Point2,
  t1: Point2,
  n1: Point2,
  a: number,
  t2: Point2,
  n2: Point2,
  c: number,
  s: number,
  hem: Stretch,
): { add: Point2[][]; less: Point2[][] } {
  const folds = hem.use.kind === 'finish' ? hem.use.folds : [];
  const start = plus(plus(at, n1, a), t1, (-a * c) / s);
  const path: Point2[] = [start];
  let lean = -c;
  for (const width of folds) {
    const last = path[path.length - 1]!;
    path.push(plus(plus(last, t2, (lean * width) / s), n2, width));
    lean = -lean;
  }
  const out = plus(at, n2, hem.allowance);
  const away = 3 * hem.allowance + a;
  const wedge = [...path, plus(path[path.length - 1]!, t2, -away), plus(start, t2, -away)];
  return {
    add: [
      [at, ...path, out],
      [at, plus(at, n1, a), start],
    ],
    less: [wedge],
  };
}

/** The stitch line of loops of stretches: outer loops counterclockwise, holes clockwise. */
export const stitchShape = (loops: readonly (readonly Stretch[])[]): Point2[][] =>
  loops.map((loop) => {
    const points = loop.flatMap((s) => s.points.slice(0, -1));
    return loop[0]!.out === 1 ? points : points.reverse();
  });

/**
 * The cut shape of a panel: its stitch line, the strips of its stretches and its corners, put together (loops as plane.ts has them).
 * Exact but for the chords of curves (stretches.ts). Assumes that no allowance is larger than a hollow radius (fits.ts).
 */
export function cutShape(loops: readonly (readonly Stretch[])[]): Shape {
  const strips: Point2[][] = [];
  for (const loop of loops) {
    const met = loop.map((s, i) => meetingOf(loop[(i + loop.length - 1) % loop.length]!, s));
    const ends = met.map(corner);
    loop.forEach((s, i) => {
      const own = strip(s);
      if (!own) return;
      const less = [ends[i]!, ends[(i + 1) % loop.length]!].flatMap((e, k) => {
        const other = k === 0 ? met[i]! : met[(i + 1) % loop.length]!;
        // A folded corner cuts its hem back; a clipped one both.
        return cornerKind(other) === 'folded' && !isHem(s) ? [] : e.less;
      });
      strips.push(...(less.length > 0 ? without(unionOf([own]), unionOf(less)) : [own]));
    });
    strips.push(...ends.flatMap((e) => e.add));
  }
  return cleaned([...stitchShape(loops), ...strips.flatMap((loop) => unionOf([loop]))]);
}
