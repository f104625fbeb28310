import { libm } from '../../numerics/index.ts';
import type { Model } from '../types.ts';

/**
 * Everything about the sheet that depends on its rest shape only. m triangles, H hinges, C clamped edges, Y condensed unknowns.
 *
 * Bending is the mid-edge-normal form (Grinspun, Gingold, Reisman, Zorin 2006, "Computing discrete shape operators"): with
 * alpha_i the rotation of the mid-edge normal, from triangle t's plane to the middle of its edge i,
 *   kappa = sum_i alpha_i (l_i/A) n_i n_i^T,   W_bend = A/2 kappa : D : kappa = 1/2 alpha^T K alpha,   K = A G^T D G.
 * alpha_i is a theta + s y: across an inner edge theta/2 + xi for its first triangle and theta/2 - xi for its second (y = xi);
 * beside a sprung seam an unknown of its own; at a clamp the whole angle to the ghost; at a free edge it is condensed away here.
 */
export interface Sheet {
  readonly n: number;
  readonly m: number;
  readonly hinges: number;
  readonly clamps: number;
  /** Number of condensed unknowns y (one per inner edge, two per sprung seam edge). */ readonly condensed: number;
  readonly triVerts: Uint32Array;
  /** m rest areas, m2 */ readonly area: Float64Array;
  /** 6m gradients of the corner shape functions in the material frame, 1/m */ readonly shape: Float64Array;
  /** 4m C11 C22 C12 C66, N/m */ readonly stretch: Float64Array;
  /** 9m, row-major 3x3: kappa (xx, yy, 2xy) = G alpha, free edges condensed */ readonly G: Float64Array;
  /** 9m, row-major 3x3: K = A G^T D G, N*m */ readonly K: Float64Array;
  /** 3m: number of the angle (hinge, or H + clamp) that alpha reads; -1 none */ readonly angleOf: Int32Array;
  /** 3m: its coefficient a */ readonly angleCoef: Float64Array;
  /** 3m: condensed unknown that alpha reads; -1 none */ readonly condensedOf: Int32Array;
  /** 3m: its coefficient s */ readonly condensedCoef: Float64Array;
  /** H: seam spring over the edge's length, N*m/rad; 0 where the sheet is continuous or the seam swings freely */ readonly seamSpring: Float64Array;
  /** H: stiffness of the local angle for the preconditioner, N*m/rad */ readonly localStiffness: Float64Array;
  /** C: the same for clamps */ readonly clampStiffness: Float64Array;
  /** 9m row k: y_k = R_k . alpha, the angle of the edge's arc (edge length x normal curvature along it) */ readonly R: Float64Array;
  /** 9m column k (entries 9t + 3j + k): strain Voigt j caused by a unit length strain of edge k */ readonly M: Float64Array;
  /** 3m: the same edge seen from the other triangle (3 t2 + k2), -1 where none is shared */ readonly partner: Int32Array;
  /** 3m: own weight in the edge's averaged arc angle, A_other/(A_own + A_other) */ readonly ownWeight: Float64Array;
}

/** Rest geometry of one triangle: shape gradients, area, edge lengths, G. Returns area; asserts it is positive. */
function triangleRest(rest: Float64Array, t: number, shape: Float64Array, G: Float64Array, edges: Float64Array): number {
  const q = 6 * t;
  const x0 = rest[q]!,
    y0 = rest[q + 1]!,
    x1 = rest[q + 2]!,
    y1 = rest[q + 3]!,
    x2 = rest[q + 4]!,
    y2 = rest[q + 5]!;
  const twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  if (!(twice > 0)) throw new Error(`triangle ${t}: rest area ${twice / 2} m2 is not positive`);
  const A = twice / 2;
  // Edge k runs from corner k+1 to corner k+2; the gradient of shape function k is its inward normal times l_k/(2A).
  const ex = [x2 - x1, x0 - x2, x1 - x0],
    ey = [y2 - y1, y0 - y2, y1 - y0];
  for (let k = 0; k < 3; k++) {
    const l = libm.hypot(ex[k]!, ey[k]!);
    shape[q + 2 * k] = -ey[k]! / twice;
    shape[q + 2 * k + 1] = ex[k]! / twice;
    edges[3 * k] = l;
    edges[3 * k + 1] = ex[k]! / l;
    edges[3 * k + 2] = ey[k]! / l;
    const nx = ey[k]! / l,
      ny = -ex[k]! / l;
    const g = 9 * t + k;
    G[g] = (l / A) * nx * nx;
    G[g + 3] = (l / A) * ny * ny;
    G[g + 6] = (l / A) * 2 * nx * ny;
  }
  return A;
}

