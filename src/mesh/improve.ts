import { libm } from '../numerics/index.ts';
import type { Flat } from './triangulate.ts';

const next = (h: number): number => (h % 3 === 2 ? h - 2 : h + 1);
const prev = (h: number): number => (h % 3 === 0 ? h + 2 : h - 1);

/** Smallest angle of triangle abc, rad; negative when it is turned over. */
export function smallestAngle(x: ArrayLike<number>, a: number, b: number, c: number): number {
  const [ax, ay, bx, by, cx, cy] = [x[2 * a], x[2 * a + 1], x[2 * b], x[2 * b + 1], x[2 * c], x[2 * c + 1]];
  const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  const la = libm.square(cx - bx) + libm.square(cy - by);
  const lb = libm.square(ax - cx) + libm.square(ay - cy);
  const lc = libm.square(bx - ax) + libm.square(by - ay);
  // The smallest angle is opposite the shortest side, and is acute: sin = 2 area / (product of the two others).
  const product = la < lb ? (la < lc ? lb * lc : la * lb) : lb < lc ? la * lc : la * lb;
  const sine = area / Math.sqrt(product);
  return libm.asin(Math.max(-1, Math.min(1, sine)));
}

/** Swaps the diagonal of the two triangles at half-edge h; keeps the half-edge table right. */
function flip(flat: Flat, h: number): void {
  const { tris, half } = flat;
  const o = half[h];
  const hp = prev(h);
  const op = prev(o);
  // Triangles (a, b, c) and (b, a, d) become (d, b, c) and (c, a, d).
  const hpOut = half[hp];
  const opOut = half[op];
  tris[h] = tris[op];
  tris[o] = tris[hp];
  half[h] = opOut;
  if (opOut !== -1) half[opOut] = h;
  half[o] = hpOut;
  if (hpOut !== -1) half[hpOut] = o;
  half[hp] = op;
  half[op] = hp;
}

/**
 * Corners must not hang by one triangle with two outline edges: such an ear is a mechanism (it folds along its one inner edge for
 * nothing), and two ears of two panels sewn together would be one triangle twice. Each ear whose corner is at least `least` rad is
 * turned by swapping its inner edge. Returns the number of ears left. `needed` names corners whose ears must go whatever the angle.
 */
export function turnEars(
  coords: ArrayLike<number>,
  flat: Flat,
  protectedEdge: (a: number, b: number) => boolean,
  least: number,
  needed: ReadonlySet<number>,
): number {
  const { tris, half } = flat;
  let left = 0;
  for (let t = 0; 3 * t < tris.length; t++) {
    const open = [0, 1, 2].filter((k) => half[3 * t + k] === -1);
    if (open.length < 2) continue;
    const inner = [0, 1, 2].find((k) => half[3 * t + k] !== -1);
    if (inner === undefined) {
      left++;
      continue;
    }
    const h = 3 * t + inner;
    const o = half[h];
    const [a, b, c, d] = [tris[h], tris[next(h)], tris[prev(h)], tris[prev(o)]];
    const after = Math.min(smallestAngle(coords, d, b, c), smallestAngle(coords, c, a, d));
    const must = needed.has(c);
    if (protectedEdge(a, b) || after < (must ? 0.05 : least)) {
      left++;
      continue;
    }
    flip(flat, h);
  }
  return left;
}

/** Gives every cone corner at least three triangles, by swapping the edge opposite it in whichever of its triangles leaves the larger angles. */
export function openCones(coords: ArrayLike<number>, flat: Flat, cones: ReadonlySet<number>): void {
  const { tris, half } = flat;
  for (const v of cones)
    for (let round = 0; round < 3; round++) {
      const opposite: number[] = [];
      for (let h = 0; h < tris.length; h++) if (tris[prev(h)] === v) opposite.push(h);
      if (opposite.length >= 3) break;
      let best = -1;
      let least = 0.05;
      for (const h of opposite) {
        const o = half[h];
        if (o === -1) continue;
        const [a, b, d] = [tris[h], tris[next(h)], tris[prev(o)]];
        const after = Math.min(smallestAngle(coords, d, b, v), smallestAngle(coords, v, a, d));
        if (after > least) {
          least = after;
          best = h;
        }
      }
      if (best < 0) break;
      flip(flat, best);
    }
}

