import { libm } from '../numerics/index.ts';
import type { SizeField } from './field.ts';

/** What has to be filled: points so far (2 per point), closed loops and lines over them. */
export interface Shape {
  readonly coords: readonly number[];
  /** The same points as the triangulation sees them (Rim.bowed). */ readonly bowed: readonly number[];
  readonly loops: readonly (readonly number[])[];
  readonly lines: readonly (readonly [number, number])[];
  /** Convex corners whose two edges are sewn to each other: they need three triangles, or the cone they make would be a flat pocket. */
  readonly cones: ReadonlySet<number>;
}

/** Points already taken, in a grid of cell h, to keep new ones at a distance. */
class Taken {
  private readonly cells = new Map<number, number[]>();
  constructor(
    private readonly cell: number,
    private readonly xy: number[],
  ) {}
  private key(x: number, y: number): number {
    return Math.floor(x / this.cell) * 1048576 + Math.floor(y / this.cell);
  }
  add(i: number): void {
    const key = this.key(this.xy[2 * i], this.xy[2 * i + 1]);
    const list = this.cells.get(key);
    if (list) list.push(i);
    else this.cells.set(key, [i]);
  }
  /** true when a taken point lies nearer than r <= cell. */
  near(x: number, y: number, r: number): boolean {
    const ci = Math.floor(x / this.cell);
    const cj = Math.floor(y / this.cell);
    for (let i = ci - 1; i <= ci + 1; i++)
      for (let j = cj - 1; j <= cj + 1; j++)
        for (const k of this.cells.get(i * 1048576 + j) ?? []) {
          const dx = this.xy[2 * k] - x;
          const dy = this.xy[2 * k + 1] - y;
          if (dx * dx + dy * dy < r * r) return true;
        }
    return false;
  }
}

/** How far inside the outline the first row of points sits, in edge lengths: less than the 0.866 of a hexagonal row, smoothing opens it. */
const FIRST_ROW = 0.62;

/**
 * Interior points: one on the bisector of every convex corner, so that a corner is never a single triangle hanging by two outline
 * edges, then rows of a hexagonal lattice (equilateral triangles of side h), finer lattices where the size field asks for it.
 * `shift` 0..1 moves the lattice, to try again when a shape meets it badly. Returns x, y pairs.
 */
export function seedPoints(shape: Shape, field: SizeField, shift: number): number[] {
  const { coords, loops } = shape;
  const h = field.h;
  const points: number[] = [];
  const taken = new Taken(h, points);
  const edges = new EdgeGrid(shape, h);
  const place = (x: number, y: number, apart: number): void => {
    if (taken.near(x, y, apart)) return;
    points.push(x, y);
    taken.add(points.length / 2 - 1);
  };
  for (const loop of loops)
    loop.forEach((v, i) => {
      const [before, after] = [loop[(i + loop.length - 1) % loop.length], loop[(i + 1) % loop.length]];
      if (shape.cones.has(v)) for (const [x, y, size] of coneSeeds(coords, before, v, after)) place(x, y, 0.4 * size);
      const seed = shape.cones.has(v) ? null : cornerSeed(coords, before, v, after);
      if (seed && insideLoops(coords, loops, seed[0], seed[1]) && edges.clear(seed[0], seed[1], 0.45 * seed[2])) place(seed[0], seed[1], 0.6 * seed[2]);
    });
  let [minX, minY, maxX, maxY] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let finest = h;
  for (const loop of loops)
    for (const v of loop) {
      minX = Math.min(minX, coords[2 * v]);
      maxX = Math.max(maxX, coords[2 * v]);
      minY = Math.min(minY, coords[2 * v + 1]);
      maxY = Math.max(maxY, coords[2 * v + 1]);
      if (field.graded) finest = Math.min(finest, field.at(coords[2 * v], coords[2 * v + 1]));
    }
  // Coarse to fine in steps of sqrt 2: a point of a lattice is kept where the field asks for about that spacing.
  const levels = field.graded ? Math.min(16, Math.max(0, Math.ceil((2 * libm.log(h / finest)) / libm.log(2)))) : 0;
  let step = h;
  for (let level = 0; level <= levels; level++, step *= Math.SQRT1_2) {
    // Rows fitted to the height, so that the last row meets the top edge as the first meets the bottom.
    const rows = Math.max(1, Math.round((maxY - minY) / (step * 0.8660254)));
    const dy = (maxY - minY) / rows;
    const columns = Math.max(1, Math.round((maxX - minX) / step));
    const dx = (maxX - minX) / columns;
    for (let r = 0; r <= rows; r++) {
      const y = minY + (r + shift * 0.5) * dy;
      const spans = crossingsAt(coords, loops, y);
      const offset = (r % 2 === 0 ? 0 : 0.5) + shift;
      for (let k = 0; k + 1 < spans.length; k += 2)
        for (let c = Math.ceil((spans[k] - minX) / dx - offset); minX + (c + offset) * dx < spans[k + 1]; c++) {
          const x = minX + (c + offset) * dx;
          const size = field.at(x, y);
          if (field.graded && (size > step * 1.19 || size < step * 0.84) && !(level === levels && size <= step * 1.19)) continue;
          if (!edges.clear(x, y, FIRST_ROW * size)) continue;
          place(x, y, 0.7 * size);
        }
    }
  }
  return points;
}

