import type { Rods } from '../types.ts';
import { put } from './block.ts';

/**
 * Isotropic rods that twist freely, along chains of mesh edges: cords, wires, boning. Per joint between two segments with unit directions t1, t2:
 *   q = |t2 - t1|^2 = 4 sin^2(phi/2),  W = EI/(2 l) (r - r0)^2,  r = sqrt(q + s^2),
 * l the half segments on both sides, r0 that of the rest turn, s a hundredth of it: at phi = 0 a bent rod's least energy has a corner there, and bends either way. On the chords
 * of a circle sqrt(q)/l is 1/R exactly. Per segment, with arcs: the length along the arc that its joints make of it, as the sheet's edges count theirs (arc.ts),
 *   e = |x_b - x_a| - L + sum over its joints w (q - q_flat),  w = L^3/(48 l^2),  W = EA/(2 L) e^2.
 * A wall instead of a segment has a fixed direction. Source: Bergou, Wardetzky, Robinson, Audoly, Grinspun (2008), without twist; measure of the turn and arcs derived here.
 */
export interface RodState {
  readonly rods: Rods;
  readonly segments: number;
  readonly joints: number;
  /** 3s unit vectors, s lengths, s tensions, N, at the last evaluation. */ readonly dir: Float64Array;
  readonly length: Float64Array;
  readonly tension: Float64Array;
  /** s tensions after the last step to first order, and those that the linearisation uses. */ readonly predicted: Float64Array;
  readonly geometric: Float64Array;
  /** j: q, and the derivative of all energy by it. */ readonly q: Float64Array;
  readonly slope: Float64Array;
  /** 6j: gradient of q by the two segments' vectors, 1/m. */ readonly grad: Float64Array;
  /** 4s vertices: the one before, the segment's own two, the one after; -1 none. 12s: gradient of e by them. */ readonly around: Int32Array;
  readonly stretched: Float64Array;
  /** 10s and 6j blocks of the shell's matrix (set by it): pairs of `around`, and of a joint's three vertices. */ readonly segmentBlocks: Int32Array;
  readonly jointBlocks: Int32Array;
  /** Set by the last evaluation and linearisation. */ arcs: boolean;
  positive: boolean;
}

/** Smoothing of a formed rod's turn, as a share of its turn at rest. */
const SMOOTH = 0.01;
/** Row and column of the blocks of four vertices; the first three of four in the same order are a joint's. */
const PAIRS = [0, 0, 1, 1, 2, 2, 1, 0, 2, 0, 2, 1, 3, 3, 3, 0, 3, 1, 3, 2];

export function createRods(rods: Rods): RodState {
  const segments = rods.rest.length,
    joints = rods.turn.length,
    f = (k: number) => new Float64Array(k);
  const around = new Int32Array(4 * segments).fill(-1);
  for (let s = 0; s < segments; s++) {
    around[4 * s + 1] = rods.verts[2 * s]!;
    around[4 * s + 2] = rods.verts[2 * s + 1]!;
    const [a, b] = [rods.jointsOf[2 * s]!, rods.jointsOf[2 * s + 1]!];
    if (a >= 0 && rods.segmentsOf[2 * a]! >= 0) around[4 * s] = rods.verts[2 * rods.segmentsOf[2 * a]!]!;
    if (b >= 0 && rods.segmentsOf[2 * b + 1]! >= 0) around[4 * s + 3] = rods.verts[2 * rods.segmentsOf[2 * b + 1]! + 1]!;
    if (around[4 * s]! >= 0 && around[4 * s] === around[4 * s + 3]) throw new Error('a ring of a rod has fewer than four segments');
  }
  return {
    rods,
    segments,
    joints,
    dir: f(3 * segments),
    length: f(segments),
    tension: f(segments),
    predicted: f(segments),
    geometric: f(segments),
    q: f(joints),
    slope: f(joints),
    grad: f(6 * joints),
    around,
    stretched: f(12 * segments),
    segmentBlocks: new Int32Array(10 * segments),
    jointBlocks: new Int32Array(6 * joints),
    arcs: false,
    positive: false,
  };
}

