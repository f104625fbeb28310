import { type BagMesh, EDGE_FREE } from '../core.ts';
import { words } from './words.ts';

/** A mesh point with a name, to take hold of without a pointer. */
export interface Point {
  readonly name: string;
  readonly vertex: number;
}

/** Share of the bag's height under its highest point in which free edges count as its mouth. */
const MOUTH = 0.2;

/** Four points round the mouth, where there is one, and the middle of every panel. Parameter drafted: 3n, m. */
export function pointsOf(mesh: BagMesh, drafted: ArrayLike<number>): Point[] {
  const at = (v: number): readonly [number, number, number] => [drafted[3 * v], drafted[3 * v + 1], drafted[3 * v + 2]];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let v = 0; v < mesh.vertexCount; v++) [low, high] = [Math.min(low, at(v)[2]), Math.max(high, at(v)[2])];
  const rim = new Set<number>();
  for (let e = 0; e < mesh.edgeKind.length; e++)
    if (mesh.edgeKind[e] === EDGE_FREE)
      for (const v of [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]]) if (at(v)[2] > high - MOUTH * (high - low)) rim.add(v);
  const best = (verts: Iterable<number>, score: (p: readonly [number, number, number]) => number): number => {
    let [found, most] = [-1, Number.NEGATIVE_INFINITY];
    for (const v of verts) if (score(at(v)) > most) [found, most] = [v, score(at(v))];
    return found;
  };
  const sides = { front: [0, -1], back: [0, 1], left: [-1, 0], right: [1, 0] } as const;
  const mouth =
    rim.size < 8
      ? []
      : (Object.keys(sides) as (keyof typeof sides)[]).map((side) => {
          const [sx, sy] = sides[side];
          return { name: words.mouth(side), vertex: best(rim, ([x, y]) => sx * x + sy * y - 0.5 * Math.abs(sx * y) - 0.5 * Math.abs(sy * x)) };
        });
  const middles = mesh.panelNames.map((name, p) => {
    const { verts } = mesh.panelVerts[p];
    const mean = [0, 1, 2].map((c) => verts.reduce((sum, v) => sum + drafted[3 * v + c], 0) / verts.length);
    return { name: words.panel(name), vertex: best(verts, (q) => -Math.hypot(q[0] - mean[0], q[1] - mean[1], q[2] - mean[2])) };
  });
  return [...mouth, ...middles];
}
