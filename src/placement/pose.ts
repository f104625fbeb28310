import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import type { Draft } from '../panels/types.ts';
import { rigidFit } from './fit.ts';
import { cross, dot, flatFrame, layPanel, type Vec } from './flat.ts';

/** Lays a sewn group whose panels all state a pose; false (nothing written) when one does not. */
export function layByPoses(bag: Bag, draft: Draft, mesh: BagMesh, group: readonly number[], positions: Float64Array): boolean {
  if (!group.every((p) => bag.panels[p].pose)) return false;
  for (const p of group) layPanel(mesh, p, flatFrame(bag.panels[p], draft.panels[p]), positions);
  return true;
}

/** Moves a placed group as one piece so that its first panel with a stated pose lies by it as nearly as it can. Mutates positions. */
export function moveToPose(bag: Bag, draft: Draft, mesh: BagMesh, group: readonly number[], positions: Float64Array): void {
  const p = group.find((q) => bag.panels[q].pose);
  if (p === undefined) return;
  const { verts, flat } = mesh.panelVerts[p];
  const now = rigidFit(verts, flat, positions);
  if (!now) return;
  const frame = flatFrame(bag.panels[p], draft.panels[p]);
  const from = [now.x as Vec & readonly number[], now.y as Vec & readonly number[]] as unknown as [Vec, Vec];
  const [a, b] = [
    [...from, cross(from[0], from[1])],
    [frame.x, frame.y, cross(frame.x, frame.y)],
  ];
  const origin = now.place(0, 0);
  for (const v of new Set(group.flatMap((q) => [...mesh.panelVerts[q].verts]))) {
    const r: Vec = [positions[3 * v] - origin[0], positions[3 * v + 1] - origin[1], positions[3 * v + 2] - origin[2]];
    const parts = a.map((axis) => dot(r, axis));
    for (let d = 0; d < 3; d++) positions[3 * v + d] = frame.origin[d] + parts[0] * b[0][d] + parts[1] * b[1][d] + parts[2] * b[2][d];
  }
}
