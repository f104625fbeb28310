import type { Bag, Point2 } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import type { BoxedPanel, DraftLine } from './types.ts';

/** Ends nearer than this are the same place, m: a maker's pencil. */
const SAME = 1e-3;

/**
 * Lines inside each panel that the mesh follows: those the file marks, in its order, then what boxed corners make of the panel and the file does
 * not mark itself: base lines and upright edges.
 */
export function panelLines(bag: Bag, boxed: readonly (BoxedPanel | null)[]): DraftLine[][] {
  return bag.panels.map((panel, p) => {
    const made = (boxed[p]?.lines ?? []).flatMap(({ from, to, tops }): DraftLine[] => [
      { points: [from, to], fold: null, turn: 'base' },
      ...[from, to].flatMap((end, k): DraftLine[] => (tops[k] ? [{ points: [end, tops[k]], fold: null, turn: 'upright' }] : [])),
    ]);
    const stated = panel.lines.map(({ points, fold }): DraftLine => ({ points, fold, turn: made.find((m) => sameLine(m.points, points))?.turn ?? null }));
    return [...stated, ...made.filter((m) => !stated.some((s) => sameLine(s.points, m.points)))];
  });
}

/** Two straight lines with the same ends, either way round. */
function sameLine(a: readonly Point2[], b: readonly Point2[]): boolean {
  const near = (p: Point2, q: Point2): boolean => libm.hypot(p[0] - q[0], p[1] - q[1]) < SAME;
  return a.length === 2 && b.length === 2 && ((near(a[0], b[0]) && near(a[1], b[1])) || (near(a[0], b[1]) && near(a[1], b[0])));
}