/** Vertex i (0, 1, 2) of joint j, -1 behind a wall. */
const vertexOf = ({ segmentsOf, verts }: Rods, j: number, i: number): number => {
  const [one, two] = [segmentsOf[2 * j]!, segmentsOf[2 * j + 1]!];
  if (i === 1) return one >= 0 ? verts[2 * one + 1]! : verts[2 * two]!;
  const s = i === 0 ? one : two;
  return s < 0 ? -1 : verts[2 * s + (i === 0 ? 0 : 1)]!;
};

/** Every pair of vertices that a rod couples. */
export function eachRodPair(r: RodState, visit: (a: number, b: number) => void): void {
  eachBlock(r, (_, __, a, b) => visit(a, b));
}

/** Tells where the blocks of the pairs are. Mutates r's blocks. */
export function placeRods(r: RodState, block: (a: number, b: number) => number): void {
  eachBlock(r, (into, at, a, b) => {
    into[at] = block(a, b);
  });
}

function eachBlock(r: RodState, visit: (into: Int32Array, at: number, a: number, b: number) => void): void {
  const each = (into: Int32Array, count: number, item: number, vertex: (i: number) => number): void => {
    for (let p = 0; p < count; p++) {
      const [a, b] = [vertex(PAIRS[2 * p]!), vertex(PAIRS[2 * p + 1]!)];
      if (a >= 0 && b >= 0) visit(into, count * item + p, a, b);
    }
  };
  for (let s = 0; s < r.segments; s++) each(r.segmentBlocks, 10, s, (i) => r.around[4 * s + i]!);
  for (let j = 0; j < r.joints; j++) each(r.jointBlocks, 6, j, (i) => vertexOf(r.rods, j, i));
}

const [T1, T2] = [new Float64Array(3), new Float64Array(3)];

/** Directions of joint j's sides into T1 and T2; their cosine. */
function sides(r: RodState, j: number): number {
  const { segmentsOf, wall } = r.rods;
  for (let k = 0; k < 3; k++) {
    const [one, two] = [segmentsOf[2 * j]!, segmentsOf[2 * j + 1]!];
    T1[k] = one < 0 ? wall[3 * j + k]! : r.dir[3 * one + k]!;
    T2[k] = two < 0 ? wall[3 * j + k]! : r.dir[3 * two + k]!;
  }
  return T1[0]! * T2[0]! + T1[1]! * T2[1]! + T1[2]! * T2[2]!;
}

/** 1/length of side i of joint j; a wall turns by nothing. */
const inverse = (r: RodState, j: number, i: number): number => {
  const s = r.rods.segmentsOf[2 * j + i]!;
  return s < 0 ? 0 : 1 / r.length[s]!;
};

