import type { Point2 } from '../bag/types.ts';
import { UnionFind } from '../numerics/index.ts';
import type { SeamStretches } from '../panels/index.ts';
import type { Draft, DraftEdge } from '../panels/types.ts';
import type { Breakpoints } from './breakpoints.ts';

/** Outline vertices of one flat panel, local numbers 0..count-1, with the sewn place each belongs to. */
export interface Rim {
  /** 2 per vertex, m. */ readonly flat: number[];
  /**
   * The same points with straight edges bowed outward by 1e-5 of their length, for triangulating only: points exactly in line on the hull
   * make Delaunay flips turn on rounding, and turned-over triangles follow.
   */
  readonly bowed: number[];
  /** Sewn place of each vertex: equal numbers are one vertex of the bag. */ readonly place: number[];
  /** Closed loops of local vertices, outline first. */ readonly loops: number[][];
  /** Per edge: local vertices from its start to its end, and their arc-length fractions. */
  readonly edges: readonly { readonly verts: readonly number[]; readonly at: readonly number[] }[];
  /** 1 where the outline has a corner or a breakpoint, per vertex. */ readonly corner: number[];
}

/** Outline vertices of every panel; places are numbered over the whole bag. */
export function buildRims(draft: Draft, breakpoints: Breakpoints, seamStretches: SeamStretches, subdivisions: readonly Float64Array[]): Rim[] {
  // Nodes: every breakpoint, an edge's last being the next edge's first. Joined where they are sewn together.
  const nodeOf: number[][][] = [];
  let nodes = 0;
  draft.panels.forEach((panel, p) => {
    nodeOf.push(panel.edges.map((_, e) => breakpoints[p][e].slice(0, -1).map(() => nodes++)));
    panel.edges.forEach((edge, e) => {
      nodeOf[p][e].push(nodeOf[p][edge.next][0]);
    });
  });
  const sewn = new UnionFind(nodes);
  for (const stretch of seamStretches.list) {
    const ends = stretch.members.map((m) => {
      const a = nodeOf[m.panel][m.edge][m.interval];
      const b = nodeOf[m.panel][m.edge][m.interval + 1];
      return m.forward ? [a, b] : [b, a];
    });
    for (const [start, end] of ends) {
      sewn.join(ends[0][0], start);
      sewn.join(ends[0][1], end);
    }
  }
  const firstOfStretch: number[] = [];
  let places = nodes;
  for (const inner of subdivisions) {
    firstOfStretch.push(places);
    places += inner.length;
  }
  return draft.panels.map((panel, p) => {
    const rim: Rim = { flat: [], bowed: [], place: [], loops: [], edges: [], corner: [] };
    const edges: { verts: number[]; at: number[] }[] = panel.edges.map(() => ({ verts: [], at: [] }));
    const add = (x: number, y: number, bow: Point2, place: number, corner: number): number => {
      rim.flat.push(x, y);
      rim.bowed.push(x + bow[0], y + bow[1]);
      rim.place.push(place);
      rim.corner.push(corner);
      return rim.place.length - 1;
    };
    for (const loop of panel.loops) {
      const cycle: number[] = [];
      for (const e of loop) {
        const edge = panel.edges[e];
        const list = breakpoints[p][e];
        for (let i = 0; i + 1 < list.length; i++) {
          const s = seamStretches.stretchOf[p][e][i];
          const inner = subdivisions[s];
          const forward = seamStretches.list[s].members.find((m) => m.panel === p && m.edge === e && m.interval === i)?.forward ?? true;
          const push = (t: number, place: number, corner: number): void => {
            const [x, y] = edge.curve.at(t);
            const v = add(x, y, bowOf(edge, t), place, corner);
            edges[e].verts.push(v);
            edges[e].at.push(t);
            cycle.push(v);
          };
          push(list[i], sewn.find(nodeOf[p][e][i]), 1);
          for (let k = 0; k < inner.length; k++) {
            const number = forward ? k : inner.length - 1 - k;
            const f = forward ? inner[number] : 1 - inner[number];
            push(list[i] + f * (list[i + 1] - list[i]), firstOfStretch[s] + number, 0);
          }
        }
      }
      for (const e of loop) {
        edges[e].verts.push(edges[panel.edges[e].next].verts[0]);
        edges[e].at.push(1);
      }
      rim.loops.push(cycle);
    }
    return { ...rim, edges };
  });
}

const BOW = 1e-5;

/** How far a place on a straight edge is moved outward for triangulating: a parabola over the edge. */
function bowOf(edge: DraftEdge, t: number): Point2 {
  if (edge.edge.kind !== 'line') return [0, 0];
  const [tx, ty] = edge.curve.tangent(t);
  const out = (edge.clothOnLeft ? 1 : -1) * BOW * edge.length * 4 * t * (1 - t);
  return [ty * out, -tx * out];
}
