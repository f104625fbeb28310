import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { lowest, rimHeight, rimOf } from './rim.ts';
import { sheetsOf, WALL_ROLES } from './sheet.ts';
import { wallShape } from './wall.ts';

type Point3 = readonly [number, number, number];

/** Where the figures of one settled state were read, m, z up; null where a figure does not apply. */
export interface Where {
  /** Upright line through the rim point that stands nearest to the mean rim height: from the floor to that mean, and up to the drafted one. */
  readonly heightKept: { readonly foot: Point3; readonly mean: Point3; readonly drafted: Point3 } | null;
  /** The rim point that came down furthest, and where its drafted height is. */
  readonly drop: { readonly at: Point3; readonly drafted: Point3; readonly drop: number; readonly panel: string } | null;
  /** The wall that leans most: middle of its foot, middle of its top, and the upright above the foot as high as the drafted wall. */
  readonly lean: { readonly panel: string; readonly foot: Point3; readonly top: Point3; readonly upright: Point3; readonly angle: number } | null;
}

/**
 * Places behind heightKept, topEdgeDrop (rim.ts) and wallLean (wall.ts), by the same definitions. The lean's line joins the middles of the lowest and
 * highest tenth of the wall as drafted; its angle is the measured one (best-fit plane), which such a line only shows.
 */
export function whereMeasured(bag: Bag, mesh: BagMesh, drafted: Float64Array, settled: Float64Array): Where {
  const rim = rimOf(bag, mesh, drafted);
  const at = (x: Float64Array, v: number): Point3 => [x[3 * v], x[3 * v + 1], x[3 * v + 2]];
  let heightKept: Where['heightKept'] = null;
  let drop: Where['drop'] = null;
  if (rim !== null && rimHeight(rim, drafted) > 0.001) {
    const [z0, z1] = [lowest(drafted, rim.shell), lowest(settled, rim.shell)];
    const [mean, full] = [rimHeight(rim, settled), rimHeight(rim, drafted)];
    let near = rim.verts[0];
    let worst = rim.verts[0];
    const fallen = (v: number): number => drafted[3 * v + 2] - z0 - (settled[3 * v + 2] - z1);
    for (const v of rim.verts) {
      if (Math.abs(settled[3 * v + 2] - z1 - mean) < Math.abs(settled[3 * near + 2] - z1 - mean)) near = v;
      if (fallen(v) > fallen(worst)) worst = v;
    }
    const [x, y] = at(settled, near);
    heightKept = { foot: [x, y, z1], mean: [x, y, z1 + mean], drafted: [x, y, z1 + full] };
    const low = at(settled, worst);
    const panel = [...rim.byPanel].find(([, part]) => part.verts.includes(worst))?.[0] ?? '';
    drop = { at: low, drafted: [low[0], low[1], z1 + drafted[3 * worst + 2] - z0], drop: fallen(worst), panel };
  }
  let lean: Where['lean'] = null;
  for (const sheet of sheetsOf(bag, mesh)) {
    if (!WALL_ROLES.has(sheet.panel.role)) continue;
    const angle = wallShape(sheet, drafted, settled).lean;
    if (lean !== null && angle <= lean.angle) continue;
    const order = [...sheet.verts].sort((a, b) => drafted[3 * a + 2] - drafted[3 * b + 2]);
    const tenth = Math.max(1, Math.floor(order.length / 10));
    const middle = (verts: readonly number[], x: Float64Array): Point3 =>
      [0, 1, 2].map((c) => verts.reduce((s, v) => s + x[3 * v + c], 0) / verts.length) as unknown as Point3;
    const [low, high] = [order.slice(0, tenth), order.slice(-tenth)];
    const foot = middle(low, settled);
    lean = {
      panel: sheet.panel.name,
      foot,
      top: middle(high, settled),
      upright: [foot[0], foot[1], foot[2] + middle(high, drafted)[2] - middle(low, drafted)[2]],
      angle,
    };
  }
  return { heightKept, drop, lean };
}