/** Energies at x, J: of bending, of stretch. Adds the gradient to g (3n) and keeps what the linearisation needs. */
export function evaluateRods(r: RodState, x: Float64Array, g: Float64Array | null, arcs: boolean): { bend: number; stretch: number } {
  const { verts, rest, stiffness, jointsOf, bending, turn, flat, arc } = r.rods;
  r.arcs = arcs;
  for (let s = 0; s < r.segments; s++) {
    const a = 3 * verts[2 * s]!,
      b = 3 * verts[2 * s + 1]!,
      u = x[b]! - x[a]!,
      v = x[b + 1]! - x[a + 1]!,
      w = x[b + 2]! - x[a + 2]!,
      l = Math.sqrt(u * u + v * v + w * w);
    r.length[s] = l;
    r.dir[3 * s] = u / l;
    r.dir[3 * s + 1] = v / l;
    r.dir[3 * s + 2] = w / l;
  }
  let bend = 0,
    stretch = 0;
  for (let j = 0; j < r.joints; j++) {
    const c = sides(r, j),
      [p, n] = [inverse(r, j, 0), inverse(r, j, 1)];
    let q = 0;
    for (let k = 0; k < 3; k++) {
      q += (T2[k]! - T1[k]!) * (T2[k]! - T1[k]!);
      // q = 2 (1 - c), and dc = (t2 - c t1)/l1 . de1 + (t1 - c t2)/l2 . de2.
      r.grad[6 * j + k] = -2 * p * (T2[k]! - c * T1[k]!);
      r.grad[6 * j + 3 + k] = -2 * n * (T1[k]! - c * T2[k]!);
    }
    r.q[j] = q;
    const { energy, first } = bent(bending[j]!, turn[j]!, q);
    bend += energy;
    r.slope[j] = first;
  }
  for (let s = 0; s < r.segments; s++) {
    let e = r.length[s]! - rest[s]!;
    if (arcs)
      for (let i = 2 * s; i < 2 * s + 2; i++) {
        const j = jointsOf[i]!;
        if (j >= 0) e += arc[i]! * (r.q[j]! - flat[j]!);
      }
    const T = (stiffness[s]! / rest[s]!) * e;
    r.tension[s] = T;
    stretch += 0.5 * T * e;
    if (arcs) for (let i = 2 * s; i < 2 * s + 2; i++) if (jointsOf[i]! >= 0) r.slope[jointsOf[i]!] = r.slope[jointsOf[i]!]! + T * arc[i]!;
  }
  if (g) addForces(r, g);
  return { bend, stretch };
}

/** A/2 (sqrt(q + s^2) - sqrt(r0^2 + s^2))^2 with its first and second derivative by q. */
function bent(A: number, r0: number, q: number): { energy: number; first: number; second: number } {
  if (r0 === 0) return { energy: 0.5 * A * q, first: 0.5 * A, second: 0 };
  const s = SMOOTH * r0,
    R = Math.sqrt(q + s * s),
    R0 = Math.sqrt(r0 * r0 + s * s);
  return { energy: 0.5 * A * (R - R0) * (R - R0), first: 0.5 * A * (1 - R0 / R), second: (A * R0) / (4 * R * R * R) };
}

function addForces(r: RodState, g: Float64Array): void {
  const { verts, segmentsOf } = r.rods;
  const pull = (s: number, k: number, f: number): void => {
    const a = 3 * verts[2 * s]! + k,
      b = 3 * verts[2 * s + 1]! + k;
    g[a] = g[a]! - f;
    g[b] = g[b]! + f;
  };
  for (let s = 0; s < r.segments; s++) for (let k = 0; k < 3; k++) pull(s, k, r.tension[s]! * r.dir[3 * s + k]!);
  for (let i = 0; i < 2 * r.joints; i++) if (segmentsOf[i]! >= 0) for (let k = 0; k < 3; k++) pull(segmentsOf[i]!, k, r.slope[i >> 1]! * r.grad[3 * i + k]!);
}

/** Gradient of every segment's e by the vertices around it, into r.stretched. */
function stretchGradients(r: RodState): void {
  const { jointsOf, segmentsOf, arc } = r.rods,
    B = r.stretched.fill(0);
  const add = (at: number, f: number): void => {
    B[at] = B[at]! + f;
  };
  for (let s = 0; s < r.segments; s++)
    for (let k = 0; k < 3; k++) {
      const q = 12 * s + k,
        d = r.dir[3 * s + k]!;
      add(q + 3, -d);
      add(q + 6, d);
      if (!r.arcs) continue;
      for (let side = 0; side < 2; side++) {
        const j = jointsOf[2 * s + side]!;
        if (j < 0) continue;
        // A joint at the beginning has its first vector from vertex 0 to 1 and its second from 1 to 2; one at the end from 1 to 2 and from 2 to 3.
        for (let i = 0; i < 2; i++) {
          if (segmentsOf[2 * j + i]! < 0) continue;
          const f = arc[2 * s + side]! * r.grad[6 * j + 3 * i + k]!;
          add(q + 3 * (side + i), -f);
          add(q + 3 * (side + i + 1), f);
        }
      }
    }
}

