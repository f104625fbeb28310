import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import { patchesOf } from './patches.ts';

/** Largest stretch of one panel or of the cloth beside one seam, over 20 mm, or of one strap: length over rest length, less one. */
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
  /** 3m Green strains E11 E22 2 E12 at rest, arcs' correction included (membrane.ts). */ readonly strain: Float64Array;
  /** Pull over stiffness of each carrying strap. */ readonly straps: readonly { readonly name: string; readonly strain: number }[];
  /** Limit of the bag file; else STRAIN_LIMIT. */ readonly stated?: number;
}

/** Places along a seam edge at which its patches are looked up, of its length. */
const ALONG = [1 / 6, 1 / 2, 5 / 6] as const;

/**
 * Largest strain of every panel, of the cloth along every seam on both sides, and of every carrying strap, averaged over squares of 20 mm (patches.ts): F^T F is averaged
 * by area, and the strain is that of the average. A figure of single points grows without end beside a point that pulls (the end of a seam, a patch) as the
 * mesh gets finer; this one converges, and the greatest stretch inside 20 mm may be more. Gathers are no strain. Mutates nothing.
 */
export function measureStrain({ mesh, rest, stretch, strain, straps, stated }: StrainInput): StrainMeasures {
  const { triPanel, triFlat, edgeSeam, edgeTris, edgeLocal } = mesh,
    count = triPanel.length,
    area = new Float64Array(count),
    // F^T F as 11, 22, 12, and 1 where the triangle is an even sheet.
    of = new Float64Array(4 * count);
  for (let t = 0; t < count; t++) {
    const q = 6 * t;
    area[t] = Math.abs((rest[q + 2] - rest[q]) * (rest[q + 5] - rest[q + 1]) - (rest[q + 4] - rest[q]) * (rest[q + 3] - rest[q + 1])) / 2;
    // F^T F = 1 + 2 E.
    of.set([1 + 2 * strain[3 * t], 1 + 2 * strain[3 * t + 1], strain[3 * t + 2], shearsFreely(stretch, 4 * t) ? 0 : 1], 4 * t);
  }
  const patches = mesh.panelNames.map((_, p) => patchesOf(mesh, p, area, of, 4, (mean) => strainOf(mean[0], mean[1], mean[2], mean[3] === 0))),
    seams = new Float64Array(mesh.seamNames.length);
  edgeSeam.forEach((s, e) => {
    if (s < 0) return;
    for (const side of [0, 1]) {
      const t = edgeTris[2 * e + side],
        opposite = edgeLocal[2 * e + side];
      if (t < 0) continue;
      const [a, b] = [6 * t + 2 * ((opposite + 1) % 3), 6 * t + 2 * ((opposite + 2) % 3)];
      for (const u of ALONG) {
        const at = (k: number): number => (1 - u) * triFlat[a + k] + u * triFlat[b + k];
        seams[s] = Math.max(seams[s], patches[triPanel[t]].round(at(0), at(1)));
      }
    }
  });
  return {
    limit: stated ?? STRAIN_LIMIT,
    stated: stated !== undefined,
    parts: [
      ...mesh.panelNames.map((name, i): PartStrain => ({ kind: 'panel', name, strain: patches[i].largest })),
      ...mesh.seamNames.map((name, i): PartStrain => ({ kind: 'seam', name, strain: seams[i] })),
      ...straps.map((s): PartStrain => ({ kind: 'strap', ...s })),
    ],
  };
}
