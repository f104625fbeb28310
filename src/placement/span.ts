import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Hold } from './extras.ts';
import { rigidFit } from './fit.ts';
import { SymmetricSystem } from './linear.ts';
import type { OnWall } from './on-wall.ts';

/** How far a spanned panel is lifted off at its middle for lift 1, as a share of its size: enough to clear the facets of what lies under it. */
const LIFT = 0.02;

/** A held outline that fits the flat panel this well, as a share of its size, is spanned by the flat panel itself. */
const FIT = 0.02;

/**
 * A panel held round its seams, spanned between them: on the wall it lies on (a pocket), else the flat panel itself where its held outline fits in space, else
 * every free vertex at the mean of its neighbours (harmonic). Then lifted along the normal of that wall, or the mean normal of what it is sewn to, by lift
 * x 2 % of its size, fading out toward the seams like the harmonic weight of the free part.
 * Returns positions (3n) with the panel's own free vertices written.
 */
export function spanBetween(mesh: BagMesh, p: number, holds: readonly Hold[], wall: OnWall | null, lift: number, x: Float64Array): Float64Array {
  const out = x.slice();
  const names = [...new Set(mesh.panelVerts[p].verts)];
  const local = new Map(names.map((v, i) => [v, i]));
  const held = new Set(holds.flatMap((h) => h.verts));
  const pairs = new Map<number, [number, number]>();
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== p) continue;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [local.get(mesh.triVerts[3 * t + k])!, local.get(mesh.triVerts[3 * t + ((k + 1) % 3)])!];
      pairs.set(Math.min(a, b) * names.length + Math.max(a, b), [a, b]);
    }
  }
  const system = new SymmetricSystem(names.length, 1, pairs.values());
  // Four right-hand sides: x, y, z, and a bump that is 0 on the seams with a constant source inside.
  const rhs = Array.from({ length: 4 }, () => new Float64Array(names.length));
  for (const pair of pairs.values())
    for (const [v, w] of [pair, [pair[1], pair[0]]]) {
      if (held.has(names[v])) continue;
      system.values[system.slot(v, v)] += 1;
      if (held.has(names[w])) for (let d = 0; d < 3; d++) rhs[d][v] += x[3 * names[w] + d];
      else if (v < w) system.values[system.slot(v, w)] -= 1;
    }
  names.forEach((v, i) => {
    if (!held.has(v)) {
      rhs[3][i] = 1;
      return;
    }
    system.values[system.slot(i, i)] = 1;
    for (let d = 0; d < 3; d++) rhs[d][i] = x[3 * v + d];
  });
  if (!system.factorise()) return out;
  for (const side of rhs) system.solve(side, side);
  const { verts: own, flat } = mesh.panelVerts[p];
  let size = 0;
  for (let i = 0; i < flat.length; i += 2) size = Math.max(size, libm.hypot(flat[i] - flat[0], flat[i + 1] - flat[1]));
  const rigid =
    wall === null &&
    rigidFit(
      holds.flatMap((h) => h.verts),
      holds.flatMap((h) => h.flat),
      x,
    );
  if (rigid && rigid.misfit < FIT * size)
    own.forEach((v, i) => {
      const at = rigid.place(flat[2 * i], flat[2 * i + 1]);
      const row = local.get(v)!;
      for (let d = 0; d < 3; d++) rhs[d][row] = at[d];
    });
  const peak = Math.max(...rhs[3], 1e-30);
  const normal = [0, 1, 2].map((d) => holds.reduce((sum, h) => sum + h.normal[d], 0) / holds.length);
  names.forEach((v, i) => {
    if (held.has(v)) return;
    const away = lift * LIFT * size * (rhs[3][i] / peak);
    for (let d = 0; d < 3; d++) out[3 * v + d] = (wall ? wall.at.get(v)![d] : rhs[d][i]) + away * (wall ? wall.normal.get(v)! : normal)[d];
  });
  return out;
}
