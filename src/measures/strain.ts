import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';

/** Largest stretch of one panel, of the cloth beside one seam, or of one strap: length over rest length, less one. */
export interface PartStrain {
  readonly kind: 'panel' | 'seam' | 'strap';
  readonly name: string;
  readonly strain: number;
}

/** What the load does to the cloth at rest. */
export interface StrainMeasures {
  /** Strain up to which a part is taken to carry, and whether the bag file states it. */ readonly limit: number;
  readonly stated: boolean;
  /** Panels, seams and carrying straps in that order, each as in the bag. */ readonly parts: readonly PartStrain[];
}

/**
 * Strain up to which cloth and straps are taken to carry when the bag file states none: common practice, no source. No material row states a breaking or a
 * working strain. It marks where the model's linear cloth is left, and says nothing about what a part bears.
 */
export const STRAIN_LIMIT = 0.05;

/** A stack whose shear stiffness is under this share of an even sheet's is woven: it shears without stretching a yarn (half way; common practice, no source). */
const SHEARS = 0.5;

/** F^T F of one triangle as [11, 22, 12], F = [x1-x0, x2-x0] [X1-X0, X2-X0]^-1. X: 6 rest coordinates at q, m, x = warp; x: 3n positions, m. */
export function stretchOf(X: Float64Array, q: number, x: Float64Array, a: number, b: number, c: number): [number, number, number] {
  const u1 = X[q + 2] - X[q],
    v1 = X[q + 3] - X[q + 1],
    u2 = X[q + 4] - X[q],
    v2 = X[q + 5] - X[q + 1],
    det = u1 * v2 - u2 * v1;
  let [aa, bb, ab] = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const d1 = x[3 * b + k] - x[3 * a + k],
      d2 = x[3 * c + k] - x[3 * a + k],
      f1 = (d1 * v2 - d2 * v1) / det,
      f2 = (d2 * u1 - d1 * u2) / det;
    aa += f1 * f1;
    bb += f2 * f2;
    ab += f1 * f2;
  }
  return [aa, bb, ab];
}

/**
 * Largest strain, length over rest length less one, of F^T F = [aa, ab; ab, bb]. Woven: along warp and weft alone, for shear turns yarns and stretches none.
 * Else the larger principal strain.
 */
export const strainOf = (aa: number, bb: number, ab: number, woven: boolean): number =>
  Math.sqrt(woven ? Math.max(aa, bb) : (aa + bb) / 2 + libm.hypot((aa - bb) / 2, ab)) - 1;

/** In-plane stiffness C11 C22 C12 C66 at c: does the stack shear more freely than it stretches? An even sheet has C66 = (C11 - C12)/2. */
export const shearsFreely = (C: ArrayLike<number>, c: number): boolean => C[c + 3] < SHEARS * ((Math.min(C[c], C[c + 1]) - C[c + 2]) / 2);

export interface StrainInput {
  readonly mesh: BagMesh;
  /** 6m rest corners as sewn, m, x along the warp. */ readonly rest: Float64Array;
  /** 4m in-plane stiffness C11 C22 C12 C66, N/m. */ readonly stretch: Float64Array;
  /** 3n settled positions, m. */ readonly settled: Float64Array;
  /** Pull over stiffness of each carrying strap. */ readonly straps: readonly { readonly name: string; readonly strain: number }[];
  /** Limit of the bag file; else STRAIN_LIMIT. */ readonly stated?: number;
}

/**
 * Largest strain of every panel (its mesh points), seam (mesh points of it, in the panels on both sides) and carrying strap. Gathers are no strain.
 * F^T F is averaged over the panel's triangles round each point, by area: in a tight fold single triangles come out stretched beside shortened ones.
 * Beside a point that pulls (the end of a seam, a patch) the figure still grows as the mesh gets finer. Mutates nothing.
 * Source: averaging at nodes (stress recovery of finite elements; from memory).
 */
export function measureStrain({ mesh, rest, stretch, settled, straps, stated }: StrainInput): StrainMeasures {
  const { vertexCount, triVerts, triPanel, edgeSeam, edgeTris, edgeVerts } = mesh,
    panels = new Float64Array(mesh.panelNames.length),
    seams = new Float64Array(mesh.seamNames.length),
    // Per panel and vertex: area, then area times F^T F; and whether any triangle there is an even sheet.
    sums = mesh.panelNames.map(() => new Float64Array(4 * vertexCount)),
    even = mesh.panelNames.map(() => new Uint8Array(vertexCount));
  for (let t = 0; t < triPanel.length; t++) {
    const [a, b, c] = triVerts.subarray(3 * t, 3 * t + 3),
      [aa, bb, ab] = stretchOf(rest, 6 * t, settled, a, b, c),
      q = 6 * t,
      area = Math.abs((rest[q + 2] - rest[q]) * (rest[q + 5] - rest[q + 1]) - (rest[q + 4] - rest[q]) * (rest[q + 3] - rest[q + 1])) / 2,
      sum = sums[triPanel[t]];
    for (const v of [a, b, c]) {
      sum[4 * v] += area;
      sum[4 * v + 1] += area * aa;
      sum[4 * v + 2] += area * bb;
      sum[4 * v + 3] += area * ab;
      if (!shearsFreely(stretch, 4 * t)) even[triPanel[t]][v] = 1;
    }
  }
  const at = (p: number, v: number): number => {
    const [area, aa, bb, ab] = sums[p].subarray(4 * v, 4 * v + 4);
    return strainOf(aa / area, bb / area, ab / area, even[p][v] === 0);
  };
  mesh.panelVerts.forEach(({ verts }, p) => {
    for (const v of verts) if (sums[p][4 * v] > 0) panels[p] = Math.max(panels[p], at(p, v));
  });
  edgeSeam.forEach((s, e) => {
    if (s < 0) return;
    for (const t of [edgeTris[2 * e], edgeTris[2 * e + 1]])
      if (t >= 0) seams[s] = Math.max(seams[s], at(triPanel[t], edgeVerts[2 * e]), at(triPanel[t], edgeVerts[2 * e + 1]));
  });
  return {
    limit: stated ?? STRAIN_LIMIT,
    stated: stated !== undefined,
    parts: [
      ...mesh.panelNames.map((name, i): PartStrain => ({ kind: 'panel', name, strain: panels[i] })),
      ...mesh.seamNames.map((name, i): PartStrain => ({ kind: 'seam', name, strain: seams[i] })),
      ...straps.map((s): PartStrain => ({ kind: 'strap', ...s })),
    ],
  };
}