/** Tensions after the step dx, to first order. Call with r evaluated and linearised at the same state. */
export function predictRods(r: RodState, dx: Float64Array): void {
  stretchGradients(r);
  for (let s = 0; s < r.segments; s++) {
    let e = 0;
    for (let i = 0; i < 4; i++) {
      const v = r.around[4 * s + i]!;
      if (v >= 0) for (let k = 0; k < 3; k++) e += r.stretched[12 * s + 3 * i + k]! * dx[3 * v + k]!;
    }
    r.predicted[s] = r.tension[s]! + (r.rods.stiffness[s]! / r.rods.rest[s]!) * e;
  }
}

/** Fixes which tensions the next addRods goes by: predicted or actual ones; `positive` drops compressions, and what bending has of negative curvature. */
export function lineariseRods(r: RodState, predicted: boolean, positive: boolean): void {
  r.positive = positive;
  r.geometric.set(predicted ? r.predicted : r.tension);
  if (positive) for (let s = 0; s < r.segments; s++) r.geometric[s] = Math.max(0, r.geometric[s]!);
}

const [H11, H12, H22] = [new Float64Array(9), new Float64Array(9), new Float64Array(9)];

/** Adds the Hessian to the shell's matrix: action and preconditioner both start from it. */
export function addRods(r: RodState, values: Float64Array): void {
  const { stiffness, rest, arc, bending, turn } = r.rods;
  stretchGradients(r);
  for (let s = 0; s < r.segments; s++) {
    const k = stiffness[s]! / rest[s]!,
      n = r.geometric[s]! / r.length[s]!;
    for (let p = 0; p < 10; p++) {
      const [i, j] = [PAIRS[2 * p]!, PAIRS[2 * p + 1]!];
      if (r.around[4 * s + i]! < 0 || r.around[4 * s + j]! < 0) continue;
      // Tension turns the segment's own two vertices about each other: n (1 - d d^T).
      const own = (i === 1 || i === 2) && (j === 1 || j === 2) ? (i === j ? n : -n) : 0;
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++)
          H11[3 * a + b] =
            k * r.stretched[12 * s + 3 * i + a]! * r.stretched[12 * s + 3 * j + b]! + own * ((a === b ? 1 : 0) - r.dir[3 * s + a]! * r.dir[3 * s + b]!);
      putIn(values, r.segmentBlocks[10 * s + p]!, H11);
    }
  }
  for (let j = 0; j < r.joints; j++) {
    const law = bent(bending[j]!, turn[j]!, r.q[j]!);
    let first = law.first;
    if (r.arcs)
      for (let i = 2 * j; i < 2 * j + 2; i++) {
        const s = r.rods.segmentsOf[i]!;
        // The joint ends its first segment and begins its second.
        if (s >= 0) first += r.geometric[s]! * arc[2 * s + (i === 2 * j ? 1 : 0)]!;
      }
    (r.positive ? projected : exact)(r, j, first, law.second);
    for (let p = 0; p < 6; p++) {
      const [i, k] = [PAIRS[2 * p]!, PAIRS[2 * p + 1]!];
      if (vertexOf(r.rods, j, i) < 0 || vertexOf(r.rods, j, k) < 0) continue;
      // e1 = x1 - x0, e2 = x2 - x1.
      const [a, b, c, d] = [ONE[i]!, ONE[k]!, TWO[i]!, TWO[k]!];
      for (let row = 0; row < 3; row++)
        for (let col = 0; col < 3; col++) {
          const m = 3 * row + col,
            t = 3 * col + row;
          SUM[m] = a * b * H11[m]! + a * d * H12[m]! + c * b * H12[t]! + c * d * H22[m]!;
        }
      putIn(values, r.jointBlocks[6 * j + p]!, SUM);
    }
  }
}