/** K = A G^T D G for D = [D11 D12 0; D12 D22 0; 0 0 D66], into K[9t..]. */
function bendingMatrix(G: Float64Array, D: Float64Array, t: number, A: number, K: Float64Array): void {
  const g = 9 * t,
    d11 = D[4 * t]!,
    d22 = D[4 * t + 1]!,
    d12 = D[4 * t + 2]!,
    d66 = D[4 * t + 3]!;
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      const xi = G[g + i]!,
        yi = G[g + 3 + i]!,
        zi = G[g + 6 + i]!;
      const xj = G[g + j]!,
        yj = G[g + 3 + j]!,
        zj = G[g + 6 + j]!;
      K[g + 3 * i + j] = A * (d11 * xi * xj + d22 * yi * yj + d12 * (xi * yj + yi * xj) + d66 * zi * zj);
    }
  }
}

/** Eliminates the moment-free rotation at local edge f: alpha_f = -(K_f. alpha)/K_ff, so column f of G drops out. */
function condenseEdge(G: Float64Array, K: Float64Array, t: number, f: number): void {
  const g = 9 * t,
    kff = K[g + 4 * f]!;
  for (let j = 0; j < 3; j++) {
    if (j === f) continue;
    const w = K[g + 3 * f + j]! / kff;
    for (let r = 0; r < 3; r++) G[g + 3 * r + j] = G[g + 3 * r + j]! - w * G[g + 3 * r + f]!;
  }
  for (let r = 0; r < 3; r++) G[g + 3 * r + f] = 0;
}

