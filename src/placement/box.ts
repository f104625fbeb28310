import type { Bag } from '../bag/types.ts';
import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Draft, DraftPanel } from '../panels/types.ts';
import { type Frame, layPanel, type Vec } from './flat.ts';
import { joinsOf } from './graph.ts';

/**
 * Box placement: a base with straight sides flat on the table, a wall standing upright on each side that is sewn to one.
 * Exact (rigid panels) when every wall is sewn to the base by one whole straight edge and the walls meet at the base's corners.
 * Returns frames per panel of the group, or null when the bag is not of this kind; nothing is written.
 */
export function boxFrames(bag: Bag, draft: Draft, group: readonly number[]): Map<number, Frame> | null {
  const bases = group.filter((p) => bag.panels[p].role === 'base');
  if (bases.length !== 1) return null;
  const base = bases[0];
  const drafted = draft.panels[base];
  if (drafted.edges.some((e) => e.edge.kind !== 'line')) return null;
  const joins = joinsOf(draft)[base].filter(({ other }) => group.includes(other.panel));
  const walls = new Map<number, { baseEdge: number; wallEdge: number; anti: boolean }>();
  for (const { own, other } of joins) {
    const edge = draft.panels[other.panel].edges[other.edge];
    if (walls.has(other.panel) || other.panel === base || edge.edge.kind !== 'line' || own.to - own.from < 1 - 1e-9 || other.to - other.from < 1 - 1e-9)
      return null;
    if (Math.abs(edge.length - drafted.edges[own.edge].length) > 1e-3 * edge.length) return null;
    walls.set(other.panel, { baseEdge: own.edge, wallEdge: other.edge, anti: own.forward !== other.forward });
  }
  if (walls.size + 1 !== group.length) return null;
  const frames = new Map<number, Frame>();
  const baseFrame = turnFrontTo(drafted, frontEdge(bag, walls));
  frames.set(base, baseFrame);
  for (const [wall, { baseEdge, wallEdge, anti }] of walls) {
    const edge = drafted.edges[baseEdge].curve;
    const [from, to] = [carry(baseFrame, edge.at(0)), carry(baseFrame, edge.at(1))];
    const start = anti ? to : from;
    const end = anti ? from : to;
    frames.set(wall, standOn(draft.panels[wall], wallEdge, start, end));
  }
  return frames;
}

/** Base edge that the front is sewn to; the longest one when no panel is called a front. */
function frontEdge(bag: Bag, walls: ReadonlyMap<number, { baseEdge: number }>): number {
  for (const [wall, { baseEdge }] of walls) if (bag.panels[wall].role === 'front') return baseEdge;
  for (const [, { baseEdge }] of walls) return baseEdge;
  return 0;
}

const carry = (f: Frame, [u, v]: readonly [number, number]): Vec => [
  f.origin[0] + u * f.x[0] + v * f.y[0],
  f.origin[1] + u * f.x[1] + v * f.y[1],
  f.origin[2] + u * f.x[2] + v * f.y[2],
];

/** The base face down on z = 0, its front edge at -y along x, the middle of its box at the origin. */
function turnFrontTo(base: DraftPanel, front: number): Frame {
  const [tx, ty] = base.edges[front].curve.tangent(0.5);
  // Face down, the outline runs clockwise seen from above: the front edge, cloth on its left in the flat, must run along -x.
  const sign = base.edges[front].clothOnLeft ? 1 : -1;
  // World x = -(t . p), world y = n . p with n the inward normal: a reflection, as turning the cloth face down is.
  const x: Vec = [-sign * tx, -sign * ty, 0];
  const y: Vec = [-sign * ty, sign * tx, 0];
  const corners = base.loops[0].map((e) => base.edges[e].curve.at(0));
  const xs = corners.map(([u, v]) => u * x[0] + v * y[0]);
  const ys = corners.map(([u, v]) => u * x[1] + v * y[1]);
  return { origin: [-(Math.min(...xs) + Math.max(...xs)) / 2, -(Math.min(...ys) + Math.max(...ys)) / 2, 0], x: [x[0], x[1], 0], y: [y[0], y[1], 0] };
}

/** Frame of a wall whose edge runs from start to end in space and whose cloth goes straight up from there. */
export function standOn(wall: DraftPanel, edgeNumber: number, start: Vec, end: Vec): Frame {
  const edge = wall.edges[edgeNumber];
  const [tx, ty] = edge.curve.tangent(0.5);
  const side = edge.clothOnLeft ? 1 : -1;
  const length = libm.hypot(end[0] - start[0], end[1] - start[1], end[2] - start[2]);
  const along: Vec = [(end[0] - start[0]) / length, (end[1] - start[1]) / length, (end[2] - start[2]) / length];
  // Flat point p = a t + b n (n inward) goes to a along + b up.
  const [nx, ny] = [-ty * side, tx * side];
  const x: Vec = [tx * along[0], tx * along[1], tx * along[2] + nx];
  const y: Vec = [ty * along[0], ty * along[1], ty * along[2] + ny];
  const [u, v] = edge.curve.at(0);
  return { origin: [start[0] - u * x[0] - v * y[0], start[1] - u * x[1] - v * y[1], start[2] - u * x[2] - v * y[2]], x, y };
}

/** Lays the frames and returns the largest distance between two places of one welded vertex, m: 0 for an exact box. */
export function layFrames(mesh: BagMesh, frames: ReadonlyMap<number, Frame>, positions: Float64Array): number {
  for (const [p, frame] of frames) layPanel(mesh, p, frame, positions);
  let gap = 0;
  for (const [p, f] of frames) {
    const { verts, flat } = mesh.panelVerts[p];
    for (let i = 0; i < verts.length; i++)
      for (let d = 0; d < 3; d++) gap = Math.max(gap, Math.abs(positions[3 * verts[i] + d] - (f.origin[d] + flat[2 * i] * f.x[d] + flat[2 * i + 1] * f.y[d])));
  }
  return gap;
}
