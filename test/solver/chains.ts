import type { RodChain } from '../../src/solver/elastic/rod-chains.ts';
import type { Cables, Model, Support } from '../../src/solver/types.ts';

export interface Chain {
  /** Points from one end to the other, m. */ readonly points: readonly (readonly [number, number, number])[];
  /** kg at every point. */ readonly mass: readonly number[];
  /** EA, N */ readonly stiffness: number;
  readonly held?: readonly number[];
  readonly supports?: readonly Support[];
  /** Further pieces: two points with a rest length, m. */ readonly struts?: readonly (readonly [number, number, number])[];
  /** 3 per point: constant forces, N. */ readonly load?: Float64Array;
  /** Force on the bar at each point, N, for the contact springs. */ readonly pressed?: number;
}

/** A chain of cables with no cloth: rest lengths as drawn. */
export function chain(c: Chain): { model: Model; x: Float64Array } {
  const n = c.points.length,
    x = Float64Array.from(c.points.flat()),
    pairs: [number, number, number][] = [];
  for (let i = 0; i + 1 < n; i++) pairs.push([i, i + 1, Math.hypot(...[0, 1, 2].map((k) => x[3 * i + 3 + k]! - x[3 * i + k]!))]);
  pairs.push(...(c.struts ?? []).map(([a, b, l]): [number, number, number] => [a, b, l]));
  const cables: Cables = {
    start: Uint32Array.from({ length: pairs.length + 1 }, (_, i) => 2 * i),
    verts: Uint32Array.from(pairs.flatMap((p) => [p[0], p[1]])),
    weights: Float64Array.from(pairs.flatMap(() => [-1, 1])),
    rest: Float64Array.from(pairs, (p) => p[2]),
    stiffness: new Float64Array(pairs.length).fill(c.stiffness),
    cableOf: Uint32Array.from({ length: pairs.length }, (_, i) => i),
    contactEdges: new Uint32Array(0),
  };
  const held = new Uint8Array(n);
  for (const v of c.held ?? []) held[v] = 1;
  const none = new Uint32Array(0),
    zero = new Float64Array(0);
  return {
    x,
    model: {
      vertexCount: n,
      triVerts: none,
      triRest: zero,
      triStretch: zero,
      triBend: zero,
      mass: Float64Array.from(c.mass),
      gravity: [0, 0, -9.80665],
      hingeVerts: none,
      hingeTris: none,
      hingeLocal: new Uint8Array(0),
      hingeStiffness: zero,
      hingeRest: zero,
      clampVerts: none,
      clampTris: none,
      clampLocal: new Uint8Array(0),
      clampDir: zero,
      held,
      supports: c.supports ?? [],
      cables,
      ...(c.load === undefined ? {} : { load: c.load }),
      ...(c.pressed === undefined ? {} : { pressed: new Float64Array(n).fill(c.pressed) }),
    },
  };
}

type Point = readonly [number, number, number];
const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const length = (a: Point): number => Math.hypot(...a);
const between = (a: Point, b: Point): number => Math.acos(Math.max(-1, Math.min(1, (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / (length(a) * length(b)))));

/** A rod through points, of the lengths and turns drawn; straight at rest unless `formed`. A ring ends at its first point. */
export function rodThrough(
  points: readonly Point[],
  o: { readonly rigidity: number; readonly stiffness: number; readonly ring?: boolean; readonly formed?: boolean; readonly walls?: RodChain['walls'] },
): RodChain {
  const all = o.ring ? [...points, points[0]!] : points,
    sides = all.slice(1).map((p, i) => minus(p, all[i]!)),
    lengths = sides.map(length),
    flat = all.map((_, i) => {
      const [one, two] = [i > 0 ? sides[i - 1] : o.ring ? sides.at(-1) : undefined, i < sides.length ? sides[i] : o.ring ? sides[0] : undefined];
      return one && two ? between(one, two) : 0;
    });
  return {
    verts: all.map((_, i) => i % points.length),
    lengths,
    from: 0,
    to: lengths.reduce((a, b) => a + b, 0),
    rigidity: o.rigidity,
    stiffness: o.stiffness,
    turns: flat.map((t) => (o.formed ? t : 0)),
    flat,
    walls: o.walls ?? [null, null],
  };
}
