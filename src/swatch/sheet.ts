import type { Bag, Four, OutlineEdge, Seam } from '../bag/types.ts';
import { type BagMesh, EDGE_FREE, type MeshOptions } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Model, Support } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';

/** A cloth on the test bench: SI, D and C in its own warp frame [11, 22, 12, 66]. */
export interface Sheet {
  /** kg/m2 */ readonly arealMass: number;
  /** N*m */ readonly bending: Four;
  /** N/m */ readonly inPlane: Four;
  /** m; only a creased seam asks for it. */ readonly thickness?: number;
}

export type MeshKind = NonNullable<MeshOptions['kind']>;

/** A sheet that is the same in every direction: D = D12/nu. Parameters: kg/m2, plate rigidity D N*m, in-plane stiffness C N/m, Poisson's ratio. */
export function isotropic(arealMass: number, D: number, C: number, nu = 0): Sheet {
  const four = (q: number): Four => [q, q, nu * q, ((1 - nu) * q) / 2];
  return { arealMass, bending: four(D), inPlane: four(C) };
}

/** Edges held in slope: their vertices, and the unit direction away from the sheet in which each is held. */
export interface Clamp {
  readonly verts: Uint32Array;
  /** Direction at an edge from its two ends' numbers. */ readonly direction: (a: number, b: number) => readonly [number, number, number];
  /** false: the slope is given, the place is free (an end moment). Default true. */ readonly place?: boolean;
}

/**
 * Model of one cloth of one material: mesh, clamps, supports. Masses: a third of each triangle to each corner. Seams are taken as grown together
 * (stiffness Infinity): a tube is one piece. Parameters: mesh; sheet; angle of the warp from the mesh's +x, rad; what holds it.
 */
export function sheetModel(mesh: BagMesh, sheet: Sheet, warp: number, clamps: readonly Clamp[], supports: readonly Support[] = []): Model {
  const m = mesh.triPanel.length;
  const triRest = new Float64Array(6 * m);
  const mass = new Float64Array(mesh.vertexCount);
  const [c, s] = [libm.cos(warp), libm.sin(warp)];
  for (let t = 0; t < m; t++) {
    const f = mesh.triFlat.subarray(6 * t, 6 * t + 6);
    for (let k = 0; k < 3; k++) {
      triRest[6 * t + 2 * k] = c * f[2 * k] + s * f[2 * k + 1];
      triRest[6 * t + 2 * k + 1] = -s * f[2 * k] + c * f[2 * k + 1];
    }
    const area = 0.5 * ((f[2] - f[0]) * (f[5] - f[1]) - (f[4] - f[0]) * (f[3] - f[1]));
    for (let k = 0; k < 3; k++) mass[mesh.triVerts[3 * t + k]] += (sheet.arealMass * area) / 3;
  }
  const repeat = (four: Four) => Float64Array.from({ length: 4 * m }, (_, i) => four[i % 4]);
  return {
    vertexCount: mesh.vertexCount,
    triVerts: mesh.triVerts,
    triRest,
    triStretch: repeat(sheet.inPlane),
    triBend: repeat(sheet.bending),
    mass,
    gravity: [0, 0, -GRAVITY],
    ...hinges(mesh),
    ...held(mesh, clamps),
    supports,
  };
}

function hinges(mesh: BagMesh) {
  const verts: number[] = [];
  const tris: number[] = [];
  const local: number[] = [];
  for (let e = 0; e < mesh.edgeKind.length; e++) {
    if (mesh.edgeKind[e] === EDGE_FREE) continue;
    const [t1, t2, k1, k2] = [mesh.edgeTris[2 * e], mesh.edgeTris[2 * e + 1], mesh.edgeLocal[2 * e], mesh.edgeLocal[2 * e + 1]];
    verts.push(mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1], mesh.triVerts[3 * t1 + k1], mesh.triVerts[3 * t2 + k2]);
    tris.push(t1, t2);
    local.push(k1, k2);
  }
  return {
    hingeVerts: Uint32Array.from(verts),
    hingeTris: Uint32Array.from(tris),
    hingeLocal: Uint8Array.from(local),
    hingeStiffness: new Float64Array(tris.length / 2).fill(Number.POSITIVE_INFINITY),
    hingeRest: new Float64Array(tris.length / 2),
  };
}

function held(mesh: BagMesh, clamps: readonly Clamp[]) {
  const heldVerts = new Uint8Array(mesh.vertexCount);
  const verts: number[] = [];
  const tris: number[] = [];
  const local: number[] = [];
  const dir: number[] = [];
  for (const clamp of clamps) {
    const inside = new Set(clamp.verts);
    if (clamp.place ?? true) for (const v of inside) heldVerts[v] = 1;
    for (let e = 0; e < mesh.edgeKind.length; e++) {
      const [a, b, t, k] = [mesh.edgeVerts[2 * e], mesh.edgeVerts[2 * e + 1], mesh.edgeTris[2 * e], mesh.edgeLocal[2 * e]];
      if (mesh.edgeKind[e] !== EDGE_FREE || !inside.has(a) || !inside.has(b)) continue;
      verts.push(a, b, mesh.triVerts[3 * t + k]);
      tris.push(t);
      local.push(k);
      dir.push(...clamp.direction(a, b));
    }
  }
  return {
    held: heldVerts,
    clampVerts: Uint32Array.from(verts),
    clampTris: Uint32Array.from(tris),
    clampLocal: Uint8Array.from(local),
    clampDir: Float64Array.from(dir),
  };
}

/** A bag file's record of one bare panel: what the drafting and meshing stages need to cut a swatch. */
export function swatchBag(outline: readonly OutlineEdge[], holes: readonly (readonly OutlineEdge[])[] = [], seams: readonly Seam[] = []): Bag {
  return {
    version: 1,
    name: 'swatch',
    note: '',
    wanted: 'soft',
    parameters: [],
    panels: [{ name: 'swatch', role: 'flat', outline, holes, chains: {}, grain: 0, marks: [], clips: [], regions: [], lines: [], openings: [], pose: null }],
    seams,
    straps: [],
    topstitch: [],
    materials: [],
    stacks: [],
    options: [],
    stances: [],
  };
}
