import Constrainautor from '@kninnug/constrainautor';
import Delaunator from 'delaunator';

/** A flat triangulation: 3 vertex numbers per triangle, counterclockwise, and the opposite half-edge of each (-1 none). */
export interface Flat {
  tris: Uint32Array;
  /** Half-edge 3t + k runs from corner k to corner k + 1 of triangle t. */
  half: Int32Array;
}

/**
 * Constrained Delaunay triangulation of points inside closed loops.
 * `loops` are closed cycles of point numbers, the outline first; triangles outside it or inside a hole are dropped.
 * `lines` are further segments that must be edges (two point numbers each).
 * Throws when outlines cross; a line that crosses what is already there is left out.
 */
export function triangulate(coords: Float64Array, loops: readonly (readonly number[])[], lines: readonly (readonly [number, number])[]): Flat {
  const del = new Delaunator(coords);
  const border: [number, number][] = [];
  for (const loop of loops) for (let i = 0; i < loop.length; i++) border.push([loop[i], loop[(i + 1) % loop.length]]);
  const fixed = new Constrainautor(del);
  for (const [a, b] of border) fixed.constrainOne(a, b);
  for (const [a, b] of lines) {
    // A line that was moved onto a vertex may come to cross another: the later one gives way, and its border is jagged there.
    try {
      fixed.constrainOne(a, b);
    } catch {}
  }
  return keepInside(coords, del.triangles, del.halfedges, border);
}

/** Drops what lies outside: triangles are joined across every edge that is not border, and each patch is kept or dropped as a whole. */
function keepInside(coords: Float64Array, tris: ArrayLike<number>, half: ArrayLike<number>, border: readonly [number, number][]): Flat {
  const n = coords.length / 2;
  const isBorder = new Set<number>();
  for (const [a, b] of border) {
    isBorder.add(a * n + b);
    isBorder.add(b * n + a);
  }
  const count = tris.length / 3;
  // Parity of the number of border edges crossed from outside the hull: odd = inside. Holes lie inside the outline and need no case of their own.
  const parity = new Int8Array(count).fill(-1);
  const queue: number[] = [];
  for (let h = 0; h < half.length; h++) {
    if (half[h] !== -1) continue;
    const t = Math.floor(h / 3);
    if (parity[t] !== -1) continue;
    parity[t] = isBorder.has(tris[h] * n + tris[next(h)]) ? 1 : 0;
    queue.push(t);
  }
  while (queue.length > 0) {
    const t = queue.pop()!;
    for (let k = 0; k < 3; k++) {
      const h = 3 * t + k;
      const o = half[h];
      if (o === -1) continue;
      const u = Math.floor(o / 3);
      if (parity[u] !== -1) continue;
      parity[u] = isBorder.has(tris[h] * n + tris[next(h)]) ? 1 - parity[t] : parity[t];
      queue.push(u);
    }
  }
  const renumber = new Int32Array(count).fill(-1);
  let kept = 0;
  for (let t = 0; t < count; t++) if (parity[t] === 1) renumber[t] = kept++;
  const outTris = new Uint32Array(3 * kept);
  const outHalf = new Int32Array(3 * kept);
  for (let t = 0; t < count; t++) {
    const to = renumber[t];
    if (to < 0) continue;
    // The library winds clockwise in a y-up frame: swap two corners; half-edge k of the new triangle is (a,c), (c,b), (b,a) of the old.
    const [a, b, c] = [tris[3 * t], tris[3 * t + 1], tris[3 * t + 2]];
    outTris.set([a, c, b], 3 * to);
    const olds = [3 * t + 2, 3 * t + 1, 3 * t];
    for (let k = 0; k < 3; k++) {
      const o = half[olds[k]];
      const u = o === -1 ? -1 : renumber[Math.floor(o / 3)];
      outHalf[3 * to + k] = u === -1 ? -1 : 3 * u + (2 - (o % 3));
    }
  }
  return { tris: outTris, half: outHalf };
}

const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
