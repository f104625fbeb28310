import type { Point2 } from '../bag/types.ts';

/** How an edge of the welded mesh behaves. Numbers, because they live in a Uint8Array. */
export const EDGE_INNER = 0;
/** Kind of a mesh edge that one triangle has: a border. */
export const EDGE_FREE = 1;
/** Kind of a mesh edge that lies on a seam. */
export const EDGE_SEAM = 2;
/** An inner edge on a fold line: creased, so that it turns like a seam. */
export const EDGE_FOLD = 3;

/** Parts of a panel with boxed corners. Numbers, because they live in a Uint8Array. */
export const PART_WALL = 0;
export const PART_BASE = 1;
export const PART_RETURN = 2;

/** The E edges of the sewn bag. */
export interface EdgeTables {
  /** 2E vertex indices; for an edge with a first triangle, the direction in which that triangle runs it. */
  readonly edgeVerts: Uint32Array;
  /** 2E triangle indices; second is -1 for a free edge. For three panels in one seam there is one seam edge per pair. */
  readonly edgeTris: Int32Array;
  /** 2E: the local edge number k (0..2) inside each triangle; local edge k is opposite local corner k. -1 for none. */
  readonly edgeLocal: Int8Array;
  /** E: EDGE_INNER | EDGE_FREE | EDGE_SEAM | EDGE_FOLD */
  readonly edgeKind: Uint8Array;
  /** E: seam index, or -1. */
  readonly edgeSeam: Int32Array;
  /** E: number of the line of its panel (draft.lines) that an inner edge lies on, or -1. */
  readonly edgeLine: Int32Array;
}

/**
 * The sewn bag as triangles: panels meshed flat, seam vertices shared. Knows no fabric.
 * n vertices, m triangles, E edges.
 */
export interface BagMesh extends EdgeTables {
  readonly vertexCount: number;
  /** 3m welded vertex indices, counterclockwise seen from the panel's face. */
  readonly triVerts: Uint32Array;
  /** m panel indices (order of `panelNames`). */
  readonly triPanel: Uint16Array;
  /** m region indices within the panel; 0 = the panel's own stack, r = panel.regions[r - 1]. */
  readonly triRegion: Uint16Array;
  /** m: PART_BASE where boxed corners make the panel a part of the base, PART_RETURN where they turn it round the side, else PART_WALL. */
  readonly triPart: Uint8Array;
  /** Per panel and region (0 = the panel's own stack): drafted area over meshed area, so that cloth weighs what is cut. */
  readonly areaScale: readonly (readonly number[])[];
  /** 6m flat corner coordinates, metres, panel frame: [x0 y0 x1 y1 x2 y2] in the order of triVerts. Rest shape. */
  readonly triFlat: Float64Array;
  readonly panelNames: readonly string[];
  readonly seamNames: readonly string[];
  /** Per panel: its vertices (welded numbers, increasing) and their flat coordinates (2 per vertex). */
  readonly panelVerts: readonly { readonly verts: Uint32Array; readonly flat: Float64Array }[];
  /** Per panel, per outline edge (by name): vertices in order along it, with arc-length fractions 0..1. */
  readonly outlines: readonly Readonly<Record<string, { readonly verts: Uint32Array; readonly at: Float64Array }>>[];
  /** Marks located in the mesh: triangle and barycentric weights. */
  readonly marks: readonly { readonly name: string; readonly panel: number; readonly tri: number; readonly weights: readonly [number, number, number] }[];
  /** Rest shape of gathered cloth; left out when no seam is gathered. */ readonly gathers?: Gathers;
  readonly quality: { readonly minAngleDeg: number; readonly meanEdge: number; readonly minEdge: number; readonly maxEdge: number };
}

/** The gathered side of one panel: five numbers a seam edge, its two flat ends x0 y0 x1 y1, m, and sewn over cut length. */
export interface Gathered {
  readonly panel: number;
  readonly stretches: Float64Array;
}

/** Rest shape of cloth beside gathered seams (gathers.ts). */
export interface Gathers {
  /** Like triFlat, shortened along gathered seams: what the cloth is at rest, once sewn. */ readonly triSewn: Float64Array;
  /** Like triFlat, shortened all over as if nothing were gathered: the smooth shape from which waves start. */ readonly triPressed: Float64Array;
  /** Width of the strip over which it grows back to the cut length, m. */ readonly width: number;
  readonly panels: readonly Gathered[];
}

/** Rest corners of the triangles as sewn: triFlat unless seams are gathered. */
export const restCorners = (mesh: BagMesh): Float64Array => mesh.gathers?.triSewn ?? mesh.triFlat;

/** Rest corners for a smooth start shape: triFlat unless seams are gathered. */
export const pressedCorners = (mesh: BagMesh): Float64Array => mesh.gathers?.triPressed ?? mesh.triFlat;

/** Area of triangle t as cut (or of other corners f, 6 a triangle), m2. */
export function flatArea(mesh: BagMesh, t: number, f: Float64Array = mesh.triFlat): number {
  const q = 6 * t;
  return 0.5 * ((f[q + 2]! - f[q]!) * (f[q + 5]! - f[q + 1]!) - (f[q + 4]! - f[q]!) * (f[q + 3]! - f[q + 1]!));
}

/** How fine a bag is meshed, m, and what else must be an edge. */
export interface MeshOptions {
  /** Target edge length, m. */
  readonly edgeLength: number;
  /** 'graded': hex-seeded constrained Delaunay (default). 'structured', 'equilateral', 'irregular': rectangles only, for the swatch bench and tests. */
  readonly kind?: 'graded' | 'structured' | 'equilateral' | 'irregular';
  /** Seed of the irregular kind. */
  readonly seed?: number;
  /** Further lines that must be edges, by panel name (fold lines, stitching), metres, panel frame. Graded meshes only. */
  readonly lines?: Readonly<Record<string, readonly (readonly Point2[])[]>>;
}
