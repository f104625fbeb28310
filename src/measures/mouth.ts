import type { Bag } from '../bag/types.ts';
import { libm } from '../numerics/index.ts';
import type { Rim, RimPart } from './rim.ts';

/**
 * Mouth gap, a fraction of the drafted one; null when the bag has no mouth with a front and a back, or none drafted open.
 * Formula: min over places p of the front rim of gap_p(settled) / gap_p(drafted), where gap_p is the distance from p to the nearest point
 * of the back rim, counted 0 when that point has come to the front's side of p. Only places whose drafted gap is at least half of the
 * largest one take part, so a front and back that are sewn together at the ends do not read as closed. Places lie every 2 mm, whatever the mesh:
 * at mesh points alone, which of them is the last that takes part would change with it.
 * Bags made of one body panel: gap_v is the distance to the rim point half the rim length away (a tube's diameter).
 * On a box this is the smallest front-to-back distance over the depth. Home check: ruler across the mouth.
 */
export function mouthGap(bag: Bag, rim: Rim, drafted: Float64Array, settled: Float64Array): number | null {
  const front = partsOf(bag, rim, 'front');
  const back = partsOf(bag, rim, 'back');
  if (front.length > 0 && back.length > 0) return frontToBack(front, back, drafted, settled);
  return acrossLoop(rim, drafted, settled);
}

function partsOf(bag: Bag, rim: Rim, role: 'front' | 'back'): RimPart[] {
  return [...rim.byPanel].filter(([name]) => bag.panels.some((p) => p.name === name && p.role === role)).map(([, part]) => part);
}

function frontToBack(front: readonly RimPart[], back: readonly RimPart[], drafted: Float64Array, settled: Float64Array): number | null {
  const places = front.flatMap((p) => placesAlong(p.edges, drafted));
  const verts = [...new Set(front.flatMap((p) => [...p.verts]))];
  const edges = back.flatMap((p) => [...p.edges]);
  const away = meanOffset(
    verts,
    back.flatMap((p) => [...p.verts]),
    drafted,
  );
  const gaps0 = places.map((p) => nearest(drafted, p, edges, away));
  const gaps1 = places.map((p) => nearest(settled, p, edges, away));
  return smallestRatio(gaps0, gaps1);
}

/** Distance between places that are looked at along a rim, m: finer than a ruler is read (common practice, no source). */
const STEP = 0.002;

/** A place on a rim edge: its ends and how far along it lies. */
type Place = readonly [a: number, b: number, t: number];

/** Places along drafted edges (pairs of vertices), both ends included. */
function placesAlong(edges: ArrayLike<number>, x: Float64Array): Place[] {
  const places: Place[] = [];
  for (let i = 0; i < edges.length; i += 2) {
    const [a, b] = [edges[i], edges[i + 1]];
    const n = Math.max(1, Math.ceil(libm.hypot(x[3 * b] - x[3 * a], x[3 * b + 1] - x[3 * a + 1], x[3 * b + 2] - x[3 * a + 2]) / STEP));
    for (let k = 0; k <= n; k++) places.push([a, b, k / n]);
  }
  return places;
}

/** Direction from the front rim to the back rim as drafted: tells "before" from "behind" when the two change places. */
function meanOffset(from: readonly number[], to: readonly number[], x: Float64Array): [number, number, number] {
  const mean = (verts: readonly number[], c: number) => verts.reduce((s, v) => s + x[3 * v + c], 0) / verts.length;
  return [0, 1, 2].map((c) => mean(to, c) - mean(from, c)) as [number, number, number];
}

function nearest(x: Float64Array, [from, to, u]: Place, edges: readonly number[], away: readonly [number, number, number]): number {
  const p = [0, 1, 2].map((c) => (1 - u) * x[3 * from + c] + u * x[3 * to + c]);
  let best = Infinity;
  let side = 1;
  for (let i = 0; i < edges.length; i += 2) {
    const [a, b] = [edges[i], edges[i + 1]];
    let dot = 0;
    let len = 0;
    for (let c = 0; c < 3; c++) {
      const e = x[3 * b + c] - x[3 * a + c];
      dot += e * (p[c] - x[3 * a + c]);
      len += e * e;
    }
    const t = len > 0 ? Math.min(1, Math.max(0, dot / len)) : 0;
    let d2 = 0;
    let s = 0;
    for (let c = 0; c < 3; c++) {
      const r = x[3 * a + c] + t * (x[3 * b + c] - x[3 * a + c]) - p[c];
      d2 += r * r;
      s += r * away[c];
    }
    if (d2 < best) {
      best = d2;
      side = s < 0 ? 0 : 1;
    }
  }
  return side * Math.sqrt(best);
}

function smallestRatio(gaps0: readonly number[], gaps1: readonly number[]): number | null {
  const widest = Math.max(...gaps0);
  // A mouth drafted narrower than 5 mm (making tolerance) has no gap to keep.
  if (!(widest >= 0.005)) return null;
  let ratio = Infinity;
  gaps0.forEach((g, i) => {
    if (g >= widest / 2) ratio = Math.min(ratio, gaps1[i] / g);
  });
  return ratio;
}

/** Rim vertices in order round the one closed loop they form, or null when they form anything else. */
export function rimLoop(edges: ArrayLike<number>): number[] | null {
  const next = new Map<number, number[]>();
  const link = (a: number, b: number) => next.set(a, [...(next.get(a) ?? []), b]);
  for (let i = 0; i < edges.length; i += 2) {
    link(edges[i], edges[i + 1]);
    link(edges[i + 1], edges[i]);
  }
  if (next.size < 3 || [...next.values()].some((n) => n.length !== 2)) return null;
  const start = edges[0];
  const loop = [start];
  let previous = start;
  let at = next.get(start)![0];
  while (at !== start) {
    loop.push(at);
    const [a, b] = next.get(at)!;
    const to = a === previous ? b : a;
    previous = at;
    at = to;
  }
  return loop.length === next.size ? loop : null;
}

function acrossLoop(rim: Rim, drafted: Float64Array, settled: Float64Array): number | null {
  const loop = rimLoop(rim.edges);
  if (loop === null) return null;
  const at = [0];
  loop.forEach((v, i) => {
    const w = loop[(i + 1) % loop.length];
    at.push(at[i] + libm.norm([0, 1, 2].map((c) => drafted[3 * w + c] - drafted[3 * v + c])));
  });
  const length = at[loop.length];
  const across = (x: Float64Array) =>
    loop.map((v, i) => {
      const target = (at[i] + length / 2) % length;
      let k = 0;
      while (k + 1 < loop.length && at[k + 1] <= target) k++;
      const t = (target - at[k]) / (at[k + 1] - at[k]);
      const [a, b] = [loop[k], loop[(k + 1) % loop.length]];
      return libm.norm([0, 1, 2].map((c) => x[3 * a + c] + t * (x[3 * b + c] - x[3 * a + c]) - x[3 * v + c]));
    });
  return smallestRatio(across(drafted), across(settled));
}