/** Point on the bisector of a convex corner, at the far tip of the rhombus its two outline edges span, with that edge length. */
function cornerSeed(coords: readonly number[], before: number, v: number, after: number): [number, number, number] | null {
  const ax = coords[2 * before] - coords[2 * v];
  const ay = coords[2 * before + 1] - coords[2 * v + 1];
  const bx = coords[2 * after] - coords[2 * v];
  const by = coords[2 * after + 1] - coords[2 * v + 1];
  const la = libm.hypot(ax, ay);
  const lb = libm.hypot(bx, by);
  const angle = libm.atan2(bx * ay - by * ax, ax * bx + ay * by);
  const size = Math.min(la, lb);
  // Below 55 degrees two triangles would be slivers; above 130 an ordinary row does it.
  if (angle < 0.96 || angle > 2.27) return null;
  const mx = ax / la + bx / lb;
  const my = ay / la + by / lb;
  const m = libm.hypot(mx, my);
  const reach = size * Math.min(1.2, Math.max(0.95, 1.7 * libm.cos(angle / 2)));
  return [coords[2 * v] + (mx / m) * reach, coords[2 * v + 1] + (my / m) * reach, size];
}

/** Two points at a third and two thirds of a corner's angle, as far out as its outline edges are long: with them it has three triangles. */
function coneSeeds(coords: readonly number[], before: number, v: number, after: number): [number, number, number][] {
  const [ax, ay] = [coords[2 * after] - coords[2 * v], coords[2 * after + 1] - coords[2 * v + 1]];
  const [bx, by] = [coords[2 * before] - coords[2 * v], coords[2 * before + 1] - coords[2 * v + 1]];
  const size = Math.min(libm.hypot(ax, ay), libm.hypot(bx, by));
  const start = libm.atan2(ay, ax);
  const angle = libm.atan2(ax * by - ay * bx, ax * bx + ay * by);
  return [angle / 3, (2 * angle) / 3].map((turn) => [coords[2 * v] + size * libm.cos(start + turn), coords[2 * v + 1] + size * libm.sin(start + turn), size]);
}

/** x where the loops cross the height y, increasing: inside between the 1st and 2nd, the 3rd and 4th... */
function crossingsAt(coords: readonly number[], loops: readonly (readonly number[])[], y: number): number[] {
  const xs: number[] = [];
  for (const loop of loops)
    for (let i = 0; i < loop.length; i++) {
      const a = loop[i];
      const b = loop[(i + 1) % loop.length];
      const ya = coords[2 * a + 1];
      const yb = coords[2 * b + 1];
      if (ya > y !== yb > y) xs.push(coords[2 * a] + ((y - ya) / (yb - ya)) * (coords[2 * b] - coords[2 * a]));
    }
  return xs.sort((p, q) => p - q);
}

/** true inside the outline and outside the holes. */
export function insideLoops(coords: readonly number[], loops: readonly (readonly number[])[], x: number, y: number): boolean {
  return crossingsAt(coords, loops, y).filter((c) => c < x).length % 2 === 1;
}

/** Outline and inner segments in a grid, to ask whether a point keeps its distance. */
export class EdgeGrid {
  private readonly cells = new Map<number, number[]>();
  private readonly segments: number[] = [];
  constructor(
    shape: Shape,
    private readonly cell: number,
  ) {
    const { coords, loops, lines } = shape;
    const add = (a: number, b: number): void => {
      const id = this.segments.length / 4;
      const [x0, y0, x1, y1] = [coords[2 * a], coords[2 * a + 1], coords[2 * b], coords[2 * b + 1]];
      this.segments.push(x0, y0, x1, y1);
      for (let i = Math.floor((Math.min(x0, x1) - cell) / cell); i <= Math.floor((Math.max(x0, x1) + cell) / cell); i++)
        for (let j = Math.floor((Math.min(y0, y1) - cell) / cell); j <= Math.floor((Math.max(y0, y1) + cell) / cell); j++) {
          const list = this.cells.get(i * 1048576 + j);
          if (list) list.push(id);
          else this.cells.set(i * 1048576 + j, [id]);
        }
    };
    for (const loop of loops) for (let i = 0; i < loop.length; i++) add(loop[i], loop[(i + 1) % loop.length]);
    for (const [a, b] of lines) add(a, b);
  }
  /** true when no segment lies nearer than r <= cell. */
  clear(x: number, y: number, r: number): boolean {
    for (const id of this.cells.get(Math.floor(x / this.cell) * 1048576 + Math.floor(y / this.cell)) ?? []) {
      const [x0, y0, x1, y1] = [this.segments[4 * id], this.segments[4 * id + 1], this.segments[4 * id + 2], this.segments[4 * id + 3]];
      const ex = x1 - x0;
      const ey = y1 - y0;
      const t = Math.min(1, Math.max(0, ((x - x0) * ex + (y - y0) * ey) / (ex * ex + ey * ey)));
      if (libm.hypot(x - x0 - t * ex, y - y0 - t * ey) < r) return false;
    }
    return true;
  }
}
