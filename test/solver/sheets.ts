import { seeded } from '../../src/numerics/index.ts';
import type { Model, Support } from '../../src/solver/types.ts';

export { seeded as random };

export interface SheetSpec {
  readonly nx: number;
  readonly ny: number;
  readonly width: number;
  readonly length: number;
  /** kg/m2 */ readonly arealMass: number;
  readonly D: readonly [number, number, number, number];
  readonly C: readonly [number, number, number, number];
  /** inner vertices moved by this fraction of the cell, seeded */ readonly jitter?: number;
  readonly seed?: number;
  /** warp turned by this angle from +x, rad */ readonly angle?: number;
  /** hinges along the column x = seamAt become seams of this stiffness */ readonly seamAt?: number;
  readonly seamStiffness?: number;
  /** clamp the edge x = 0, direction -x */ readonly clamp?: boolean;
}

/** A flat rectangular sheet in the plane z = 0: length along x, width along y, one-way diagonals. Returns the model and its positions. */
export function flatSheet(s: SheetSpec): { model: Model; x: Float64Array; vertex: (i: number, j: number) => number } {
  const rand = seeded(s.seed ?? 1),
    nv = (s.nx + 1) * (s.ny + 1),
    vertex = (i: number, j: number) => i * (s.ny + 1) + j;
  const flat = new Float64Array(2 * nv),
    x = new Float64Array(3 * nv),
    hx = s.length / s.nx,
    hy = s.width / s.ny;
  for (let i = 0; i <= s.nx; i++)
    for (let j = 0; j <= s.ny; j++) {
      const inner = i > 0 && i < s.nx && j > 0 && j < s.ny && i !== s.seamAt ? (s.jitter ?? 0) : 0;
      flat[2 * vertex(i, j)] = hx * (i + inner * (rand() - 0.5));
      flat[2 * vertex(i, j) + 1] = hy * (j + inner * (rand() - 0.5));
    }
  for (let v = 0; v < nv; v++) {
    x[3 * v] = flat[2 * v]!;
    x[3 * v + 1] = flat[2 * v + 1]!;
  }
  const tris: number[] = [];
  for (let i = 0; i < s.nx; i++)
    for (let j = 0; j < s.ny; j++) {
      const a = vertex(i, j),
        b = vertex(i + 1, j),
        c = vertex(i + 1, j + 1),
        d = vertex(i, j + 1);
      tris.push(a, b, c, a, c, d);
    }
  return {
    ...modelFrom(s, flat, Uint32Array.from(tris), s.seamAt === undefined ? null : (v) => Math.floor(v / (s.ny + 1)) === s.seamAt, (v) => v <= s.ny),
    x,
    vertex,
  };
}

function modelFrom(
  s: SheetSpec,
  flat: Float64Array,
  triVerts: Uint32Array,
  onSeam: ((v: number) => boolean) | null,
  onClamp: (v: number) => boolean,
): { model: Model } {
  const m = triVerts.length / 3,
    n = flat.length / 2,
    c = Math.cos(s.angle ?? 0),
    sn = Math.sin(s.angle ?? 0);
  const triRest = new Float64Array(6 * m),
    mass = new Float64Array(n),
    stretch = new Float64Array(4 * m),
    bend = new Float64Array(4 * m);
  const edge = new Map<number, [number, number, number, number, number]>();
  const hv: number[] = [],
    ht: number[] = [],
    hl: number[] = [],
    hk: number[] = [],
    cv: number[] = [],
    ct: number[] = [],
    cl: number[] = [];
  for (let t = 0; t < m; t++) {
    const v = [triVerts[3 * t]!, triVerts[3 * t + 1]!, triVerts[3 * t + 2]!];
    const p = v.map((i) => [flat[2 * i]!, flat[2 * i + 1]!] as const);
    const A = 0.5 * ((p[1]![0] - p[0]![0]) * (p[2]![1] - p[0]![1]) - (p[2]![0] - p[0]![0]) * (p[1]![1] - p[0]![1]));
    for (let k = 0; k < 3; k++) {
      triRest[6 * t + 2 * k] = c * p[k]![0] + sn * p[k]![1];
      triRest[6 * t + 2 * k + 1] = -sn * p[k]![0] + c * p[k]![1];
      mass[v[k]!] = mass[v[k]!]! + (s.arealMass * A) / 3;
      const e0 = v[(k + 1) % 3]!,
        e1 = v[(k + 2) % 3]!,
        key = Math.min(e0, e1) * n + Math.max(e0, e1),
        old = edge.get(key);
      if (!old) edge.set(key, [e0, e1, v[k]!, t, k]);
      else {
        hv.push(old[0], old[1], old[2], v[k]!);
        ht.push(old[3], t);
        hl.push(old[4], k);
        hk.push(onSeam?.(e0) && onSeam(e1) ? (s.seamStiffness ?? 0) : Number.POSITIVE_INFINITY);
        edge.delete(key);
      }
    }
    stretch.set(s.C, 4 * t);
    bend.set(s.D, 4 * t);
  }
  const held = new Uint8Array(n),
    dir: number[] = [];
  if (s.clamp) {
    for (let i = 0; i < n; i++) if (onClamp(i)) held[i] = 1;
    for (const [e0, e1, o, t, k] of edge.values()) {
      if (!onClamp(e0) || !onClamp(e1)) continue;
      cv.push(e0, e1, o);
      ct.push(t);
      cl.push(k);
      dir.push(-1, 0, 0);
    }
  }
  return {
    model: {
      vertexCount: n,
      triVerts,
      triRest,
      triStretch: stretch,
      triBend: bend,
      mass,
      gravity: [0, 0, -9.80665],
      hingeVerts: Uint32Array.from(hv),
      hingeTris: Uint32Array.from(ht),
      hingeLocal: Uint8Array.from(hl),
      hingeStiffness: Float64Array.from(hk),
      hingeRest: new Float64Array(hk.length),
      clampVerts: Uint32Array.from(cv),
      clampTris: Uint32Array.from(ct),
      clampLocal: Uint8Array.from(cl),
      clampDir: Float64Array.from(dir),
      held,
      supports: [],
    },
  };
}

/** Two smooth plates that keep a strip between y = 0 and `width` in its plane, where theory speaks of a plane curve. */
export const plates = (width: number): Support[] =>
  [0, 1].map((side) => {
    const [skin, way] = [5e-4, 1 - 2 * side];
    return { name: 'plate', sdf: { kind: 'plane', point: [0, side * width - way * skin, 0], normal: [0, way, 0] }, friction: 0, offset: skin };
  });
