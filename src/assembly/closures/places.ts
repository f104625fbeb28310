import { curveOf, edgeLength } from '../../bag/index.ts';
import type { Bag, EdgeRun, Point2 } from '../../bag/types.ts';
import { locate } from '../../mesh/index.ts';
import type { BagMesh } from '../../mesh/types.ts';

/** A weighted mean of vertices; weights add up to 1. */
export interface Spot {
  readonly verts: readonly number[];
  readonly weights: readonly number[];
}

/** Where a spot is at x (3n). */
export function spotAt({ verts, weights }: Spot, x: ArrayLike<number>): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  verts.forEach((v, i) => {
    for (let k = 0; k < 3; k++) out[k] = out[k]! + weights[i]! * x[3 * v + k]!;
  });
  return out;
}

/** The spot of a flat point of a panel: clamped where a chord of a curved edge cuts it off. */
function spotOf(mesh: BagMesh, panel: number, at: Point2): Spot {
  const { tri, weights } = locate(mesh, panel, at);
  return { verts: [0, 1, 2].map((k) => mesh.triVerts[3 * tri + k]!), weights };
}

interface Piece {
  readonly run: EdgeRun;
  readonly length: number;
  readonly panel: number;
}

/** Edges end to end, as the mesh has them: asked by length along, 0 to 1 of all of it. */
export interface Side {
  readonly length: number;
  /** Places of the mesh's points along it, rising, both ends included. */ readonly places: readonly number[];
  readonly at: (s: number) => Spot;
}

/** Stretches end to end, each along the outline's own direction. */
export function sideOf(bag: Bag, mesh: BagMesh, runs: readonly EdgeRun[]): Side {
  const pieces = runs.map((run): Piece => {
    const panel = bag.panels.find((p) => p.name === run.panel)!,
      edge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!;
    return { run, length: (run.to - run.from) * edgeLength(edge), panel: mesh.panelNames.indexOf(run.panel) };
  });
  const length = pieces.reduce((sum, p) => sum + p.length, 0);
  const places: number[] = [0];
  let start = 0;
  for (const { run, length: own, panel } of pieces) {
    for (const t of mesh.outlines[panel]![run.edge]!.at) {
      const s = (start + (own * (t - run.from)) / (run.to - run.from)) / length;
      if (t > run.from && t < run.to) places.push(s);
    }
    start += own;
    places.push(start / length);
  }
  const at = (s: number): Spot => {
    let begin = 0;
    for (const [i, { run, length: own, panel }] of pieces.entries()) {
      const along = s * length - begin;
      begin += own;
      if (along > own && i + 1 < pieces.length) continue;
      return onEdge(mesh, panel, run.edge, run.from + Math.min(1, Math.max(0, along / own)) * (run.to - run.from));
    }
    throw new Error('a side without stretches');
  };
  return { length, places, at };
}

/** Between two points of the mesh on an edge. */
function onEdge(mesh: BagMesh, panel: number, edge: string, t: number): Spot {
  const { verts, at } = mesh.outlines[panel]![edge]!;
  let k = 0;
  while (k + 2 < verts.length && at[k + 1]! < t) k++;
  const f = Math.min(1, Math.max(0, (t - at[k]!) / (at[k + 1]! - at[k]!)));
  if (f < 1e-9) return { verts: [verts[k]!], weights: [1] };
  if (f > 1 - 1e-9) return { verts: [verts[k + 1]!], weights: [1] };
  return { verts: [verts[k]!, verts[k + 1]!], weights: [1 - f, f] };
}

/** Spots of a channel: `below` the edges, about `spacing` apart, none at the very ends of an edge. */
export function channelOf(bag: Bag, mesh: BagMesh, runs: readonly EdgeRun[], below: number, spacing: number): Spot[] {
  return runs.flatMap((run) => {
    const panel = bag.panels.find((p) => p.name === run.panel)!,
      edge = [...panel.outline, ...panel.holes.flat()].find((e) => e.name === run.edge)!,
      curve = curveOf(edge),
      many = Math.max(2, Math.round(((run.to - run.from) * edgeLength(edge)) / spacing));
    return Array.from({ length: many }, (_, i) => {
      const t = run.from + ((run.to - run.from) * (i + 0.5)) / many,
        [x, y] = curve.at(t),
        [u, v] = curve.tangent(t);
      // The panel lies to the left of its edges.
      return spotOf(mesh, mesh.panelNames.indexOf(run.panel), [x - below * v, y + below * u]);
    });
  });
}
