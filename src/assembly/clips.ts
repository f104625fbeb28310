import type { Bag } from '../bag/types.ts';
import { type BagMesh, EDGE_FREE } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/** Arc-length fractions closer than this are the same place: mesh vertices carry rounding, clip ends are typed. */
const SAME = 1e-9;

/**
 * What the bag's clips hold: vertices in place, and where a clip also holds the slope, the edges clamped to the placed panel's plane.
 * A point clip holds the vertex nearest to it. Directions point out of the panel, in its plane, as placed.
 */
export function held(bag: Bag, mesh: BagMesh, placed: Float64Array) {
  const heldVerts = new Uint8Array(mesh.vertexCount);
  const clampVerts: number[] = [];
  const clampTris: number[] = [];
  const clampLocal: number[] = [];
  const clampDir: number[] = [];
  bag.panels.forEach((panel, p) => {
    for (const clip of panel.clips) {
      if (clip.kind === 'point') {
        heldVerts[nearest(mesh, p, clip.at)] = 1;
        continue;
      }
      const edge = mesh.outlines[p]![clip.run.edge]!;
      const inside = new Set<number>();
      edge.verts.forEach((v, i) => {
        if (edge.at[i]! >= clip.run.from - SAME && edge.at[i]! <= clip.run.to + SAME) inside.add(v);
      });
      for (const v of inside) heldVerts[v] = 1;
      if (!clip.slope) continue;
      for (let e = 0; e < mesh.edgeKind.length; e++) {
        const [a, b, t, k] = [mesh.edgeVerts[2 * e]!, mesh.edgeVerts[2 * e + 1]!, mesh.edgeTris[2 * e]!, mesh.edgeLocal[2 * e]!];
        if (mesh.edgeKind[e] !== EDGE_FREE || mesh.triPanel[t] !== p || !inside.has(a) || !inside.has(b)) continue;
        const o = mesh.triVerts[3 * t + k]!;
        clampVerts.push(a, b, o);
        clampTris.push(t);
        clampLocal.push(k);
        clampDir.push(...outward(placed, a, b, o));
      }
    }
  });
  return {
    held: heldVerts,
    clampVerts: Uint32Array.from(clampVerts),
    clampTris: Uint32Array.from(clampTris),
    clampLocal: Uint8Array.from(clampLocal),
    clampDir: Float64Array.from(clampDir),
  };
}

function nearest(mesh: BagMesh, p: number, at: readonly [number, number]): number {
  const { verts, flat } = mesh.panelVerts[p]!;
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  verts.forEach((v, i) => {
    const d = libm.hypot(flat[2 * i]! - at[0], flat[2 * i + 1]! - at[1]);
    if (d < least) [least, best] = [d, v];
  });
  return best;
}

/** Unit vector square to edge a-b in the plane of (a, b, o), away from o. */
function outward(x: Float64Array, a: number, b: number, o: number): number[] {
  const e = [0, 1, 2].map((k) => x[3 * b + k]! - x[3 * a + k]!);
  const w = [0, 1, 2].map((k) => x[3 * o + k]! - x[3 * a + k]!);
  const s = (w[0]! * e[0]! + w[1]! * e[1]! + w[2]! * e[2]!) / (e[0]! * e[0]! + e[1]! * e[1]! + e[2]! * e[2]!);
  const d = w.map((v, k) => s * e[k]! - v);
  const l = libm.hypot(d[0]!, d[1]!, d[2]!);
  return d.map((v) => v / l);
}
