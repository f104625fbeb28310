import { type BagMesh, EDGE_FREE, EDGE_SEAM } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { turnsHere } from './base.ts';

/** Springs of the surface: per edge two vertices, rest length, stiffness, share when shortened; per inner edge a bending stencil. */
export interface Springs {
  readonly verts: Int32Array;
  readonly rest: Float64Array;
  readonly stiffness: Float64Array;
  readonly soft: Float64Array;
  readonly hinges: Int32Array;
  readonly weights: Float64Array;
  /** 1 where the hinge lies across a seam that is not smooth, a fold line or a base line. */ readonly creased: Uint8Array;
}

/**
 * Springs along every triangle edge (k = C x area of its triangles / rest^2) and the quadratic bending stencil of Bergou et al. (2006) on
 * every edge inside a panel and along the smooth seams, unit D; other seams are free hinges, so panels meet at whatever angle they like. The
 * longer (gathered) side of a
 * seam puts no spring on the seam itself: the shorter side sets its length. triFlat: rest corners, 6 a triangle, m.
 */
export function springsOf(
  mesh: BagMesh,
  panels: ReadonlySet<number>,
  compression: readonly number[],
  smoothSeams: ReadonlySet<number>,
  triFlat: Float64Array,
): Springs {
  const n = mesh.vertexCount;
  const sum = new Map<number, { a: number; b: number; rest: number; k: number; soft: number }>();
  const { triVerts, triPanel } = mesh;
  for (let t = 0; t < triPanel.length; t++) {
    if (!panels.has(triPanel[t])) continue;
    const f = 6 * t;
    const area = ((triFlat[f + 2] - triFlat[f]) * (triFlat[f + 5] - triFlat[f + 1]) - (triFlat[f + 3] - triFlat[f + 1]) * (triFlat[f + 4] - triFlat[f])) / 2;
    for (let k = 0; k < 3; k++) {
      const j = (k + 1) % 3;
      const [a, b] = [triVerts[3 * t + k], triVerts[3 * t + j]];
      const rest = libm.hypot(triFlat[f + 2 * j] - triFlat[f + 2 * k], triFlat[f + 2 * j + 1] - triFlat[f + 2 * k + 1]);
      const key = Math.min(a, b) * n + Math.max(a, b);
      const old = sum.get(key);
      const soft = compression[triPanel[t]];
      if (!old || rest < 0.97 * old.rest) sum.set(key, { a, b, rest, k: area / (rest * rest), soft });
      else if (rest <= 1.03 * old.rest) {
        old.k += area / (rest * rest);
        old.soft = Math.max(old.soft, soft);
      }
    }
  }
  const list = [...sum.values()];
  const hinges: number[] = [];
  const weights: number[] = [];
  const creased: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] === EDGE_FREE) continue;
    const [t, u] = [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1]];
    if (!panels.has(triPanel[t]) || !panels.has(triPanel[u])) continue;
    const [k, q] = [mesh.edgeLocal[2 * e], mesh.edgeLocal[2 * e + 1]];
    // Each triangle's angles at the edge's two ends come from its own flat shape: across a tube's seam the two lie in different places.
    const corner = (tri: number, c: number): [number, number] => [triFlat[6 * tri + 2 * (c % 3)], triFlat[6 * tri + 2 * (c % 3) + 1]];
    const cot = (tri: number, c: number): number => {
      const [p, a, b] = [corner(tri, c), corner(tri, c + 1), corner(tri, c + 2)];
      return ((a[0] - p[0]) * (b[0] - p[0]) + (a[1] - p[1]) * (b[1] - p[1])) / Math.abs((a[0] - p[0]) * (b[1] - p[1]) - (a[1] - p[1]) * (b[0] - p[0]));
    };
    const same = triVerts[3 * u + ((q + 1) % 3)] === mesh.edgeVerts[2 * e];
    const [c01, c03] = [cot(t, k + 1), cot(t, k + 2)];
    const [c02, c04] = same ? [cot(u, q + 1), cot(u, q + 2)] : [cot(u, q + 2), cot(u, q + 1)];
    const area = (tri: number): number => {
      const f = 6 * tri;
      return ((triFlat[f + 2] - triFlat[f]) * (triFlat[f + 5] - triFlat[f + 1]) - (triFlat[f + 3] - triFlat[f + 1]) * (triFlat[f + 4] - triFlat[f])) / 2;
    };
    const scale = Math.sqrt(3 / (area(t) + area(u)));
    // A panel sewn to itself round a cone may meet one vertex twice in a stencil.
    if (triVerts[3 * t + k] === triVerts[3 * u + q]) continue;
    creased.push((mesh.edgeKind[e] === EDGE_SEAM && !smoothSeams.has(mesh.edgeSeam[e])) || turnsHere(mesh, e) ? 1 : 0);
    hinges.push(mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1], triVerts[3 * t + k], triVerts[3 * u + q]);
    weights.push(scale * (c03 + c04), scale * (c01 + c02), scale * (-c01 - c03), scale * (-c02 - c04));
  }
  return {
    verts: Int32Array.from(list.flatMap((s) => [s.a, s.b])),
    rest: Float64Array.from(list, (s) => s.rest),
    stiffness: Float64Array.from(list, (s) => s.k),
    soft: Float64Array.from(list, (s) => s.soft),
    hinges: Int32Array.from(hinges),
    weights: Float64Array.from(weights),
    creased: Uint8Array.from(creased),
  };
}
