/**
 * How an edge's length is counted. 'arc-corrected': along the arc that its bending makes of it, the cure for membrane locking (elastic/arc.ts). 'plain': along its
 * chord, as constant-strain triangles have it; for falls and crumpled states, whose folds are tighter than an arc can follow.
 */
export type Formulation = 'arc-corrected' | 'plain';

/**
 * Arrays only: the solver does not know the word "bag". n vertices, m triangles, E hinge edges. SI units, f64.
 */
export interface Model {
  readonly vertexCount: number;
  /** 3m vertex indices. */ readonly triVerts: Uint32Array;
  /** 6m rest coordinates [x0 y0 x1 y1 x2 y2] in the MATERIAL frame of the triangle (x = warp, y = weft), metres. */ readonly triRest: Float64Array;
  /** 4m in-plane stiffness C11 C22 C12 C66, N/m. */ readonly triStretch: Float64Array;
  /** 4m bending stiffness D11 D22 D12 D66, N*m. */ readonly triBend: Float64Array;
  /** n vertex masses, kg. */ readonly mass: Float64Array;
  /** 3, m/s2. */ readonly gravity: readonly [number, number, number];
  /** 4H vertices of each hinge [e0 e1 o1 o2]: the edge in the direction triangle 1 runs it, then the corners opposite it. */
  readonly hingeVerts: Uint32Array;
  /** 2H triangle numbers. */ readonly hingeTris: Uint32Array;
  /** 2H local edge numbers (edge k is opposite corner k). */ readonly hingeLocal: Uint8Array;
  /** H: stiffness of the seam spring, N*m/rad per metre; Infinity = one continuous sheet (no seam). */ readonly hingeStiffness: Float64Array;
  /** H: rest angle of the seam spring, rad. */ readonly hingeRest: Float64Array;
  /** Edges held in slope: vertices [e0 e1 o] of the triangle, its number and local edge, and the fixed direction (3 per clamp, unit, pointing from the edge away from the sheet). */
  readonly clampVerts: Uint32Array;
  readonly clampTris: Uint32Array;
  readonly clampLocal: Uint8Array;
  readonly clampDir: Float64Array;
  /** n: 1 = held in place. */ readonly held: Uint8Array;
  readonly supports: readonly Support[];
  /** Layers behind the sheet that pull only once it is stretched; absent where there are none. */ readonly tensionOnly?: TensionOnly;
  /** Straps and the like; absent where there are none. */ readonly cables?: Cables;
  /** Cords, wires and the like along the sheet's edges; absent where there are none. */ readonly rods?: Rods;
  /** 3n constant forces besides weight (contents), N; absent where there are none. */ readonly load?: Float64Array;
  /** n: force that presses each vertex on what it touches, N, where its own weight says too little (a strap over a bar). */
  readonly pressed?: Float64Array;
  /** Rigid things that move with the sheet; their points are the last ones. Absent where there are none. */ readonly bodies?: readonly RigidBody[];
}

/** Layers cut larger than the sheet, one entry for each triangle and direction, by rising triangle; see elastic/tension-only.ts. */
export interface TensionOnly {
  readonly tri: Uint32Array;
  /** Direction in the triangle's material frame, rad from x. */ readonly angle: Float64Array;
  /** N/m per width of the sheet. */ readonly stiffness: Float64Array;
  /** Strain of the sheet, length over rest length less one, at which the layer is drawn straight. */ readonly ease: Float64Array;
}

/** A rigid thing with two points among the unknowns: its centre of mass (vertex `at`) and, in vertex `at` + 1, its rotation vector from `axes` times `reach`. */
export interface RigidBody {
  readonly name: string;
  /** Vertex of the centre; mass[at] is its mass, mass[at + 1] its mean moment of inertia over reach^2. */ readonly at: number;
  /** About its own origin and axes; convex. */ readonly shape: SupportShape;
  /** World directions of its own x, y, z at rotation nothing. */
  readonly axes: readonly [number, number, number, number, number, number, number, number, number];
  /** Largest distance of its surface from its centre, m. */ readonly reach: number;
  /** 4k: own coordinates of points whose balls (4th number: radius, m) make up its surface where it meets supports and other bodies. */
  readonly points: Float64Array;
  /** Coulomb coefficient against cloth and other bodies. */ readonly friction: number;
  /** Distance from its surface at which the sheet feels it, m. */ readonly offset: number;
}

/** Straps as cable elements: p straight pieces, one or more to a cable; see elastic/cables.ts. */
export interface Cables {
  /** p + 1: where each piece's vertices begin in `verts`. */ readonly start: Uint32Array;
  readonly verts: Uint32Array;
  /** Per entry of `verts`: its share in the piece's end, or minus its share in its beginning; each end's shares add up to 1. */
  readonly weights: Float64Array;
  /** p: cable of each piece, rising. A cable of several pieces runs freely through the points where they meet. */ readonly cableOf: Uint32Array;
  /** c rest lengths, m. */ readonly rest: Float64Array;
  /** c stiffness EA, N (force per strain). */ readonly stiffness: Float64Array;
  /** 2 per piece between vertices of its own that the sheet meets and must not pass. */ readonly contactEdges: Uint32Array;
  /** The last cables, where some are ties; absent where there are none. */ readonly ties?: Ties;
}

