import type { Bending } from './bending.ts';
import type { Elastic } from './elastic.ts';
import type { Sheet } from './sheet.ts';

/**
 * How arcs couple with the plane of the sheet, for one linearisation: an edge whose arc's angle grows by w strains its triangles by M_k phi' w (arc.ts).
 * E edges; each has the corners of its first triangle and the far one of its second (or a corner again, with zeros, where it has no second).
 */
export interface Arcs {
  /** 4E */ readonly verts: Uint32Array;
  /** 9m: which of its edge's four vertices each corner of a triangle is. */ readonly slot: Uint8Array;
  /** 12E, Q: forces on those vertices by the arc's angle, N. */ readonly arcForces: Float64Array;
  /** 6m, N: arc moments among a triangle's own edges, 00 01 02 11 12 22, N*m. */ readonly arcStiffness: Float64Array;
}

export function createArcs(sheet: Sheet, { edges, edgeOf }: Bending): Arcs {
  const { m, triVerts } = sheet,
    verts = new Uint32Array(4 * edges),
    slot = new Uint8Array(9 * m),
    seen = new Uint8Array(edges);
  for (let q = 0; q < 3 * m; q++) {
    const e = edgeOf[q]!,
      t = (q / 3) | 0;
    for (let c = 0; c < 3; c++) {
      const v = triVerts[3 * t + c]!;
      if (!seen[e]) {
        verts[4 * e + c] = v;
        if (c === 0) verts[4 * e + 3] = v;
        slot[3 * q + c] = c;
        continue;
      }
      // The corner opposite the shared edge is the fourth, even where a cone's panel meets itself and it is one of the other three.
      const far = 3 * t + c === q;
      if (far) verts[4 * e + 3] = v;
      slot[3 * q + c] = far ? 3 : verts.subarray(4 * e, 4 * e + 3).indexOf(v);
    }
    seen[e] = 1;
  }
  return { verts, slot, arcForces: new Float64Array(12 * edges), arcStiffness: new Float64Array(6 * m) };
}

/** Fills Q and N for the linearisation of `el`: v_k = A C M_k phi'_k per edge of each triangle, Q from F v_k, N from M_j . v_k phi'_j. */
export function assembleArcs(el: Elastic): void {
  const { sheet, bending, F, slope, tangent, coupling } = el,
    { M, shape } = sheet,
    { slot, arcForces, arcStiffness } = coupling;
  arcForces.fill(0);
  for (let t = 0; t < sheet.m; t++) {
    const s = 6 * t,
      r = 9 * t;
    for (let k = 0, pair = s; k < 3; k++) {
      const e = bending.edgeOf[3 * t + k]!,
        p = slope[e]!,
        a = p * M[r + k]!,
        b = p * M[r + 3 + k]!,
        c = p * M[r + 6 + k]!,
        v0 = tangent[s]! * a + tangent[s + 2]! * b + tangent[s + 4]! * c,
        v1 = tangent[s + 2]! * a + tangent[s + 1]! * b + tangent[s + 5]! * c,
        v2 = tangent[s + 4]! * a + tangent[s + 5]! * b + tangent[s + 3]! * c;
      for (let j = k; j < 3; j++, pair++) arcStiffness[pair] = slope[bending.edgeOf[3 * t + j]!]! * (M[r + j]! * v0 + M[r + 3 + j]! * v1 + M[r + 6 + j]! * v2);
      for (let corner = 0; corner < 3; corner++) {
        const b0 = shape[s + 2 * corner]!,
          b1 = shape[s + 2 * corner + 1]!,
          u = v0 * b0 + v2 * b1,
          w = v2 * b0 + v1 * b1,
          o = 12 * e + 3 * slot[r + 3 * k + corner]!;
        arcForces[o] = arcForces[o]! + F[s]! * u + F[s + 3]! * w;
        arcForces[o + 1] = arcForces[o + 1]! + F[s + 1]! * u + F[s + 4]! * w;
        arcForces[o + 2] = arcForces[o + 2]! + F[s + 2]! * u + F[s + 5]! * w;
      }
    }
  }
}
