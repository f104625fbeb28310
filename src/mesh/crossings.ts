import { orientation } from '../numerics/index.ts';

/**
 * Number of pairs of triangles that pass through one another.
 * A pair counts when an edge of one has its ends strictly on both sides of the other's plane and meets that triangle, its border included.
 * Triangles with two shared vertices never count (they can only fold onto each other); with one shared vertex only the edges away from it
 * are tested, which finds every crossing that leaves the shared vertex.
 * Signs come from a 3 x 3 determinant with Shewchuk's (1997) forward error bound: a sign within rounding counts as "in the plane", so sheets that lie
 * exactly on one another touch and do not cross, and the shallowest crossing found is about 1e-15 of the coordinates.
 * @param positions 3 per vertex, m  @param triVerts 3 per triangle
 */
export function countCrossings(positions: ArrayLike<number>, triVerts: ArrayLike<number>): number {
  return findCrossings(positions, triVerts).length / 2;
}

/** Number of times the straight pieces (2 vertices each) of straps pass through triangles, by the same test: a piece is a triangle without breadth. */
export function strapCrossings(positions: ArrayLike<number>, triVerts: ArrayLike<number>, pieces: ArrayLike<number>): number {
  const thin = Array.from({ length: pieces.length / 2 }, (_, k) => [pieces[2 * k]!, pieces[2 * k + 1]!, pieces[2 * k + 1]!]).flat();
  return thin.length === 0 ? 0 : findCrossings(positions, [...Array.from(triVerts), ...thin], Number.POSITIVE_INFINITY, triVerts.length / 3).length / 2;
}

/** Crossing pairs as triangle numbers, two per crossing; see countCrossings. Stops after `most` pairs; looks only at those with a triangle from number `from` on. */
export function findCrossings(positions: ArrayLike<number>, triVerts: ArrayLike<number>, most = Number.POSITIVE_INFINITY, from = 0): number[] {
  const m = Math.floor(triVerts.length / 3);
  const found: number[] = [];
  if (m < 2) return found;
  const box = boxesOf(positions, triVerts, m);
  const grid = gridOver(box, m);
  const { start, list, nx, ny, cell, x0, y0, z0 } = grid;
  for (let c = 0; c + 1 < start.length; c++) {
    for (let i = start[c]; i < start[c + 1]; i++) {
      const t = list[i];
      for (let j = i + 1; j < start[c + 1]; j++) {
        const u = list[j];
        if (t < from && u < from) continue;
        const lx = Math.max(box[6 * t], box[6 * u]);
        const ly = Math.max(box[6 * t + 1], box[6 * u + 1]);
        const lz = Math.max(box[6 * t + 2], box[6 * u + 2]);
        if (lx > Math.min(box[6 * t + 3], box[6 * u + 3]) || ly > Math.min(box[6 * t + 4], box[6 * u + 4]) || lz > Math.min(box[6 * t + 5], box[6 * u + 5]))
          continue;
        // Two triangles share several cells: the pair belongs to the one that holds the lower corner of their common box.
        if (Math.floor((lx - x0) / cell) + nx * (Math.floor((ly - y0) / cell) + ny * Math.floor((lz - z0) / cell)) !== c) continue;
        if (crosses(positions, triVerts, t, u)) {
          found.push(Math.min(t, u), Math.max(t, u));
          if (found.length >= 2 * most) return found;
        }
      }
    }
  }
  return found;
}

function boxesOf(x: ArrayLike<number>, tris: ArrayLike<number>, m: number): Float64Array {
  const box = new Float64Array(6 * m);
  for (let t = 0; t < m; t++)
    for (let d = 0; d < 3; d++) {
      const [a, b, c] = [x[3 * tris[3 * t] + d], x[3 * tris[3 * t + 1] + d], x[3 * tris[3 * t + 2] + d]];
      box[6 * t + d] = Math.min(a, b, c);
      box[6 * t + 3 + d] = Math.max(a, b, c);
    }
  return box;
}

interface Grid {
  readonly start: Int32Array;
  readonly list: Int32Array;
  readonly nx: number;
  readonly ny: number;
  readonly cell: number;
  readonly x0: number;
  readonly y0: number;
  readonly z0: number;
}

/** Uniform grid over the boxes, triangles counting-sorted into every cell their box meets. Cell = 1.5 mean box, but at most 4 million cells. */
function gridOver(box: Float64Array, m: number): Grid {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const high = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let mean = 0;
  for (let t = 0; t < m; t++)
    for (let d = 0; d < 3; d++) {
      low[d] = Math.min(low[d], box[6 * t + d]);
      high[d] = Math.max(high[d], box[6 * t + 3 + d]);
      mean += (box[6 * t + 3 + d] - box[6 * t + d]) / (3 * m);
    }
  let cell = Math.max(1.5 * mean, 1e-9);
  const size = (d: number): number => Math.floor((high[d] - low[d]) / cell) + 1;
  while (size(0) * size(1) * size(2) > 4e6) cell *= 1.3;
  const [nx, ny, nz] = [size(0), size(1), size(2)];
  const start = new Int32Array(nx * ny * nz + 1);
  const eachCell = (t: number, visit: (c: number) => void): void => {
    const at = (d: number, end: number): number => Math.floor((box[6 * t + end + d] - low[d]) / cell);
    const [i0, j0, k0, i1, j1, k1] = [at(0, 0), at(1, 0), at(2, 0), at(0, 3), at(1, 3), at(2, 3)];
    for (let k = k0; k <= k1; k++) for (let j = j0; j <= j1; j++) for (let i = i0; i <= i1; i++) visit(i + nx * (j + ny * k));
  };
  for (let t = 0; t < m; t++) eachCell(t, (c) => start[c + 1]++);
  for (let c = 0; c + 1 < start.length; c++) start[c + 1] += start[c];
  const fill = start.slice();
  const list = new Int32Array(start[start.length - 1]);
  for (let t = 0; t < m; t++)
    eachCell(t, (c) => {
      list[fill[c]++] = t;
    });
  return { start, list, nx, ny, cell, x0: low[0], y0: low[1], z0: low[2] };
}

function crosses(x: ArrayLike<number>, tris: ArrayLike<number>, t: number, u: number): boolean {
  let shared = 0;
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) if (tris[3 * t + i] === tris[3 * u + j]) shared++;
  if (shared >= 2) return false;
  return pierces(x, tris, t, u) || pierces(x, tris, u, t);
}

/** true when an edge of triangle t, away from any shared vertex, passes through triangle u. */
function pierces(x: ArrayLike<number>, tris: ArrayLike<number>, t: number, u: number): boolean {
  const [a, b, c] = [tris[3 * u], tris[3 * u + 1], tris[3 * u + 2]];
  const side = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const p = tris[3 * t + k];
    side[k] = p === a || p === b || p === c ? 0 : orientation(x, a, b, c, p);
  }
  for (let k = 0; k < 3; k++) {
    if (side[k] * side[(k + 1) % 3] >= 0) continue;
    const p = tris[3 * t + k];
    const q = tris[3 * t + ((k + 1) % 3)];
    const s0 = orientation(x, p, q, a, b);
    const s1 = orientation(x, p, q, b, c);
    const s2 = orientation(x, p, q, c, a);
    if ((s0 >= 0 && s1 >= 0 && s2 >= 0) || (s0 <= 0 && s1 <= 0 && s2 <= 0)) return true;
  }
  return false;
}
