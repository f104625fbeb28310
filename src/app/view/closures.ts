/** What holds a bag shut, drawn where it lies: teeth of a zip, a cord in its channel, the two discs of a magnet or snap. Loaded for bags that have any. */
import type { BufferGeometry, Mesh, RawShaderMaterial } from 'three';
import type { ClothLook } from './palette.ts';
import type { SharedUniforms } from './programs.ts';
import { litMesh, ROD_LOOK, type Strip } from './straps.ts';

/** A closure as a result tells it: BandRun.closureLines. */
export interface DrawnClosure {
  readonly closed: boolean;
  readonly kind: string;
  /** 3 per point, m. */ readonly lines: readonly ArrayLike<number>[];
  /** m */ readonly size: number;
}

type V3 = readonly [number, number, number];
const at = (line: ArrayLike<number>, i: number): V3 => [line[3 * i], line[3 * i + 1], line[3 * i + 2]];
const mixed = (a: V3, b: V3, t: number): V3 => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
const minus = (a: V3, b: V3): V3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a: V3, instead: V3): V3 => {
  const l = Math.hypot(...a);
  return l > 1e-9 ? [a[0] / l, a[1] / l, a[2] / l] : instead;
};

/** From tooth to tooth, m; thickness of a tooth and of a cord, m; height of a disc, m. */
const PITCH = 0.003;
const TOOTH = 0.0009;
const CORD = 0.0022;
const DISC = 0.002;
const ROUND = 12;
const CORD_LOOK: ClothLook = { ...ROD_LOOK, face: [0.62, 0.57, 0.46], lining: [0.62, 0.57, 0.46] };

class Faces {
  private readonly position: number[] = [];
  private readonly normal: number[] = [];
  private readonly index: number[] = [];

  /** A tube of few sides from a to b, with its ends when asked. */
  tube(a: V3, b: V3, radius: number, ends = false): void {
    const axis = unit(minus(b, a), [0, 0, 1]),
      u = unit(cross(axis, Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]), [1, 0, 0]),
      w = cross(axis, u);
    const first = this.position.length / 3;
    for (let i = 0; i <= ROUND; i++) {
      const t = (2 * Math.PI * i) / ROUND,
        out: V3 = [0, 1, 2].map((k) => Math.cos(t) * u[k] + Math.sin(t) * w[k]) as unknown as V3;
      for (const p of [a, b]) {
        this.position.push(...[0, 1, 2].map((k) => p[k] + radius * out[k]));
        this.normal.push(...out);
      }
      const o = first + 2 * i;
      if (i > 0) this.index.push(o - 2, o, o - 1, o - 1, o, o + 1);
    }
    if (ends) for (const [p, sign] of [[a, -1] as const, [b, 1] as const]) this.cap(p, [sign * axis[0], sign * axis[1], sign * axis[2]], u, radius);
  }

  private cap(middle: V3, out: V3, u: V3, radius: number): void {
    const w = cross(out, u),
      first = this.position.length / 3;
    this.position.push(...middle);
    this.normal.push(...out);
    for (let i = 0; i <= ROUND; i++) {
      const t = (2 * Math.PI * i) / ROUND;
      this.position.push(...[0, 1, 2].map((k) => middle[k] + radius * (Math.cos(t) * u[k] + Math.sin(t) * w[k])));
      this.normal.push(...out);
      if (i > 0) this.index.push(first, first + i, first + i + 1);
    }
  }

  strip(): Strip {
    const n = this.position.length / 3;
    return { position: Float32Array.from(this.position), normal: Float32Array.from(this.normal), flat: new Float32Array(2 * n), index: this.index };
  }
}

/** Teeth across a zip, from one edge to the other where it is closed, along each edge by itself where it is open. */
function teeth(faces: Faces, [a, b]: readonly ArrayLike<number>[], closed: boolean, size: number): void {
  const n = Math.min(a.length, b.length) / 3;
  for (let i = 0; i + 1 < n; i++) {
    const many = Math.max(1, Math.round(Math.hypot(...minus(at(a, i + 1), at(a, i))) / PITCH));
    for (let k = 0; k < many; k++) {
      const [p, q] = [mixed(at(a, i), at(a, i + 1), k / many), mixed(at(b, i), at(b, i + 1), k / many)],
        apart = Math.hypot(...minus(p, q));
      if (closed && apart < 2 * size) faces.tube(p, q, TOOTH);
      // Half a tooth on either edge, toward the other.
      else for (const [from, to] of [[p, q] as const, [q, p] as const]) faces.tube(from, mixed(from, to, Math.min(0.5, size / 2 / (apart || 1))), TOOTH);
    }
  }
}

/** The meshes of the closures of one result. */
export function closureMeshes(closures: readonly DrawnClosure[], shared: SharedUniforms): Mesh<BufferGeometry, RawShaderMaterial>[] {
  const [metal, cord] = [new Faces(), new Faces()];
  let [hasMetal, hasCord] = [false, false];
  for (const { kind, closed, lines, size } of closures) {
    if (lines.length === 1) {
      hasCord = true;
      for (let i = 0; i + 1 < lines[0].length / 3; i++) cord.tube(at(lines[0], i), at(lines[0], i + 1), kind === 'drawstring' ? CORD : 2 * CORD);
      continue;
    }
    hasMetal = true;
    if (lines[0].length > 3) {
      teeth(metal, lines, closed, size);
      continue;
    }
    // Two discs on a common axis where it is closed; open, each is seen as a stud on its panel.
    const [p, q] = [at(lines[0], 0), at(lines[1], 0)],
      axis = closed ? unit(minus(p, q), [0, -1, 0]) : ([0, -1, 0] as V3);
    for (const [m, sign] of [[p, 1] as const, [q, closed ? -1 : 1] as const])
      metal.tube(m, [m[0] + sign * DISC * axis[0], m[1] + sign * DISC * axis[1], m[2] + sign * DISC * axis[2]], size / 2, true);
  }
  return [...(hasMetal ? [litMesh(metal.strip(), ROD_LOOK, shared)] : []), ...(hasCord ? [litMesh(cord.strip(), CORD_LOOK, shared)] : [])];
}
