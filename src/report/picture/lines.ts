import { type BagMesh, EDGE_FREE, EDGE_INNER } from '../../mesh/types.ts';
import { faceNormal, INTO } from './camera.ts';

/** Per triangle: true when the reader sees its face, false when its back. */
export function facing(mesh: BagMesh, x: Float64Array): Uint8Array {
  return Uint8Array.from(mesh.triPanel, (_, t) => {
    const n = faceNormal(x, mesh.triVerts, t);
    return n[0] * INTO[0] + n[1] * INTO[1] + n[2] * INTO[2] < 0 ? 1 : 0;
  });
}

/**
 * Edges (indices into mesh edges) that draw a shape: seams and rims with a face towards the reader, and silhouettes.
 * Seams wholly behind are left out, as a draughtsman would; the rim always shows, because a bag is looked into.
 */
export function shapeEdges(mesh: BagMesh, x: Float64Array): number[] {
  const seen = facing(mesh, x);
  const out: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    const a = mesh.edgeTris[2 * e];
    const b = mesh.edgeTris[2 * e + 1];
    const kind = mesh.edgeKind[e];
    if (kind === EDGE_FREE || b < 0) out.push(e);
    else if (seen[a] !== seen[b]) out.push(e);
    else if (kind !== EDGE_INNER && seen[a] === 1) out.push(e);
  }
  return out;
}

/**
 * Edges linked end to end into lines of vertex numbers, so that dashes run on through the mesh. A line ends where more than two edges meet
 * or where it turns by more than a right angle's half; closed lines repeat their first vertex.
 */
export function chain(mesh: BagMesh, edges: readonly number[], x: Float64Array): number[][] {
  const at = new Map<number, number[]>();
  for (const e of edges) {
    for (let k = 0; k < 2; k++) {
      const v = mesh.edgeVerts[2 * e + k];
      const list = at.get(v);
      if (list === undefined) at.set(v, [e]);
      else list.push(e);
    }
  }
  const used = new Set<number>();
  const other = (e: number, v: number) => (mesh.edgeVerts[2 * e] === v ? mesh.edgeVerts[2 * e + 1] : mesh.edgeVerts[2 * e]);
  const goOn = (line: number[]) => {
    for (;;) {
      const v = line[line.length - 1];
      const next = (at.get(v) ?? []).find((e) => !used.has(e) && straight(x, line[line.length - 2], v, other(e, v)));
      if (next === undefined) return;
      used.add(next);
      line.push(other(next, v));
    }
  };
  const lines: number[][] = [];
  for (const e of edges) {
    if (used.has(e)) continue;
    used.add(e);
    const line = [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1]];
    goOn(line);
    line.reverse();
    goOn(line);
    lines.push(line);
  }
  return lines;
}

function straight(x: Float64Array, a: number, b: number, c: number): boolean {
  let dot = 0;
  let p = 0;
  let q = 0;
  for (let k = 0; k < 3; k++) {
    const u = x[3 * b + k] - x[3 * a + k];
    const w = x[3 * c + k] - x[3 * b + k];
    dot += u * w;
    p += u * u;
    q += w * w;
  }
  return dot > Math.SQRT1_2 * Math.sqrt(p * q);
}
