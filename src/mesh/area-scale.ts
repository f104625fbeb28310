import { outlineArea, polygonOf, within } from '../bag/index.ts';
import type { Panel, Point2 } from '../bag/types.ts';
import { insidePolygon, libm, polygonArea } from '../numerics/index.ts';
import type { DraftPanel } from '../panels/types.ts';

/**
 * Drafted over meshed area of a panel's parts, 1 for a part without triangles: [the panel's own stack, region 1, ...]. Chords cut curved edges short and
 * borders move onto near vertices, yet cloth is weighed as it is cut.
 * A hole takes its area off the parts it lies in. Regions that overlap each other, and regions on panels with holes that bend inward, have no area of their own to compare with: there all parts get the panel's own ratio.
 * @param meshed m2 per part, same order
 */
export function areaScale(panel: Panel, drafted: DraftPanel, meshed: readonly number[]): number[] {
  const outlines = panel.regions.map((r) => r.outline);
  const holes = panel.holes.map((hole) => ({ polygon: polygonOf(hole), area: Math.abs(outlineArea(hole)) }));
  const apart = holes.every((h) => isConvex(h.polygon)) && outlines.every((a, i) => outlines.slice(i + 1).every((b) => !overlap(a, b)));
  const parts = outlines.map((o) =>
    holes.reduce((rest, h) => rest - (h.area * Math.abs(polygonArea(within(o, h.polygon)))) / Math.abs(polygonArea(h.polygon)), Math.abs(polygonArea(o))),
  );
  const own = drafted.area - parts.reduce((sum, a) => sum + a, 0);
  const areas = [own, ...parts];
  // A part that the mesh missed altogether would be weighed as nothing: its neighbours carry it.
  const sound = apart && areas.every((a, r) => (meshed[r] > 0 ? a > 0 : a < 1e-9));
  const whole = drafted.area / meshed.reduce((sum, a) => sum + a, 0);
  return meshed.map((m, r) => (m > 0 ? exact(sound ? areas[r] / m : whole) : 1));
}

/** Rounding of two sums over the same straight edges is no difference: a soft heap's path depends on the last bits of its masses. */
const exact = (ratio: number): number => (Math.abs(ratio - 1) < 1e-12 ? 1 : ratio);

function isConvex(polygon: readonly Point2[]): boolean {
  const turn = Math.sign(polygonArea(polygon));
  return polygon.every((p, i) => {
    const [q, r] = [polygon[(i + 1) % polygon.length], polygon[(i + 2) % polygon.length]];
    return turn * ((q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])) >= -1e-15;
  });
}

/** Do two polygons share some area? Common borders do not count. */
function overlap(a: readonly Point2[], b: readonly Point2[]): boolean {
  const side = (p: Point2, q: Point2, r: Point2): number => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  const crosses = a.some((p, i) => {
    const q = a[(i + 1) % a.length];
    return b.some((r, k) => {
      const s = b[(k + 1) % b.length];
      const hair = 1e-9 * libm.hypot(q[0] - p[0], q[1] - p[1]) * libm.hypot(s[0] - r[0], s[1] - r[1]);
      return side(p, q, r) * side(p, q, s) < 0 && side(r, s, p) * side(r, s, q) < 0 && Math.abs(side(p, q, r)) > hair && Math.abs(side(p, q, s)) > hair;
    });
  });
  return crosses || liesIn(a, b) || liesIn(b, a);
}

/** Does a place just inside a, next to the middle of one of its sides, lie in b? */
function liesIn(a: readonly Point2[], b: readonly Point2[]): boolean {
  const turn = polygonArea(a) > 0 ? 1 : -1;
  return a.some((p, i) => {
    const q = a[(i + 1) % a.length];
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const far = libm.hypot(dx, dy);
    if (far < 1e-9) return false;
    const [nx, ny] = [(-dy / far) * turn * 1e-6, (dx / far) * turn * 1e-6];
    const spot: Point2 = [(p[0] + q[0]) / 2 + nx, (p[1] + q[1]) / 2 + ny];
    return insidePolygon(spot, a) && insidePolygon(spot, b);
  });
}
