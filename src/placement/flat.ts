import type { Panel } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { DraftPanel } from '../panels/types.ts';

export type Vec = readonly [number, number, number];

/** Rigid frame of a flat panel in space: world = origin + u x + v y. */
export interface Frame {
  readonly origin: Vec;
  readonly x: Vec;
  readonly y: Vec;
}

/** Writes one panel's vertices through a rigid frame into positions (3n, mutated). */
export function layPanel(mesh: BagMesh, panel: number, frame: Frame, positions: Float64Array): void {
  const { verts, flat } = mesh.panelVerts[panel];
  for (let i = 0; i < verts.length; i++)
    for (let d = 0; d < 3; d++) positions[3 * verts[i] + d] = frame.origin[d] + flat[2 * i] * frame.x[d] + flat[2 * i + 1] * frame.y[d];
}

/** Frame of an unsewn panel: its stated pose with x and y made orthonormal, else lying face up in z = 0, centred. */
export function flatFrame(panel: Panel, drafted: DraftPanel): Frame {
  if (panel.pose) {
    const x = unit(panel.pose.x);
    const along = dot(panel.pose.y, x);
    const y = unit([panel.pose.y[0] - along * x[0], panel.pose.y[1] - along * x[1], panel.pose.y[2] - along * x[2]]);
    return { origin: panel.pose.origin, x, y };
  }
  const [x0, y0, x1, y1] = drafted.bounds;
  return { origin: [-(x0 + x1) / 2, -(y0 + y1) / 2, 0], x: [1, 0, 0], y: [0, 1, 0] };
}

export const dot = (a: Vec, b: Vec): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec, b: Vec): Vec => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const unit = (a: Vec): Vec => {
  const n = libm.hypot(a[0], a[1], a[2]);
  return [a[0] / n, a[1] / n, a[2] / n];
};
