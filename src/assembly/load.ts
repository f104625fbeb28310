import type { Bag, Load } from '../bag/types.ts';
import { sidePressureRatio } from '../material/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { GRAVITY } from '../units/index.ts';

/** Panels that loose contents can lie in and press on. */
const HOLDS = new Set(['front', 'back', 'side', 'gusset', 'base', 'body']);
/** Faces that look down more steeply than this (cosine from the plumb line) carry the contents' weight. */
const DOWNWARD = 0.5;
/** Share of the height from which a bag without a base carries its contents. */
const LOWEST = 0.1;

/**
 * Forces of loose contents on the vertices, N (3n), as constant forces in the directions of the drafted walls.
 * Weight m g on the faces that look down, by their level area (in a bag without a base on the lowest tenth of its height). Sideways Rankine's active
 * pressure p = K g (m/A h) (h - z), K = (1 - sin phi)/(1 + sin phi), A the level area that carries, h the depth of the fill; its level components add
 * up to nothing in a closed bag. Assumes loose, level contents that follow the walls: no friction on them, no heap, no rigid things.
 * The sideways part is left out where the bag is drafted flat. placed: 3n sewn start, m.
 */
export function loadForces(bag: Bag, mesh: BagMesh, placed: Float64Array, load: Load): Float64Array {
  const out = new Float64Array(3 * mesh.vertexCount);
  const shell: { t: number; a: [number, number, number]; z: number }[] = [];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (!HOLDS.has(bag.panels[mesh.triPanel[t]!]!.role)) continue;
    const v = [0, 1, 2].map((k) => 3 * mesh.triVerts[3 * t + k]!);
    const e = [0, 1, 2].map((k) => placed[v[1]! + k]! - placed[v[0]! + k]!),
      f = [0, 1, 2].map((k) => placed[v[2]! + k]! - placed[v[0]! + k]!);
    const a: [number, number, number] = [(e[1]! * f[2]! - e[2]! * f[1]!) / 2, (e[2]! * f[0]! - e[0]! * f[2]!) / 2, (e[0]! * f[1]! - e[1]! * f[0]!) / 2];
    const zs = v.map((i) => placed[i + 2]!);
    low = Math.min(low, ...zs);
    high = Math.max(high, ...zs);
    shell.push({ t, a, z: (zs[0]! + zs[1]! + zs[2]!) / 3 });
  }
  const give = (t: number, fx: number, fy: number, fz: number): void => {
    for (let k = 0; k < 3; k++) {
      const v = 3 * mesh.triVerts[3 * t + k]!;
      out[v] = out[v]! + fx / 3;
      out[v + 1] = out[v + 1]! + fy / 3;
      out[v + 2] = out[v + 2]! + fz / 3;
    }
  };
  const size = (a: readonly number[]): number => libm.hypot(a[0]!, a[1]!, a[2]!);
  const floor = shell.filter((s) => -s.a[2] > DOWNWARD * size(s.a));
  const carriers =
    floor.length > 0
      ? floor.map((s) => ({ ...s, share: -s.a[2] }))
      : shell.filter((s) => s.z < low + LOWEST * (high - low)).map((s) => ({ ...s, share: size(s.a) }));
  const area = carriers.reduce((sum, s) => sum + s.share, 0);
  for (const s of carriers) give(s.t, 0, 0, (-load.mass * GRAVITY * s.share) / area);
  if (floor.length === 0) return out;
  const depth = load.fill * (high - low),
    rate = (sidePressureRatio(load.repose) * GRAVITY * load.mass) / (area * depth);
  for (const s of shell) {
    const p = rate * Math.max(0, low + depth - s.z);
    if (p > 0) give(s.t, p * s.a[0], p * s.a[1], 0);
  }
  return out;
}

/** Depth of loose contents over the lowest point of the drafted shape (3n, m), m; 0 without any. */
export function fillDepth(load: Load | null | undefined, drafted: Float64Array): number {
  if (!load) return 0;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 2; i < drafted.length; i += 3) [low, high] = [Math.min(low, drafted[i]!), Math.max(high, drafted[i]!)];
  return load.fill * (high - low);
}
