import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Membrane } from './membrane.ts';
import { triangleNormal } from './sheet.ts';

/** Where one seam carries most. */
export interface SeamPoint {
  readonly seam: number;
  /** Panel on whose side it is carried. */ readonly panel: number;
  readonly vertex: number;
  /** N/m across the seam; positive pulls it open. */ readonly value: number;
}

/** Force carried across the sewn seams, N per metre of seam as sewn; positive pulls the seam open, negative presses it together. */
export interface SeamForces {
  /** 2k vertices of the k seam edges, each edge once. */ readonly edgeVerts: Uint32Array;
  /** k seam numbers. */ readonly edgeSeam: Uint32Array;
  /** 2k values at the edges' ends, N/m. */ readonly values: Float64Array;
  /** Largest, one per seam that has an edge; in the mesh's order. */ readonly bySeam: readonly SeamPoint[];
  /** Largest of all; null for a bag without seams. */ readonly largest: SeamPoint | null;
}

/** Traction of one triangle on one of its edges, N/m of rest length: F S N, its part along nu (in the triangle's plane now, square to the edge, outward). */
function across(mesh: BagMesh, { rest, F, stress }: Membrane, x: Float64Array, t: number, k: number): { readonly force: number; readonly length: number } {
  const q = 6 * t;
  const [i, j] = [(k + 1) % 3, (k + 2) % 3];
  const [ex, ey] = [rest[q + 2 * j] - rest[q + 2 * i], rest[q + 2 * j + 1] - rest[q + 2 * i + 1]];
  const length = libm.hypot(ex, ey);
  // Corners run counterclockwise, so the outward normal lies to the right of the edge.
  const [nx, ny] = [ey / length, -ex / length];
  const [a, b, c] = stress.subarray(3 * t, 3 * t + 3);
  const [u, v] = [a * nx + c * ny, c * nx + b * ny];
  const [p, r] = [mesh.triVerts[3 * t + i], mesh.triVerts[3 * t + j]];
  const d = [0, 1, 2].map((m) => x[3 * r + m] - x[3 * p + m]);
  const n = triangleNormal(x, mesh.triVerts[3 * t], mesh.triVerts[3 * t + 1], mesh.triVerts[3 * t + 2]);
  const nu = [d[1] * n[2] - d[2] * n[1], d[2] * n[0] - d[0] * n[2], d[0] * n[1] - d[1] * n[0]];
  const size = libm.norm(nu) || 1;
  let force = 0;
  for (let m = 0; m < 3; m++) force += ((F[q + m] * u + F[q + 3 + m] * v) * nu[m]) / size;
  return { force, length };
}

/**
 * Force carried across every sewn seam, from the stress resultants of the triangles beside it: first Piola-Kirchhoff traction t = F S N on the seam's edge
 * (N its normal in the cloth at rest), its part square to the seam in the cloth's plane now. Strain is arc-corrected where the solver's energy is.
 * Each side: mean over the seam's edges that meet at a mesh point, weighted by length (triangles of constant strain jump from one to the next).
 * Of the sides (panels) the larger one is given: round a corner the two differ by what the table or the contents press there, and the seam must carry
 * either. A panel sewn to itself is one side. Shear along the seam and the bending beside it are not in the figure.
 * Parameters: x: 3n settled positions, m. Mutates nothing. Source: equilibrium of a membrane (textbook; from memory).
 */
export function seamForces(mesh: BagMesh, membrane: Membrane, x: Float64Array): SeamForces {
  const { edgeSeam, edgeTris, edgeLocal, edgeVerts, vertexCount } = mesh;
  const sides = new Map<string, { readonly seam: number; readonly panel: number; readonly verts: Map<number, [length: number, force: number]> }>();
  const taken = new Set<number>();
  const drawn = new Map<number, readonly [seam: number, a: number, b: number]>();
  for (let e = 0; e < edgeSeam.length; e++) {
    const seam = edgeSeam[e];
    if (seam < 0) continue;
    const [a, b] = [edgeVerts[2 * e], edgeVerts[2 * e + 1]];
    const pair = (Math.min(a, b) * vertexCount + Math.max(a, b)) * mesh.seamNames.length + seam;
    if (!drawn.has(pair)) drawn.set(pair, [seam, a, b]);
    for (const s of [0, 1]) {
      const [t, k] = [edgeTris[2 * e + s], edgeLocal[2 * e + s]];
      // Three panels in one seam are three pairs of sides: each side counts once.
      if (t < 0 || taken.has(3 * t + k)) continue;
      taken.add(3 * t + k);
      const panel = mesh.triPanel[t];
      const name = `${seam},${panel}`;
      const side = sides.get(name) ?? { seam, panel, verts: new Map() };
      sides.set(name, side);
      const { force, length } = across(mesh, membrane, x, t, k);
      for (const v of [a, b]) {
        const sum = side.verts.get(v) ?? [0, 0];
        side.verts.set(v, [sum[0] + length, sum[1] + length * force]);
      }
    }
  }
  /** Per seam and vertex: the side that carries more there. */
  const at = new Map<number, SeamPoint>();
  for (const { seam, panel, verts } of sides.values())
    for (const [vertex, [length, sum]] of verts) {
      const value = sum / length;
      const key = seam * vertexCount + vertex;
      const known = at.get(key);
      if (!known || value > known.value) at.set(key, { seam, panel, vertex, value });
    }
  const edges = [...drawn.values()];
  const best = new Map<number, SeamPoint>();
  for (const point of at.values()) if (point.value > (best.get(point.seam)?.value ?? Number.NEGATIVE_INFINITY)) best.set(point.seam, point);
  const bySeam = [...best.values()].sort((p, r) => p.seam - r.seam);
  return {
    edgeVerts: Uint32Array.from(edges.flatMap(([, a, b]) => [a, b])),
    edgeSeam: Uint32Array.from(edges, ([seam]) => seam),
    values: Float64Array.from(edges.flatMap(([seam, a, b]) => [at.get(seam * vertexCount + a)!.value, at.get(seam * vertexCount + b)!.value])),
    bySeam,
    largest: bySeam.length === 0 ? null : bySeam.reduce((p, r) => (r.value > p.value ? r : p)),
  };
}
