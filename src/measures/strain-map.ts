import { type BagMesh, restCorners } from '../mesh/types.ts';
import { type Membrane, principalStrain } from './membrane.ts';

/** A value at one mesh point of one panel. */
export interface PanelPoint {
  readonly panel: number;
  readonly vertex: number;
  readonly value: number;
}

/** Largest principal membrane strain over the bag. Fractions, not percent. */
export interface StrainMap {
  /** Per panel: a value for each of mesh.panelVerts[panel].verts. */ readonly values: readonly Float64Array[];
  /** Where it is largest, on the whole bag and on each panel. */ readonly largest: PanelPoint;
  readonly byPanel: readonly PanelPoint[];
}

/**
 * Largest principal strain (length over rest length, less one) at every mesh point of every panel: the Green strains of the panel's triangles round the
 * point, turned into the panel's frame and averaged by rest area, then their larger principal stretch. Shear counts, so woven cloth that only turns its
 * yarns shows more here than along them (strain.ts). In a tight fold single triangles come out stretched beside shortened ones, hence the averaging;
 * beside a point that pulls the figure still grows as the mesh gets finer. Pressed cloth may be under 0. Mutates nothing.
 * Source: averaging at nodes (stress recovery of finite elements; from memory).
 */
export function strainMap(mesh: BagMesh, membrane: Membrane): StrainMap {
  const { triVerts, triPanel, panelNames } = mesh;
  const sewn = restCorners(mesh);
  const { rest, area, strain } = membrane;
  const sums = panelNames.map(() => new Float64Array(4 * mesh.vertexCount));
  for (let t = 0; t < triPanel.length; t++) {
    const q = 6 * t;
    // Cosine and sine of the turn from the triangle's warp frame to the panel's: how its first edge runs in both.
    const [ax, ay] = [rest[q + 2] - rest[q], rest[q + 3] - rest[q + 1]];
    const [bx, by] = [sewn[q + 2] - sewn[q], sewn[q + 3] - sewn[q + 1]];
    const l2 = ax * ax + ay * ay;
    const [c, s] = [(ax * bx + ay * by) / l2, (ax * by - ay * bx) / l2];
    const [e, f, g] = [strain[3 * t], strain[3 * t + 1], strain[3 * t + 2] / 2];
    const turned = [c * c * e + s * s * f - 2 * c * s * g, s * s * e + c * c * f + 2 * c * s * g, 2 * (c * s * (e - f) + (c * c - s * s) * g)];
    const sum = sums[triPanel[t]];
    for (let k = 0; k < 3; k++) {
      const v = 4 * triVerts[3 * t + k];
      sum[v] += area[t];
      for (let j = 0; j < 3; j++) sum[v + 1 + j] += area[t] * turned[j];
    }
  }
  const values = mesh.panelVerts.map(({ verts }, p) =>
    Float64Array.from(verts, (v) => {
      const [w, e, f, g] = sums[p].subarray(4 * v, 4 * v + 4);
      return w > 0 ? principalStrain(e / w, f / w, g / w) : 0;
    }),
  );
  const byPanel = values.map((own, panel): PanelPoint => {
    let best = 0;
    own.forEach((value, i) => {
      if (value > own[best]) best = i;
    });
    return { panel, vertex: mesh.panelVerts[panel].verts[best], value: own[best] };
  });
  return { values, byPanel, largest: byPanel.reduce((a, b) => (b.value > a.value ? b : a)) };
}