/** Triangles round every vertex, as one list with starts. */
function stars(tris: Uint32Array, n: number): { start: Int32Array; list: Int32Array } {
  const start = new Int32Array(n + 1);
  for (let i = 0; i < tris.length; i++) start[tris[i] + 1]++;
  for (let v = 0; v < n; v++) start[v + 1] += start[v];
  const fill = start.slice(0, n);
  const list = new Int32Array(tris.length);
  for (let i = 0; i < tris.length; i++) list[fill[tris[i]]++] = Math.floor(i / 3);
  return { start, list };
}

/**
 * Raises the smallest angles: every free vertex of a triangle with an angle under `target` rad tries eight directions and keeps the move
 * that raises the worst angle round it; inner edges are swapped where that raises the worse of the two triangles (never an edge that
 * `protectedEdge` names, never back into an ear). Mutates coords and flat. Vertices below `fixed` stay.
 */
export function raiseAngles(
  coords: Float64Array,
  flat: Flat,
  fixed: number,
  target: number,
  protectedEdge: (a: number, b: number) => boolean,
  sweeps: number,
): void {
  const n = coords.length / 2;
  const { tris, half } = flat;
  let star = stars(tris, n);
  const worst = (v: number): number => {
    let least = 4;
    for (let i = star.start[v]; i < star.start[v + 1]; i++) {
      const t = 3 * star.list[i];
      least = Math.min(least, smallestAngle(coords, tris[t], tris[t + 1], tris[t + 2]));
    }
    return least;
  };
  for (let sweep = 0; sweep < sweeps; sweep++) {
    let bad = 0;
    const queue = new Set<number>();
    for (let t = 0; t < tris.length; t += 3)
      if (smallestAngle(coords, tris[t], tris[t + 1], tris[t + 2]) < target) {
        bad++;
        // The neighbours of a bad triangle make room for it.
        for (let k = 0; k < 3; k++) {
          queue.add(tris[t + k]);
          const v = tris[t + k];
          for (let i = star.start[v]; i < star.start[v + 1]; i++) for (let q = 0; q < 3; q++) queue.add(tris[3 * star.list[i] + q]);
        }
      }
    if (bad === 0) return;
    for (const v of queue) {
      if (v < fixed) continue;
      let best = worst(v);
      let [x, y] = [coords[2 * v], coords[2 * v + 1]];
      const t0 = 3 * star.list[star.start[v]];
      let step = 0.25 * libm.hypot(coords[2 * tris[t0]] - coords[2 * tris[t0 + 1]], coords[2 * tris[t0] + 1] - coords[2 * tris[t0 + 1] + 1]);
      for (let round = 0; round < 4; round++, step /= 2)
        for (let k = 0; k < 8; k++) {
          coords[2 * v] = x + step * libm.cos((k * Math.PI) / 4);
          coords[2 * v + 1] = y + step * libm.sin((k * Math.PI) / 4);
          const got = worst(v);
          if (got > best + 1e-9) {
            best = got;
            [x, y] = [coords[2 * v], coords[2 * v + 1]];
          }
        }
      coords[2 * v] = x;
      coords[2 * v + 1] = y;
    }
    let flipped = false;
    for (let h = 0; h < tris.length; h++) {
      const o = half[h];
      if (o < h) continue;
      const [a, b, c, d] = [tris[h], tris[next(h)], tris[prev(h)], tris[prev(o)]];
      const now = Math.min(smallestAngle(coords, a, b, c), smallestAngle(coords, b, a, d));
      if (now >= target || protectedEdge(a, b)) continue;
      const then = Math.min(smallestAngle(coords, d, b, c), smallestAngle(coords, c, a, d));
      if (then <= now + 1e-6) continue;
      // After the swap the new triangles keep outline edges (b,c), (d,b) and (c,a), (a,d): two in one would be an ear.
      if ((half[next(h)] === -1 && half[prev(o)] === -1) || (half[prev(h)] === -1 && half[next(o)] === -1)) continue;
      flip(flat, h);
      flipped = true;
    }
    if (flipped) star = stars(tris, n);
  }
}
