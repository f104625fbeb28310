import { isPoint } from '../../bag/index.ts';
import type { Bag, PanelRole, PointClosure } from '../../bag/types.ts';
import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';
import type { Lead } from '../../solver/index.ts';
import type { Tied } from './close.ts';
import { type Spot, spotAt } from './places.ts';

/** How far off the other panel's face a part is taken first, m. */
const OFF = 0.06;
/** Panels that close over the face of another, not against its back. */
const OVER: readonly PanelRole[] = ['flap', 'strap', 'trim'];

/** Unit normal out of the face at a spot of the mesh, over the triangles of `panel` that have a point of it. x: 3n, m. */
function faceAt(mesh: BagMesh, panel: number, { verts }: Spot, x: Float64Array): [number, number, number] {
  const own = new Set(verts);
  const sum: [number, number, number] = [0, 0, 0];
  for (let t = 0; t < mesh.triPanel.length; t++) {
    if (mesh.triPanel[t] !== panel) continue;
    const [a, b, c] = [mesh.triVerts[3 * t]!, mesh.triVerts[3 * t + 1]!, mesh.triVerts[3 * t + 2]!];
    if (!own.has(a) && !own.has(b) && !own.has(c)) continue;
    const [ux, uy, uz] = [0, 1, 2].map((k) => x[3 * b + k]! - x[3 * a + k]!) as [number, number, number],
      [vx, vy, vz] = [0, 1, 2].map((k) => x[3 * c + k]! - x[3 * a + k]!) as [number, number, number];
    sum[0] += uy * vz - uz * vy;
    sum[1] += uz * vx - ux * vz;
    sum[2] += ux * vy - uy * vx;
  }
  const l = libm.norm(sum) || 1;
  return [sum[0] / l, sum[1] / l, sum[2] / l];
}

/** Does the panel of its first part close over the face of the other? */
export const liesOver = (bag: Bag, { ends }: PointClosure): boolean => OVER.includes(bag.panels.find((p) => p.name === ends[0].panel)!.role);

/** A flap goes over the mouth and lies on the face of what it closes on: its part is taken round there before it is drawn to the other. x: the open start, 3n, m. */
export function leadsOf(bag: Bag, mesh: BagMesh, tied: readonly Tied[], x: Float64Array): Lead[] {
  return tied.flatMap(({ laid }, group) => {
    const { closure, pairs } = laid;
    if (!isPoint(closure) || !liesOver(bag, closure)) return [];
    const [from, to] = pairs[0]!.spots,
      out = faceAt(mesh, mesh.panelNames.indexOf(closure.ends[1].panel), to, x),
      at = spotAt(to, x);
    const vertex = from.verts[from.weights.indexOf(Math.max(...from.weights))]!;
    return [{ group, vertex, to: [at[0] + OFF * out[0], at[1] + OFF * out[1], at[2] + OFF * out[2]] }];
  });
}
