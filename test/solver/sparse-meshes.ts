import { seeded } from '../../src/numerics/index.ts';
import type { BlockPattern } from '../../src/solver/sparse/index.ts';

export { seeded };

export interface Sheet {
  readonly vertexCount: number;
  /** 3n, metres. */ readonly x: Float64Array;
  readonly triVerts: Uint32Array;
}

/** Open box of five panels, 300 x 240 x 100 mm, vertices shared along the sewn edges; diagonals drawn at random. */
export function boxBag(spacing: number, seed = 1): Sheet {
  const random = seeded(seed);
  const w = 0.3;
  const h = 0.24;
  const d = 0.1;
  const cells = (length: number): number => Math.max(1, Math.round(length / spacing));
  const points: number[] = [];
  const tris: number[] = [];
  const known = new Map<string, number>();
  const panel = (origin: number[], u: number[], v: number[], nu: number, nv: number): void => {
    const ids = new Uint32Array((nu + 1) * (nv + 1));
    for (let j = 0; j <= nv; j++)
      for (let i = 0; i <= nu; i++) {
        const p = [0, 1, 2].map((c) => origin[c] + (u[c] * i) / nu + (v[c] * j) / nv);
        const key = p.map((value) => Math.round(value * 1e6)).join();
        let id = known.get(key);
        if (id === undefined) {
          id = points.length / 3;
          known.set(key, id);
          points.push(...p);
        }
        ids[j * (nu + 1) + i] = id;
      }
    for (let j = 0; j < nv; j++)
      for (let i = 0; i < nu; i++) {
        const a = ids[j * (nu + 1) + i];
        const b = ids[j * (nu + 1) + i + 1];
        const c = ids[(j + 1) * (nu + 1) + i];
        const e = ids[(j + 1) * (nu + 1) + i + 1];
        if (random() < 0.5) tris.push(a, b, e, a, e, c);
        else tris.push(a, b, c, b, e, c);
      }
  };
  panel([0, 0, 0], [w, 0, 0], [0, 0, h], cells(w), cells(h));
  panel([w, d, 0], [-w, 0, 0], [0, 0, h], cells(w), cells(h));
  panel([w, 0, 0], [0, d, 0], [0, 0, h], cells(d), cells(h));
  panel([0, d, 0], [0, -d, 0], [0, 0, h], cells(d), cells(h));
  panel([0, d, 0], [w, 0, 0], [0, -d, 0], cells(w), cells(d));
  return { vertexCount: points.length / 3, x: Float64Array.from(points), triVerts: Uint32Array.from(tris) };
}

/** Edges with the corners opposite them: [e0, e1, o1, o2] with o2 = -1 on a free edge. */
function edgesOf(sheet: Sheet): Int32Array {
  const { triVerts: t, vertexCount: n } = sheet;
  const known = new Map<number, number>();
  const out: number[] = [];
  for (let f = 0; f < t.length; f += 3)
    for (let k = 0; k < 3; k++) {
      const a = t[f + ((k + 1) % 3)];
      const b = t[f + ((k + 2) % 3)];
      const key = Math.min(a, b) * n + Math.max(a, b);
      const at = known.get(key);
      if (at === undefined) {
        known.set(key, out.length);
        out.push(a, b, t[f + k], -1);
      } else out[at + 3] = t[f + k];
    }
  return Int32Array.from(out);
}

/** Sorted lower pattern from index pairs (either order, repeats allowed); every diagonal block is added. */
export function patternOf(n: number, pairs: ArrayLike<number>, blockSize: 1 | 3): BlockPattern {
  const rows: Set<number>[] = Array.from({ length: n }, (_, i) => new Set([i]));
  for (let p = 0; p < pairs.length; p += 2) rows[Math.max(pairs[p], pairs[p + 1])].add(Math.min(pairs[p], pairs[p + 1]));
  const rowPtr = new Int32Array(n + 1);
  const colIdx: number[] = [];
  for (let i = 0; i < n; i++) {
    colIdx.push(...[...rows[i]].sort((a, b) => a - b));
    rowPtr[i + 1] = colIdx.length;
  }
  return { blockCount: n, blockSize, rowPtr, colIdx: Int32Array.from(colIdx) };
}

