/** Points within this height of the lowest one count as on the table: the table is felt through a skin of up to half a stack, and a base that lifts by less is not seen. */
export const TOUCH = 0.002;

/**
 * Area of the convex hull of points in the plane, m2. xy: 2 per point. Formula: monotone chain, then the shoelace sum.
 * Source: Andrew 1979 (from memory). Fewer than three points, or all on one line: 0.
 */
export function hullArea(xy: readonly (readonly [number, number])[]): number {
  const hull = convexHull(xy);
  let twice = 0;
  hull.forEach(([x, y], i) => {
    const [u, v] = hull[(i + 1) % hull.length];
    twice += x * v - u * y;
  });
  return Math.abs(twice) / 2;
}

/** Convex hull, counterclockwise, without the points inside its edges. */
export function convexHull(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly (readonly [number, number])[]) => {
    const chain: (readonly [number, number])[] = [];
    for (const p of list) {
      while (chain.length >= 2 && turn(chain[chain.length - 2], chain[chain.length - 1], p) <= 0) chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  if (sorted.length < 3) return sorted;
  return [...half(sorted), ...half(sorted.reverse())];
}

function turn(a: readonly [number, number], b: readonly [number, number], c: readonly [number, number]): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Hull area of what lies within TOUCH of the lowest of the given vertices, m2. verts: the shell's vertices; x: 3n positions. */
function footprintArea(x: Float64Array, verts: ArrayLike<number>): number {
  let floor = Infinity;
  for (let i = 0; i < verts.length; i++) floor = Math.min(floor, x[3 * verts[i] + 2]);
  const touching: [number, number][] = [];
  for (let i = 0; i < verts.length; i++) if (x[3 * verts[i] + 2] <= floor + TOUCH) touching.push([x[3 * verts[i]], x[3 * verts[i] + 1]]);
  return hullArea(touching);
}

/**
 * Footprint kept: hull area of what touches the table, settled over drafted. Above 1 when the bag spreads.
 * null when the drafted bag stands on less than 1 cm2 (a flat tote on its seam).
 */
export function footprintKept(drafted: Float64Array, settled: Float64Array, verts: ArrayLike<number>): number | null {
  const area = footprintArea(drafted, verts);
  return area < 1e-4 ? null : footprintArea(settled, verts) / area;
}
