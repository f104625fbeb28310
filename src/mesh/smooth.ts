import { libm, type Work } from '../numerics/index.ts';
import type { SizeField } from './field.ts';
import type { Shape } from './seeds.ts';
import { EdgeGrid, insideLoops } from './seeds.ts';
import { type Flat, triangulate } from './triangulate.ts';

/**
 * Interior points moved to the weighted mean of their triangles' centroids (centroidal patch triangulation, Chen and Holst 2011),
 * retriangulated after every pass; between passes points are dropped where they crowd and added where triangles are too big.
 * Weights are area / size^4, so that small wanted sizes stay small. Fixed points: the first `fixed`.
 */
export function* smoothingFill(shape: Shape, interior: number[], field: SizeField, passes: number): Work<{ coords: Float64Array; flat: Flat }> {
  const fixed = shape.coords.length / 2;
  let coords = Float64Array.from([...shape.coords, ...interior]);
  let flat = triangulate(withBow(coords, shape), shape.loops, shape.lines);
  const edges = new EdgeGrid(shape, field.h);
  for (let pass = 0; pass < passes; pass++) {
    yield;
    relax(coords, flat, fixed, field, edges);
    yield;
    if (pass === 2 || pass === 5 || pass === 8) {
      yield;
      coords = adjust(coords, flat, fixed, field, edges, shape);
      yield;
    }
    flat = triangulate(withBow(coords, shape), shape.loops, shape.lines);
  }
  return { coords, flat };
}

/** The points as the triangulation is to see them: straight outlines slightly bowed. */
function withBow(coords: Float64Array, shape: Shape): Float64Array {
  const bowed = coords.slice();
  bowed.set(shape.bowed);
  return bowed;
}

function relax(coords: Float64Array, flat: Flat, fixed: number, field: SizeField, edges: EdgeGrid): void {
  const n = coords.length / 2;
  const sum = new Float64Array(3 * n);
  const { tris } = flat;
  for (let t = 0; t < tris.length; t += 3) {
    const [a, b, c] = [tris[t], tris[t + 1], tris[t + 2]];
    const [ax, ay, bx, by, cx, cy] = [coords[2 * a], coords[2 * a + 1], coords[2 * b], coords[2 * b + 1], coords[2 * c], coords[2 * c + 1]];
    const gx = (ax + bx + cx) / 3;
    const gy = (ay + by + cy) / 3;
    let w = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    if (field.graded) w /= libm.square(libm.square(field.at(gx, gy)));
    for (const v of [a, b, c]) {
      sum[3 * v] += w * gx;
      sum[3 * v + 1] += w * gy;
      sum[3 * v + 2] += w;
    }
  }
  for (let v = fixed; v < n; v++) {
    if (!(sum[3 * v + 2] > 0)) continue;
    // Over-relaxed by 1.3: reaches the same arrangement in fewer triangulations.
    const x = coords[2 * v] + 1.3 * (sum[3 * v] / sum[3 * v + 2] - coords[2 * v]);
    const y = coords[2 * v + 1] + 1.3 * (sum[3 * v + 1] / sum[3 * v + 2] - coords[2 * v + 1]);
    // Near a reflex corner the mean may lie across the outline.
    if (!edges.clear(x, y, 0.35 * field.at(x, y))) continue;
    coords[2 * v] = x;
    coords[2 * v + 1] = y;
  }
}

/** Drops interior points nearer than 0.62 of the wanted size to a neighbour, adds circumcentres of triangles far too big. */
function adjust(coords: Float64Array, flat: Flat, fixed: number, field: SizeField, edges: EdgeGrid, shape: Shape): Float64Array<ArrayBuffer> {
  const n = coords.length / 2;
  const dropped = new Uint8Array(n);
  const { tris, half } = flat;
  const touched = new Uint8Array(n);
  for (let h = 0; h < tris.length; h++) {
    if (half[h] > h) continue;
    const a = tris[h];
    const b = tris[h % 3 === 2 ? h - 2 : h + 1];
    if ((a < fixed && b < fixed) || touched[a] || touched[b]) continue;
    const x = (coords[2 * a] + coords[2 * b]) / 2;
    const y = (coords[2 * a + 1] + coords[2 * b + 1]) / 2;
    if (libm.hypot(coords[2 * a] - coords[2 * b], coords[2 * a + 1] - coords[2 * b + 1]) < 0.62 * field.at(x, y)) {
      dropped[Math.max(a, b)] = 1;
      touched[a] = touched[b] = 1;
    }
  }
  const kept: number[] = [];
  for (let v = 0; v < n; v++) if (!dropped[v]) kept.push(coords[2 * v], coords[2 * v + 1]);
  for (let t = 0; t < tris.length; t += 3) {
    const [a, b, c] = [tris[t], tris[t + 1], tris[t + 2]];
    if (touched[a] || touched[b] || touched[c]) continue;
    const bx = coords[2 * b] - coords[2 * a];
    const by = coords[2 * b + 1] - coords[2 * a + 1];
    const cx = coords[2 * c] - coords[2 * a];
    const cy = coords[2 * c + 1] - coords[2 * a + 1];
    const twice = 2 * (bx * cy - by * cx);
    const ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / twice;
    const uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / twice;
    const x = coords[2 * a] + ux;
    const y = coords[2 * a + 1] + uy;
    const size = field.at(x, y);
    if (libm.hypot(ux, uy) < 0.82 * size || !edges.clear(x, y, 0.5 * size) || !insideLoops(shape.coords, shape.loops, x, y)) continue;
    kept.push(x, y);
    touched[a] = touched[b] = touched[c] = 1;
  }
  return Float64Array.from(kept);
}