/** Cables that only pull, and only where longer than their rest length: what holds a sheet shut. They are drawn up one group after another (rest/closing.ts). */
export interface Ties {
  /** Number of the first; all cables after it are ties. */ readonly first: number;
  /** Per tie its group, rising from 0 without a gap. */ readonly group: Uint32Array;
  /** Per tie its place in the group's order, 0 to 1: the first are drawn up first. */ readonly along: Float64Array;
  /** Those that are cords; absent where there are none. */ readonly cords?: readonly Cord[];
}

/** A tie that runs through a channel and is pulled at both of its ends until it has its length; see elastic/cords.ts. */
export interface Cord {
  /** Number of its cable. */ readonly cable: number;
  /** Coulomb coefficient against its channel; 0 slides freely. */ readonly friction: number;
  /** Its channel runs round to where it begins: both ends come out there. */ readonly loop: boolean;
}

/** Rods as chains of s segments with j joints that bend; where two segments meet without a joint they hinge freely. See elastic/rods.ts. */
export interface Rods {
  /** 2s vertices. */ readonly verts: Uint32Array;
  /** s rest lengths along the chord, m. */ readonly rest: Float64Array;
  /** s stiffness EA, N. */ readonly stiffness: Float64Array;
  /** 2s joints at its beginning and its end, -1 none. */ readonly jointsOf: Int32Array;
  /** 2s: by how much the segment's arc is longer for a joint's q, m; see elastic/rods.ts. */ readonly arc: Float64Array;
  /** 2j segments before and behind; -1: a wall. */ readonly segmentsOf: Int32Array;
  /** j: EI over the length of rod that the joint bends for, N*m. */ readonly bending: Float64Array;
  /** j: 2 sin of half the turn at which it is at rest. */ readonly turn: Float64Array;
  /** j: q in the shape in which `rest` was measured. */ readonly flat: Float64Array;
  /** 3j direction of the wall, along the rod; zero where there is none. */ readonly wall: Float64Array;
}

/** A rigid thing that the sheet rests on. Signed distance: positive outside. */
export interface Support {
  readonly name: string;
  readonly sdf: SupportShape;
  /** Coulomb coefficient against the sheet. */ readonly friction: number;
  /** Distance at which the sheet feels it (half thickness plus a skin), m. */ readonly offset: number;
  /** n: 1 = this vertex feels it, such as one with a foot; absent: all do. */ readonly only?: Uint8Array;
}

/** A shape by its signed distance, m. */
export type SupportShape =
  | { readonly kind: 'plane'; readonly point: readonly [number, number, number]; readonly normal: readonly [number, number, number] }
  | { readonly kind: 'sphere'; readonly centre: readonly [number, number, number]; readonly radius: number }
  | { readonly kind: 'capsule'; readonly a: readonly [number, number, number]; readonly b: readonly [number, number, number]; readonly radius: number }
  | { readonly kind: 'box'; readonly centre: readonly [number, number, number]; readonly half: readonly [number, number, number]; readonly round: number }
  /** From the middle of one flat end to that of the other; `round` rounds both rims, inside the stated size. */
  | {
      readonly kind: 'cylinder';
      readonly a: readonly [number, number, number];
      readonly b: readonly [number, number, number];
      readonly radius: number;
      readonly round: number;
    }
  | { readonly kind: 'ellipsoid'; readonly centre: readonly [number, number, number]; readonly half: readonly [number, number, number] }
  /** Any shape, turned and moved: `axes` are the world directions of its own x, y, z (orthonormal, right-handed), `origin` where its own origin lies. */
  | {
      readonly kind: 'posed';
      readonly shape: SupportShape;
      readonly origin: readonly [number, number, number];
      readonly axes: readonly [number, number, number, number, number, number, number, number, number];
    };

/** How a run to rest ended. */
export type Status = 'settled' | 'notConverged' | 'diverged';

export interface Settled {
  readonly status: Status;
  /** 3n positions. */ readonly x: Float64Array;
  /** Largest unbalanced force at a free vertex over the mean vertex weight. */ readonly residual: number;
  readonly iterations: number;
  readonly factorisations: number;
  /** true when the exact Hessian at rest had no negative curvature. */ readonly stable: boolean;
  /** 3n forces of held vertices and supports on the sheet, N. */ readonly reaction: Float64Array;
  readonly contact: { readonly touching: number; readonly deepestPenetration: number };
  readonly energy: { readonly stretch: number; readonly bend: number; readonly weight: number };
}

/** Told to the caller while a settle runs; return false to cancel. */
export type Progress = (stage: string, fraction: number, x: Float64Array) => boolean | undefined;
