import { libm } from '../numerics/index.ts';
import { convexHull, TOUCH } from './footprint.ts';

/** Where the weight of bag and contents acts, and how far the table may tilt before it leaves the footprint. */
export interface Balance {
  /** Centre of mass of bag and contents, m, z above the lowest point. */ readonly centre: readonly [number, number, number];
  /** Slope, rad, at which it tips over toward each side; 0 where the centre hangs over the footprint's edge already. null: it stands on a line or a point. */
  readonly tipping: { readonly front: number; readonly back: number; readonly left: number; readonly right: number } | null;
}

const TOWARD = { front: [0, -1], back: [0, 1], left: [-1, 0], right: [1, 0] } as const;
/** Hulls narrower than this are lines, m2. */
const LEAST_AREA = 1e-6;

/** Distance from p along direction u to where it leaves a convex polygon (counterclockwise), m; 0 when p lies outside. */
export function reachWithin(hull: readonly (readonly [number, number])[], p: readonly [number, number], u: readonly [number, number]): number {
  let reach = Number.POSITIVE_INFINITY;
  for (let i = 0; i < hull.length; i++) {
    const [ax, ay] = hull[i];
    const [bx, by] = hull[(i + 1) % hull.length];
    // Outward normal of a counterclockwise edge.
    const [nx, ny] = [by - ay, ax - bx];
    const inside = nx * (ax - p[0]) + ny * (ay - p[1]);
    if (inside < 0) return 0;
    const along = nx * u[0] + ny * u[1];
    if (along > 0) reach = Math.min(reach, inside / along);
  }
  return Number.isFinite(reach) ? reach : 0;
}

/**
 * Centre of mass and tipping angles of a standing bag: tan theta = s/h, s the distance from under the centre of mass to the edge of the convex footprint
 * toward the side that the table falls to, h the centre's height. Assumes the bag keeps its shape and does not slide (friction over tan theta), and that loose
 * contents stay where they are. Front is -y.
 * x: 3n settled, m; mass: n, kg; load: 3n forces of the contents or null, N; fillDepth: depth of the contents, m (their middle lies half of it above the lowest point);
 * things: rigid contents with their centres of mass, kg, m; feet: the points that stand, and how high they are lifted, m: the table lies below them.
 */
export function balanceOf(
  x: Float64Array,
  mass: ArrayLike<number>,
  load: ArrayLike<number> | null,
  fillDepth: number,
  gravity: number,
  things: readonly { readonly mass: number; readonly at: readonly number[] }[] = [],
  feet: { readonly verts: Uint32Array; readonly lift: number } | null = null,
): Balance {
  const sum = [0, 0, 0];
  let [total, low] = [0, Number.POSITIVE_INFINITY];
  if (feet) for (const v of feet.verts) low = Math.min(low, x[3 * v + 2]! - feet.lift);
  else for (let i = 2; i < x.length; i += 3) low = Math.min(low, x[i]);
  for (let v = 0; v < x.length / 3; v++) {
    const inside = load === null ? 0 : Math.max(0, -load[3 * v + 2]) / gravity;
    total += mass[v] + inside;
    sum[0] += (mass[v] + inside) * x[3 * v];
    sum[1] += (mass[v] + inside) * x[3 * v + 1];
    sum[2] += mass[v] * (x[3 * v + 2] - low) + inside * (fillDepth / 2);
  }
  for (const t of things) {
    total += t.mass;
    for (let k = 0; k < 3; k++) sum[k] += t.mass * (t.at[k]! - (k === 2 ? low : 0));
  }
  const centre = [sum[0] / total, sum[1] / total, sum[2] / total] as const;
  const touching: [number, number][] = [];
  for (let v = 0; v < x.length / 3; v++) if (feet ? feet.verts.includes(v) : x[3 * v + 2] <= low + TOUCH) touching.push([x[3 * v], x[3 * v + 1]]);
  const hull = convexHull(touching);
  let twice = 0;
  hull.forEach(([a, b], i) => {
    const [c, d] = hull[(i + 1) % hull.length];
    twice += a * d - c * b;
  });
  if (Math.abs(twice) / 2 < LEAST_AREA) return { centre, tipping: null };
  const angle = (u: readonly [number, number]): number => libm.atan2(reachWithin(hull, [centre[0], centre[1]], u), centre[2]);
  return { centre, tipping: { front: angle(TOWARD.front), back: angle(TOWARD.back), left: angle(TOWARD.left), right: angle(TOWARD.right) } };
}