/** Vertices that share a triangle, and the two corners opposite each inner edge. */
export function hingePattern(sheet: Sheet): BlockPattern {
  const edges = edgesOf(sheet);
  const pairs: number[] = [];
  for (let e = 0; e < edges.length; e += 4) {
    pairs.push(edges[e], edges[e + 1]);
    if (edges[e + 3] >= 0) pairs.push(edges[e + 2], edges[e + 3]);
  }
  return patternOf(sheet.vertexCount, pairs, 3);
}

/** One unknown per edge, coupled with the other edges of its triangles: the pattern of the mid-edge angles. */
export function edgePattern(sheet: Sheet): BlockPattern {
  const { triVerts: t, vertexCount: n } = sheet;
  const known = new Map<number, number>();
  const pairs: number[] = [];
  for (let f = 0; f < t.length; f += 3) {
    const ids = [0, 1, 2].map((k) => {
      const a = t[f + ((k + 1) % 3)];
      const b = t[f + ((k + 2) % 3)];
      const key = Math.min(a, b) * n + Math.max(a, b);
      if (!known.has(key)) known.set(key, known.size);
      return known.get(key)!;
    });
    pairs.push(ids[0], ids[1], ids[1], ids[2], ids[2], ids[0]);
  }
  return patternOf(known.size, pairs, 1);
}

/** Random symmetric values made positive definite by diagonal dominance. */
export function dominantValues(pattern: BlockPattern, seed: number): Float64Array {
  const { blockCount: n, blockSize: b, rowPtr, colIdx } = pattern;
  const random = seeded(seed);
  const values = new Float64Array(rowPtr[n] * b * b);
  const sums = new Float64Array(n * b);
  for (let i = 0; i < n; i++)
    for (let p = rowPtr[i]; p < rowPtr[i + 1]; p++)
      for (let r = 0; r < b; r++)
        for (let c = 0; c < b; c++) {
          const j = colIdx[p];
          if (j === i && c > r) continue;
          const v = 2 * random() - 1;
          values[(p * b + r) * b + c] = v;
          if (j === i) values[(p * b + c) * b + r] = v;
          sums[i * b + r] += Math.abs(v);
          sums[j * b + c] += Math.abs(v);
        }
  for (let i = 0; i < n; i++) for (let r = 0; r < b; r++) values[((rowPtr[i + 1] - 1) * b + r) * b + r] = sums[i * b + r] + 0.1;
  return values;
}

/**
 * Stretch of every edge (stiff, along the edge) plus bending of every inner edge (soft, along its normal) plus mass:
 * the conditioning of a real sheet without its mechanics. stretch and bend in N/m, inertia in N/m per vertex.
 */
export function sheetValues(sheet: Sheet, pattern: BlockPattern, stretch: number, bend: number, inertia: number): Float64Array {
  const { x } = sheet;
  const { rowPtr, colIdx, blockCount: n } = pattern;
  const values = new Float64Array(9 * rowPtr[n]);
  const find = (i: number, j: number): number => {
    let p = rowPtr[i];
    while (colIdx[p] !== j) p++;
    return p;
  };
  const add = (verts: number[], weights: number[], d: number[], stiffness: number): void => {
    for (let a = 0; a < verts.length; a++)
      for (let b = 0; b < verts.length; b++) {
        if (verts[b] > verts[a]) continue;
        const p = 9 * find(verts[a], verts[b]);
        const s = stiffness * weights[a] * weights[b];
        for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) values[p + 3 * r + c] += s * d[r] * d[c];
      }
  };
  const between = (i: number, j: number): number[] => [0, 1, 2].map((c) => x[3 * j + c] - x[3 * i + c]);
  const unit = (v: number[]): number[] => {
    const length = Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
    return v.map((c) => c / length);
  };
  const edges = edgesOf(sheet);
  for (let e = 0; e < edges.length; e += 4) {
    const [a, b, o, q] = edges.subarray(e, e + 4);
    const u = unit(between(a, b));
    add([a, b], [1, -1], u, stretch);
    if (q < 0) continue;
    const v = between(a, o);
    const normal = unit([u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]);
    add([a, b, o, q], [1, 1, -1, -1], normal, bend);
  }
  for (let i = 0; i < n; i++) for (let c = 0; c < 3; c++) values[9 * (rowPtr[i + 1] - 1) + 4 * c] += inertia;
  return values;
}
