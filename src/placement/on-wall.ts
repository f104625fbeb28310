import { type BagMesh, locate } from '../mesh/index.ts';
import { libm } from '../numerics/index.ts';
import type { Hold } from './extras.ts';
import { cross, unit, type Vec } from './flat.ts';
import { type RigidFit, rigidFit } from './fit.ts';

/** Flat places of a panel and of the wall behind it agree this well, as a share of the panel's size, where it is sewn on without fullness. */
const FIT = 0.02;
/** A place may lie this far outside its wall, as a barycentric weight: curved edges are cut by their chords. */
const OUTSIDE = 0.02;

/** Where the free vertices of a panel lie on the wall it is sewn to, and which way that wall faces there. */
export interface OnWall {
  /** Vertex -> place on the wall, m. */ readonly at: ReadonlyMap<number, Vec>;
  /** Vertex -> unit normal out of the wall's face, smooth over its triangles. */ readonly normal: ReadonlyMap<number, Vec>;
}

/**
 * A pocket lies on its wall: the panel's flat shape is laid on the flat wall by its seams, and each free vertex takes the place of the wall under it, wherever
 * the wall went when the bag was placed. Null where that is not so: no panel carries all its seams, it is fuller than its place (a bellows), or it
 * reaches beyond the wall's edge. x: positions (3n).
 */
export function onWall(mesh: BagMesh, p: number, holds: readonly Hold[], x: Float64Array): OnWall | null {
  const sewn = new Map(holds.flatMap((h) => h.verts.map((v, i) => [v, h.flat.slice(2 * i, 2 * i + 2)] as const)));
  const [first] = sewn.values();
  const size = [...sewn.values()].reduce((most, at) => Math.max(most, libm.hypot(at[0] - first[0], at[1] - first[1])), 0);
  for (const wall of [...holds[0].walls].sort((a, b) => a - b)) {
    const laid = laidOn(mesh, wall, sewn);
    const on = laid !== null && laid.misfit <= FIT * size && under(mesh, p, wall, laid, sewn, x);
    if (on) return on;
  }
  return null;
}

/** The panel's flat shape laid rigidly on a flat wall by the vertices they share; null unless the wall has all of them. */
function laidOn(mesh: BagMesh, wall: number, sewn: ReadonlyMap<number, readonly number[]>): RigidFit | null {
  const { verts, flat } = mesh.panelVerts[wall];
  const there = new Map(Array.from(verts, (v, i) => [v, [flat[2 * i], flat[2 * i + 1], 0]] as const));
  const shared = [...sewn.keys()].map((v) => there.get(v));
  if (shared.includes(undefined)) return null;
  return rigidFit(
    Array.from(shared, (_, i) => i),
    [...sewn.values()].flat(),
    Float64Array.from(shared.flatMap((at) => at!)),
  );
}

function under(mesh: BagMesh, p: number, wall: number, laid: RigidFit, sewn: ReadonlyMap<number, unknown>, x: Float64Array): OnWall | null {
  const normals = wallNormals(mesh, wall, x);
  const at = new Map<number, Vec>();
  const normal = new Map<number, Vec>();
  const own = mesh.panelVerts[p];
  for (let i = 0; i < own.verts.length; i++) {
    if (sewn.has(own.verts[i])) continue;
    const [u, v] = laid.place(own.flat[2 * i], own.flat[2 * i + 1]);
    const { tri, weights, inside } = locate(mesh, wall, [u, v]);
    if (inside < -OUTSIDE) return null;
    const mean = (of: (v: number, d: number) => number): Vec =>
      [0, 1, 2].map((d) => weights.reduce((sum, w, k) => sum + w * of(mesh.triVerts[3 * tri + k], d), 0)) as unknown as Vec;
    at.set(
      own.verts[i],
      mean((w, d) => x[3 * w + d]),
    );
    normal.set(own.verts[i], unit(mean((w, d) => normals.get(w)![d])));
  }
  return { at, normal };
}

/** Unit normals at the vertices of a panel, out of its face, by area. */
function wallNormals(mesh: BagMesh, panel: number, x: Float64Array): Map<number, Vec> {
  const sums = new Map<number, Vec>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== panel) continue;
    const corners = [0, 1, 2].map((k) => mesh.triVerts[3 * t + k]);
    const [a, b, c] = corners.map((v): Vec => [x[3 * v], x[3 * v + 1], x[3 * v + 2]]);
    const n = cross([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    for (const v of corners) {
      const sum = sums.get(v) ?? [0, 0, 0];
      sums.set(v, [sum[0] + n[0], sum[1] + n[1], sum[2] + n[2]]);
    }
  }
  return new Map([...sums].map(([v, n]) => [v, unit(n)]));
}