/** T = [T_1; T_2; T_3], T_k = [tx2, ty2, tx ty]; returns its inverse row-major in out. */
function invertEdgeMap(edges: Float64Array, out: Float64Array, o: number): void {
  const T = new Float64Array(9);
  for (let k = 0; k < 3; k++) {
    const tx = edges[3 * k + 1]!,
      ty = edges[3 * k + 2]!;
    T[3 * k] = tx * tx;
    T[3 * k + 1] = ty * ty;
    T[3 * k + 2] = tx * ty;
  }
  const [a, b, c, d, e, f, g, h, i] = T as unknown as [number, number, number, number, number, number, number, number, number];
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  const inv = [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
  for (let j = 0; j < 9; j++) out[o + j] = inv[j]! / det;
}

/** Builds the rest data. Mutates nothing. Throws (assertion) on inverted or empty rest triangles. */
export function buildSheet(model: Model): Sheet {
  const n = model.vertexCount,
    m = model.triVerts.length / 3;
  const hinges = model.hingeVerts.length / 4,
    clamps = model.clampVerts.length / 3;
  const area = new Float64Array(m),
    shape = new Float64Array(6 * m),
    G = new Float64Array(9 * m),
    K = new Float64Array(9 * m);
  const R = new Float64Array(9 * m),
    M = new Float64Array(9 * m);
  const edges = new Float64Array(9 * m),
    one = new Float64Array(9);
  for (let t = 0; t < m; t++) {
    area[t] = triangleRest(model.triRest, t, shape, G, one);
    edges.set(one, 9 * t);
    invertEdgeMap(one, M, 9 * t);
    bendingMatrix(G, model.triBend, t, area[t]!, K);
  }
  const angleOf = new Int32Array(3 * m).fill(-1),
    condensedOf = new Int32Array(3 * m).fill(-1),
    partner = new Int32Array(3 * m).fill(-1);
  const angleCoef = new Float64Array(3 * m),
    condensedCoef = new Float64Array(3 * m),
    ownWeight = new Float64Array(3 * m).fill(1);
  const seamSpring = new Float64Array(hinges);
  const bound = new Uint8Array(3 * m);
  let condensed = 0;
  for (let h = 0; h < hinges; h++) {
    const k = model.hingeStiffness[h]!;
    const q1 = 3 * model.hingeTris[2 * h]! + model.hingeLocal[2 * h]!,
      q2 = 3 * model.hingeTris[2 * h + 1]! + model.hingeLocal[2 * h + 1]!;
    if (k === Number.POSITIVE_INFINITY) {
      angleOf[q1] = angleOf[q2] = h;
      angleCoef[q1] = angleCoef[q2] = 0.5;
      condensedOf[q1] = condensedOf[q2] = condensed++;
      condensedCoef[q1] = 1;
      condensedCoef[q2] = -1;
      partner[q1] = q2;
      partner[q2] = q1;
      const a1 = area[(q1 / 3) | 0]!,
        a2 = area[(q2 / 3) | 0]!;
      ownWeight[q1] = a2 / (a1 + a2);
      ownWeight[q2] = a1 / (a1 + a2);
      bound[q1] = bound[q2] = 1;
    } else if (k > 0) {
      // The seam's spring is in series with the half-triangles beside it, so each side keeps its own rotation as an unknown.
      // Three panels in one seam give a triangle several springs on one edge; they then share that triangle's one rotation.
      for (const q of [q1, q2]) {
        if (condensedOf[q]! < 0) condensedOf[q] = condensed++;
        bound[q] = 1;
      }
      condensedCoef[q1] = 1;
      // A panel sewn wrong side out runs the edge the same way as its neighbour; its own rotation then counts the other way.
      const t2 = (q2 / 3) | 0,
        runsAlong = model.triVerts[3 * t2 + ((q2 - 3 * t2 + 1) % 3)]! === model.hingeVerts[4 * h]!;
      condensedCoef[q2] = runsAlong ? -1 : 1;
      seamSpring[h] = k * edges[3 * q1]!;
    }
  }
  for (let c = 0; c < clamps; c++) {
    const q = 3 * model.clampTris[c]! + model.clampLocal[c]!;
    angleOf[q] = hinges + c;
    angleCoef[q] = 1;
    bound[q] = 1;
  }
  for (let t = 0; t < m; t++) {
    // A second condensation must see the already condensed matrix, so K is rebuilt after each one.
    for (let k = 0; k < 3; k++) {
      if (bound[3 * t + k]) continue;
      if (K[9 * t + 4 * k]! > 0) condenseEdge(G, K, t, k);
      bendingMatrix(G, model.triBend, t, area[t]!, K);
    }
    for (let k = 0; k < 3; k++) {
      const l = edges[9 * t + 3 * k]!,
        tx = edges[9 * t + 3 * k + 1]!,
        ty = edges[9 * t + 3 * k + 2]!;
      for (let j = 0; j < 3; j++) R[9 * t + 3 * k + j] = l * (tx * tx * G[9 * t + j]! + ty * ty * G[9 * t + 3 + j]! + tx * ty * G[9 * t + 6 + j]!);
    }
  }
  const localStiffness = new Float64Array(hinges),
    clampStiffness = new Float64Array(clamps);
  for (let h = 0; h < hinges; h++) {
    const q1 = 3 * model.hingeTris[2 * h]! + model.hingeLocal[2 * h]!,
      q2 = 3 * model.hingeTris[2 * h + 1]! + model.hingeLocal[2 * h + 1]!;
    const k1 = K[9 * ((q1 / 3) | 0) + 4 * (q1 % 3)]!,
      k2 = K[9 * ((q2 / 3) | 0) + 4 * (q2 % 3)]!;
    if (partner[q1] === q2) localStiffness[h] = (k1 * k2) / (k1 + k2);
    else if (seamSpring[h]! > 0) localStiffness[h] = 1 / (1 / k1 + 1 / k2 + 1 / seamSpring[h]!);
  }
  for (let c = 0; c < clamps; c++) clampStiffness[c] = K[9 * model.clampTris[c]! + 4 * model.clampLocal[c]!]!;
  return {
    n,
    m,
    hinges,
    clamps,
    condensed,
    triVerts: model.triVerts,
    area,
    shape,
    stretch: model.triStretch,
    G,
    K,
    angleOf,
    angleCoef,
    condensedOf,
    condensedCoef,
    seamSpring,
    localStiffness,
    clampStiffness,
    R,
    M,
    partner,
    ownWeight,
  };
}
