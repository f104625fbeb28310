/** What holds a bag shut along a line, drawn where it lies: teeth of a zip, a cord in its channel. Loaded for bags that have any. */
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

/** From tooth to tooth, m; thickness of a tooth and of a cord, m. */
const PITCH = 0.003;
const TOOTH = 0.0009;
const CORD = 0.0022;
const ROUND = 12;
const CORD_LOOK: ClothLook = { ...ROD_LOOK, face: [0.62, 0.57, 0.46], lining: [0.62, 0.57, 0.46] };

class Faces {
  private readonly position: number[] = [];
  private readonly normal: number[] = [];
  private readonly index: number[] = [];

  /** A tube of few sides from a to b. */
  tube(a: V3, b: V3, radius: number): void {
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
    // Magnets, snaps and the like stand on the cloth: metal.ts.
    if (lines[0].length <= 3) continue;
    hasMetal = true;
    teeth(metal, lines, closed, size);
  }
  return [...(hasMetal ? [litMesh(metal.strip(), ROD_LOOK, shared)] : []), ...(hasCord ? [litMesh(cord.strip(), CORD_LOOK, shared)] : [])];
}
