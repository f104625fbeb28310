import type { Form } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import type { Placed } from '../types.ts';
import { depthOf, type Frame, faceNormal, INTO } from './camera.ts';
import { lampOn, type Piece, triangle } from './paint.ts';
import { SOLID } from './tokens.ts';

/** A rigid thing as it is drawn: triangles seen from outside run counterclockwise. */
export interface Solid {
  /** 3 per vertex, m */ readonly x: Float64Array;
  readonly triVerts: Uint32Array;
}

const ROUND = 28;
const BANDS = 14;
/** Squares along a box's edge: small triangles, because their middles decide what hides what. */
const SQUARES = 8;
/** Cloth lies on it: where both are equally near, the cloth is what is seen, m. */
const UNDER = 0.008;

type Point = readonly [number, number, number];

/** Points p(i, j), i = 0..n, j = 0..m, joined into triangles. */
function grid(n: number, m: number, p: (i: number, j: number) => Point, x: number[], tris: number[]): void {
  const first = x.length / 3;
  for (let i = 0; i <= n; i++) for (let j = 0; j <= m; j++) x.push(...p(i, j));
  for (let i = 0; i < n; i++)
    for (let j = 0; j < m; j++) {
      const a = first + i * (m + 1) + j;
      tris.push(a, a + 1, a + m + 2, a, a + m + 2, a + m + 1);
    }
}

/** A profile (distance from the axis, height along it; from its lower end up) turned about the axis. */
function revolved(profile: readonly (readonly [number, number])[], along: 'x' | 'y' | 'z', at: Point, x: number[], tris: number[]): void {
  const place = (u: number, v: number, w: number): Point =>
    along === 'z' ? [at[0] + u, at[1] + v, at[2] + w] : along === 'x' ? [at[0] + w, at[1] + u, at[2] + v] : [at[0] + v, at[1] + w, at[2] + u];
  grid(
    profile.length - 1,
    ROUND,
    (i, j) => {
      const a = (2 * Math.PI * j) / ROUND;
      const [r, h] = profile[i];
      return place(r * libm.cos(a), r * libm.sin(a), h);
    },
    x,
    tris,
  );
}

/** Outline of a round end from pole to equator or back, radius r about height h. */
const dome = (r: number, h: number, up: boolean): [number, number][] =>
  Array.from({ length: BANDS + 1 }, (_, i) => {
    const a = ((up ? i : i - BANDS) * Math.PI) / (2 * BANDS);
    return [r * libm.cos(a), h + r * libm.sin(a)];
  });

