import { type BagMesh, EDGE_FREE, EDGE_INNER } from '../core.ts';

/** Pairs of welded vertices to be drawn as one run of line, with the length covered before each (m), so that dashes do not restart at every mesh edge. */
export interface LineRuns {
  /** 2k vertex numbers. */ readonly verts: Uint32Array;
  /** 2k lengths along the run. */ readonly along: Float32Array;
}

/** Every seam and open edge of the bag, chained. Panels' own outlines give the order; each mesh edge is drawn once. */
export function outlineRuns(mesh: BagMesh, x: ArrayLike<number>): LineRuns {
  const verts: number[] = [];
  const along: number[] = [];
  const drawn = new Set<string>();
  for (const panel of mesh.outlines) {
    for (const edge of Object.values(panel)) {
      let run = 0;
      for (let i = 1; i < edge.verts.length; i++) {
        const a = edge.verts[i - 1];
        const b = edge.verts[i];
        const step = Math.hypot(x[3 * a] - x[3 * b], x[3 * a + 1] - x[3 * b + 1], x[3 * a + 2] - x[3 * b + 2]);
        const key = a < b ? `${a},${b}` : `${b},${a}`;
        if (!drawn.has(key)) {
          drawn.add(key);
          verts.push(a, b);
          along.push(run, run + step);
        }
        run += step;
      }
    }
  }
  return { verts: Uint32Array.from(verts), along: Float32Array.from(along) };
}

/** Free edges (the mouth and open hems), with the triangle each belongs to: the ribbon that shows thickness stands on these. */
export function freeEdges(mesh: BagMesh): { readonly verts: Uint32Array; readonly panel: Uint16Array } {
  const verts: number[] = [];
  const panel: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] !== EDGE_FREE) continue;
    verts.push(mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]);
    panel.push(mesh.triPanel[mesh.edgeTris[2 * e]]);
  }
  return { verts: Uint32Array.from(verts), panel: Uint16Array.from(panel) };
}

/** Edges between panels, for the seam line. */
export function seamEdges(mesh: BagMesh): Uint32Array {
  const verts: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] === EDGE_INNER || mesh.edgeKind[e] === EDGE_FREE) continue;
    verts.push(mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]);
  }
  return Uint32Array.from(verts);
}
