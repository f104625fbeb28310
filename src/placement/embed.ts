import { libm } from '../numerics/index.ts';
import type { Core } from './core.ts';
import { SymmetricSystem } from './linear.ts';

/** Rest metrics of the core: length of an edge between two welded vertices, and area of each core triangle, m and m2. */
export interface CoreMetric {
  lengthOf(a: number, b: number): number;
  readonly area: Float64Array;
}

/**
 * First shape of a body: spread over a cap of a sphere, mouth loop on its rim, rim up, faces outward.
 * Tutte (1963): with the mouth on a circle and every other vertex at the mean of its neighbours the flat picture has no folds. Then distances
 * from the middle are stretched so that the cap's area up to each vertex is the cloth's area up to it. Loops other than the mouth are closed
 * by one extra vertex each. Without a mouth, one triangle far from `bottom` is taken out to stand for it.
 * Writes positions (3n, mutated) of the core's vertices. Needs core.sphere.
 * @param bottom vertices that should lie low (a base); may be empty
 */
export function spreadOnCap(core: Core, metric: CoreMetric, bottom: readonly number[], positions: Float64Array): void {
  const names = [...new Set(core.tris)];
  const local = new Map(names.map((v, i) => [v, i]));
  const tris = Array.from(core.tris, (v) => local.get(v)!);
  const loops = core.loops.map((loop) => loop.map((v) => local.get(v)!));
  let mouth = loops[0];
  if (mouth === undefined) {
    const t = farTriangle(
      tris,
      names.length,
      bottom.map((v) => local.get(v) ?? 0),
    );
    mouth = [tris[3 * t], tris[3 * t + 1], tris[3 * t + 2]].reverse();
    tris.splice(3 * t, 3);
  }
  let count = names.length;
  for (const loop of loops.slice(1)) {
    loop.forEach((v, i) => {
      tris.push(loop[(i + 1) % loop.length], v, count);
    });
    count++;
  }
  const plane = tutte(
    tris,
    count,
    circle(mouth, (a, b) => metric.lengthOf(names[a], names[b])),
  );
  const height = cumulativeArea(core, metric, local, plane, names.length);
  const total = metric.area.reduce((sum, a) => sum + a, 0);
  let girth = 0;
  mouth.forEach((v, i) => {
    girth += metric.lengthOf(names[v], names[mouth[(i + 1) % mouth.length]]);
  });
  // Cap of area S whose rim has radius a: S = 2 pi R^2 (1 - c), a = R sqrt(1 - c^2), so 1 + c = 2 pi a^2 / S. A mouth too wide for its cloth lies nearly flat.
  const rim = girth / (2 * Math.PI);
  const c = Math.min(0.8, (2 * Math.PI * rim * rim) / total - 1);
  const radius = Math.sqrt(total / (2 * Math.PI * (1 - c)));
  for (let i = 0; i < names.length; i++) {
    const r = libm.hypot(plane[2 * i], plane[2 * i + 1]);
    const cos = 1 - height[i] * (1 - c);
    const out = r > 0 ? (radius * Math.sqrt(Math.max(0, 1 - cos * cos))) / r : 0;
    positions[3 * names[i]] = plane[2 * i] * out;
    positions[3 * names[i] + 1] = plane[2 * i + 1] * out;
    positions[3 * names[i] + 2] = -radius * cos;
  }
}

/** Triangle farthest from `bottom` by steps over edges. */
function farTriangle(tris: readonly number[], n: number, bottom: readonly number[]): number {
  const around: number[][] = Array.from({ length: n }, () => []);
  for (let i = 0; i < tris.length; i += 3) for (let k = 0; k < 3; k++) around[tris[i + k]].push(tris[i + ((k + 1) % 3)]);
  const steps = new Int32Array(n).fill(-1);
  const queue = bottom.length > 0 ? [...bottom] : [0];
  for (const v of queue) steps[v] = 0;
  for (let i = 0; i < queue.length; i++)
    for (const w of around[queue[i]])
      if (steps[w] < 0) {
        steps[w] = steps[queue[i]] + 1;
        queue.push(w);
      }
  let best = 0;
  for (let i = 0; i < tris.length; i += 3) {
    const far = (t: number): number => steps[tris[t]] + steps[tris[t + 1]] + steps[tris[t + 2]];
    if (far(i) > far(3 * best)) best = i / 3;
  }
  return best;
}

/** The loop on the unit circle by arc length, clockwise seen from above: with the cloth on its left it then faces out of a cap that hangs below. */
function circle(loop: readonly number[], lengthOf: (a: number, b: number) => number): Map<number, [number, number]> {
  const lengths = loop.map((v, i) => lengthOf(v, loop[(i + 1) % loop.length]));
  const total = lengths.reduce((sum, l) => sum + l, 0);
  const places = new Map<number, [number, number]>();
  let walked = 0;
  loop.forEach((v, i) => {
    const angle = (-2 * Math.PI * walked) / total;
    places.set(v, [libm.cos(angle), libm.sin(angle)]);
    walked += lengths[i];
  });
  return places;
}

/** Plane positions (2 per vertex): fixed ones as given, every other vertex at the mean of its neighbours. */
function tutte(tris: readonly number[], count: number, fixed: ReadonlyMap<number, readonly [number, number]>): Float64Array {
  const pairs = new Map<number, [number, number]>();
  for (let i = 0; i < tris.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [tris[i + k], tris[i + ((k + 1) % 3)]];
      pairs.set(Math.min(a, b) * count + Math.max(a, b), [a, b]);
    }
  const system = new SymmetricSystem(count, 1, pairs.values());
  const rhs = [new Float64Array(count), new Float64Array(count)];
  for (const [a, b] of pairs.values())
    for (const [v, w] of [
      [a, b],
      [b, a],
    ]) {
      if (fixed.has(v)) continue;
      system.values[system.slot(v, v)] += 1;
      const at = fixed.get(w);
      if (at) {
        rhs[0][v] += at[0];
        rhs[1][v] += at[1];
      } else if (v < w) system.values[system.slot(v, w)] -= 1;
    }
  for (const [v, at] of fixed) {
    system.values[system.slot(v, v)] = 1;
    rhs[0][v] = at[0];
    rhs[1][v] = at[1];
  }
  system.factorise();
  system.solve(rhs[0], rhs[0]);
  system.solve(rhs[1], rhs[1]);
  const plane = new Float64Array(2 * count);
  for (let v = 0; v < count; v++) plane.set([rhs[0][v], rhs[1][v]], 2 * v);
  return plane;
}

/** Share of the cloth's area that lies nearer to the middle than each vertex, 0..1; vertices on the circle get 1. */
function cumulativeArea(core: Core, metric: CoreMetric, local: ReadonlyMap<number, number>, plane: Float64Array, n: number): Float64Array {
  const share = new Float64Array(n);
  for (let t = 0; 3 * t < core.tris.length; t++) for (let k = 0; k < 3; k++) share[local.get(core.tris[3 * t + k])!] += metric.area[t] / 3;
  const order = Array.from({ length: n }, (_, i) => i).sort(
    (a, b) => libm.hypot(plane[2 * a], plane[2 * a + 1]) - libm.hypot(plane[2 * b], plane[2 * b + 1]) || a - b,
  );
  const total = share.reduce((sum, a) => sum + a, 0);
  const out = new Float64Array(n);
  let sum = 0;
  for (const v of order) {
    const onRim = libm.hypot(plane[2 * v], plane[2 * v + 1]) > 1 - 1e-9;
    out[v] = onRim ? 1 : (sum + share[v] / 2) / total;
    sum += share[v];
  }
  return out;
}