const ONE = [-1, 1, 0];
const TWO = [0, -1, 1];
const SUM = new Float64Array(9);
const putIn = (values: Float64Array, block: number, K: Float64Array): void => put(values, block, K[0]!, K[1]!, K[2]!, K[3]!, K[4]!, K[5]!, K[6]!, K[7]!, K[8]!);

/** d2W of joint j by its two vectors: first . d2q + second . dq dq^T, with d2q = -2 d2c. */
function exact(r: RodState, j: number, first: number, second: number): void {
  const c = sides(r, j),
    [u, v] = [inverse(r, j, 0), inverse(r, j, 1)],
    G = 6 * j;
  for (let a = 0; a < 3; a++)
    for (let b = 0; b < 3; b++) {
      const m = 3 * a + b,
        one = a === b ? 1 : 0,
        [ta, tb, sa, sb] = [T1[a]!, T1[b]!, T2[a]!, T2[b]!],
        [pa, pb, na, nb] = [sa - c * ta, sb - c * tb, ta - c * sa, tb - c * sb];
      H11[m] = 2 * first * u * u * (ta * pb + pa * tb + c * (one - ta * tb)) + second * r.grad[G + a]! * r.grad[G + b]!;
      H22[m] = 2 * first * v * v * (sa * nb + na * sb + c * (one - sa * sb)) + second * r.grad[G + 3 + a]! * r.grad[G + 3 + b]!;
      H12[m] = -2 * first * u * v * (one - sa * sb - ta * nb) + second * r.grad[G + a]! * r.grad[G + 3 + b]!;
    }
}

/** The same without negative curvature: stiffness against more turn in the plane of the joint, and against turning out of it. */
function projected(r: RodState, j: number, first: number, second: number): void {
  const c = sides(r, j),
    [u, v] = [inverse(r, j, 0), inverse(r, j, 1)],
    inside = Math.max(0, 2 * first + 4 * second * r.q[j]!),
    across = Math.max(0, 2 * first);
  // Unit vectors square to t1 and t2 in their plane, and square to the plane; where the joint is straight, any.
  const n1 = [0, 1, 2].map((k) => T2[k]! - c * T1[k]!),
    s = Math.sqrt(n1[0]! * n1[0]! + n1[1]! * n1[1]! + n1[2]! * n1[2]!);
  const straight = !(s > 1e-9),
    axis = Math.abs(T1[0]!) < 0.6 ? 0 : 1,
    m1 = straight ? [0, 1, 2].map((k) => (k === axis ? 1 : 0) - T1[axis]! * T1[k]!) : n1,
    size = straight ? Math.sqrt(1 - T1[axis]! * T1[axis]!) : s,
    a = m1.map((k) => k / size),
    b = [T1[1]! * a[2]! - T1[2]! * a[1]!, T1[2]! * a[0]! - T1[0]! * a[2]!, T1[0]! * a[1]! - T1[1]! * a[0]!],
    a2 = [T2[1]! * b[2]! - T2[2]! * b[1]!, T2[2]! * b[0]! - T2[0]! * b[2]!, T2[0]! * b[1]! - T2[1]! * b[0]!],
    share = Math.sqrt(Math.max(0, (1 + c) / 2));
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) {
      const m = 3 * i + k;
      // phi falls with e1 toward a; a2 = b x t2 reversed points from t2 back to t1.
      H11[m] = inside * share * share * u * u * a[i]! * a[k]! + across * u * u * b[i]! * b[k]!;
      H22[m] = inside * share * share * v * v * a2[i]! * a2[k]! + across * v * v * b[i]! * b[k]!;
      H12[m] = inside * share * share * u * v * a[i]! * a2[k]! - across * u * v * b[i]! * b[k]!;
    }
}