/** Triangles of a form where it stands, world axes; of a cylinder the rounded rims are drawn sharp. */
export function solidOf(f: Form): Solid {
  const x: number[] = [];
  const tris: number[] = [];
  if (f.form === 'ball') revolved([...dome(f.diameter / 2, 0, false), ...dome(f.diameter / 2, 0, true)], 'z', f.at, x, tris);
  else if (f.form === 'roll') {
    const [r, h] = [f.diameter / 2, f.length / 2];
    const flat = (z: number, up: boolean) => Array.from({ length: 5 }, (_, i): [number, number] => [(r * (up ? 4 - i : i)) / 4, z]);
    const side = Array.from({ length: SQUARES + 1 }, (_, i): [number, number] => [r, -h + (2 * h * i) / SQUARES]);
    revolved([...flat(-h, false), ...side, ...flat(h, true)], f.along, f.at, x, tris);
  } else if (f.form === 'bolster') {
    const [r, h] = [f.diameter / 2, (f.length - f.diameter) / 2];
    const side = Array.from({ length: SQUARES + 1 }, (_, i): [number, number] => [r, -h + (2 * h * i) / SQUARES]);
    revolved([...dome(r, -h, false), ...side, ...dome(r, h, true)], f.along, f.at, x, tris);
  } else {
    const [c, s] = [libm.cos(f.turn), libm.sin(f.turn)];
    const [a, b, h] = [f.size[0] / 2, f.size[1] / 2, f.size[2] / 2];
    const put = (u: number, v: number, w: number): Point => [f.at[0] + c * u * a - s * v * b, f.at[1] + s * u * a + c * v * b, f.at[2] + w * h];
    if (f.form === 'egg') {
      const profile = [...dome(1, 0, false), ...dome(1, 0, true)];
      grid(
        profile.length - 1,
        ROUND,
        (i, j) => put(profile[i][0] * libm.cos((2 * Math.PI * j) / ROUND), profile[i][0] * libm.sin((2 * Math.PI * j) / ROUND), profile[i][1]),
        x,
        tris,
      );
    } else {
      // A point of the sharp box, drawn in to the rounded one: as far from the box that is smaller by the radius all round as the radius says.
      const rounded = (u: number, v: number, w: number): Point => {
        const q = [u * a, v * b, w * h];
        const inner = [a, b, h].map((half, k) => Math.max(-(half - f.round), Math.min(half - f.round, q[k])));
        const out = q.map((c, k) => c - inner[k]);
        const l = libm.norm(out);
        const p = inner.map((c, k) => (l > 0 ? c + (f.round * out[k]) / l : c));
        return put(p[0] / a, p[1] / b, p[2] / h);
      };
      // Even steps over the flat part, one more on either side round to the edge's middle.
      const step = (i: number, half: number): number => {
        const flat = 1 - f.round / half;
        return i === 0 ? -1 : i === SQUARES ? 1 : flat * ((2 * (i - 1)) / (SQUARES - 2) - 1);
      };
      for (const side of [-1, 1])
        for (const face of [0, 1, 2]) {
          const [iHalf, jHalf] = [
            [h, b],
            [a, h],
            [b, a],
          ][face];
          const p = (i: number, j: number): Point => {
            // The other side runs the other way round, so that every face looks outward.
            const [u, v] = [side * step(i, iHalf), step(j, jHalf)];
            return face === 0 ? rounded(side, v, u) : face === 1 ? rounded(u, side, v) : rounded(v, u, side);
          };
          grid(SQUARES, SQUARES, p, x, tris);
        }
    }
  }
  return { x: Float64Array.from(x), triVerts: Uint32Array.from(tris) };
}

/** Triangles of a rigid thing in the bag where it lies, world axes. */
export function solidOfThing({ shape, at, axes }: Placed): Solid {
  const plain = { at: [0, 0, 0] as const, friction: 0 };
  const own =
    shape.kind === 'box'
      ? solidOf({ ...plain, form: 'block', size: [2 * shape.half[0], 2 * shape.half[1], 2 * shape.half[2]], round: shape.round, turn: 0 })
      : shape.kind === 'cylinder'
        ? solidOf({ ...plain, form: 'roll', diameter: 2 * shape.radius, length: shape.b[2] - shape.a[2], along: 'z', round: shape.round })
        : solidOf({ ...plain, form: 'ball', diameter: shape.kind === 'sphere' ? 2 * shape.radius : 0 });
  const x = own.x.slice();
  for (let i = 0; i < x.length; i += 3)
    for (let k = 0; k < 3; k++) x[i + k] = at[k] + own.x[i] * axes[k] + own.x[i + 1] * axes[3 + k] + own.x[i + 2] * axes[6 + k];
  return { x, triVerts: own.triVerts };
}

/** Pieces of a solid for the painter, far things first: only what faces the reader. x: its posed positions. */
export function solidPieces(frame: Frame, solid: Solid, x: Float64Array): Piece[] {
  const out: Piece[] = [];
  for (let t = 0; t < solid.triVerts.length / 3; t++) {
    const n = faceNormal(x, solid.triVerts, t);
    const l = libm.norm(n);
    if (l < 1e-12 || n[0] * INTO[0] + n[1] * INTO[1] + n[2] * INTO[2] >= 0) continue;
    const corners = [0, 1, 2].map((k) => solid.triVerts[3 * t + k]);
    const fill = lampOn([n[0] / l, n[1] / l, n[2] / l], SOLID.dark, SOLID.light);
    out.push({ depth: UNDER + corners.reduce((s, v) => s + depthOf(x, v), 0) / 3, svg: triangle(frame, x, corners, fill) });
  }
  return out;
}
