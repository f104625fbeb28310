import type { BagMesh } from '../mesh/types.ts';
import { buildGrid, distance, overlaps, vertexTriangle } from '../solver/index.ts';
import type { SupportShape } from '../solver/types.ts';
import { waysAlong } from './ways.ts';

/** Something that cloth may touch: its shape, and the distance from it at which the solver lets cloth feel it, m. */
export interface Toucher {
  readonly name: string;
  readonly shape: SupportShape;
  readonly offset: number;
}

/** How near one thing (or other cloth) comes. */
export interface Nearness {
  /** null: other cloth. */ readonly name: string | null;
  /** Mesh points that touch it. */ readonly touching: number;
  /** Smallest gap of the points that do not, m, and where; null where none is within reach. */
  readonly nearest: { readonly vertex: number; readonly gap: number } | null;
}

/** Gap to contact at every mesh point. */
export interface GapMap {
  /** n: m to whatever would be touched first; 0 touches, `reach` stands for that much and more. */ readonly values: Float64Array;
  /** m */ readonly reach: number;
  /** Each name once, in the order given, then other cloth. */ readonly by: readonly Nearness[];
}

/**
 * Other cloth is cloth that lies this many times further off along the bag than straight across: a fold of half a turn has pi/2 = 1.6 at its ends and more
 * behind them, two panels that meet at a corner of 37 degrees 3. Nearer cloth is the point's own surroundings (own definition).
 */
const FAR_ALONG = 3;

/**
 * Gap from each mesh point to the nearest support, thing in the bag or other cloth: signed distance to its surface less the distance at which the solver
 * lets cloth feel it, so that 0 is contact. Cloth against cloth: from mesh points to triangles (edges against edges are not looked at).
 * Parameters: x: 3n settled positions, m; felt: distance at which sheets feel each other, m, null where the solver does not let the cloth meet itself;
 * reach: gaps beyond it are not told apart, m. Mutates nothing. Source: distances as in solver/contact.
 */
export function gapMap(mesh: BagMesh, x: Float64Array, things: readonly Toucher[], felt: number | null, reach: number): GapMap {
  const n = mesh.vertexCount;
  const values = new Float64Array(n).fill(reach);
  const by: Nearness[] = [];
  const take = (name: string | null, gap: Float64Array): void => {
    let touching = 0;
    let nearest: Nearness['nearest'] = null;
    for (let v = 0; v < n; v++) {
      const g = Math.max(0, gap[v]);
      if (g < values[v]) values[v] = g;
      if (g === 0) touching++;
      else if (g < reach && (nearest === null || g < nearest.gap)) nearest = { vertex: v, gap: g };
    }
    by.push({ name, touching, nearest });
  };
  const out = new Float64Array(4);
  // Two bars of one name (a hook over which straps lie side by side) are one thing.
  const gaps = new Map<string, Float64Array>();
  for (const { name, shape, offset } of things) {
    const gap = gaps.get(name) ?? new Float64Array(n).fill(Number.POSITIVE_INFINITY);
    gaps.set(name, gap);
    for (let v = 0; v < n; v++) {
      distance(shape, x[3 * v], x[3 * v + 1], x[3 * v + 2], out);
      gap[v] = Math.min(gap[v], out[0] - offset);
    }
  }
  for (const [name, gap] of gaps) take(name, gap);
  if (felt !== null) take(null, clothGaps(mesh, x, felt, reach));
  return { values, reach, by };
}

/** Per mesh point: distance to the nearest other cloth less `felt`, m; reach where there is none within it. */
function clothGaps(mesh: BagMesh, x: Float64Array, felt: number, reach: number): Float64Array {
  const { triVerts, vertexCount: n } = mesh;
  const m = triVerts.length / 3;
  const far = reach + felt;
  const boxes = new Float64Array(6 * m);
  for (let t = 0; t < m; t++)
    for (let k = 0; k < 3; k++) {
      const at = [0, 1, 2].map((c) => x[3 * triVerts[3 * t + c] + k]);
      boxes[6 * t + k] = Math.min(...at);
      boxes[6 * t + 3 + k] = Math.max(...at);
    }
  const query = new Float64Array(6 * n);
  for (let v = 0; v < n; v++)
    for (let k = 0; k < 3; k++) {
      query[6 * v + k] = x[3 * v + k] - far;
      query[6 * v + 3 + k] = x[3 * v + k] + far;
    }
  const grid = buildGrid(boxes, far);
  const seen = new Int32Array(m);
  const found = new Int32Array(m);
  const out = new Float64Array(8);
  const gap = new Float64Array(n).fill(reach);
  const ways = waysAlong(mesh, FAR_ALONG * far);
  for (let v = 0; v < n; v++) {
    const count = overlaps(grid, boxes, query, v, seen, v + 1, found);
    const along = ways(v);
    for (let i = 0; i < count; i++) {
      const [a, b, c] = [0, 1, 2].map((k) => triVerts[3 * found[i] + k]);
      if (a === v || b === v || c === v) continue;
      vertexTriangle(x, v, a, b, c, out);
      const d = out[0];
      if (d - felt >= gap[v]) continue;
      // Never shorter than to the nearest corner, never longer than that and one triangle's edge: the corner's way decides.
      const way = Math.min(along(a), along(b), along(c));
      if (way >= FAR_ALONG * d) gap[v] = d - felt;
    }
  }
  return gap;
}
