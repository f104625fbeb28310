import type { ClothLook } from '../view/palette.ts';
import { cssColour, type Rgb, type SwatchTestName } from './core.ts';
import type { Piece } from './protocol.ts';
import { type Furniture, furnitureOf, type View, viewOf } from './views.ts';

/** Box in right and up, m. */
export interface Box {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

/** Screen of the picture: px per metre and where right = up = 0 lies, px. */
export interface Screen {
  readonly scale: number;
  readonly x0: number;
  readonly y0: number;
}

export const boxOf = (view: View, x: ArrayLike<number>): Box => {
  let [left, right, low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < x.length; i += 3) {
    const [a, b] = view.at(x[i], x[i + 1], x[i + 2]);
    [left, right, low, high] = [Math.min(left, a), Math.max(right, a), Math.min(low, b), Math.max(high, b)];
  }
  return { left, right, low, high };
};

export const around = (a: Box, b: Box): Box => ({
  left: Math.min(a.left, b.left),
  right: Math.max(a.right, b.right),
  low: Math.min(a.low, b.low),
  high: Math.max(a.high, b.high),
});

/** Largest scale of a round series at which the box fits, so that a small change of the box leaves the picture where it is. px per metre. */
export function scaleFor(box: Box, width: number, height: number): number {
  const most = Math.min(width / Math.max(box.right - box.left, 1e-3), height / Math.max(box.high - box.low, 1e-3));
  const series = [1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8, 10];
  const ten = 10 ** Math.floor(Math.log10(most));
  return ten * (series.filter((s) => s * ten <= most).pop() ?? 1);
}

const AMBIENT = 0.5;
/** Towards the light: from the upper left, before the picture. */
const LIGHT = [-0.35, -0.55, 0.76] as const;

/** A piece being drawn: its triangles, its outline, and its colours. */
export class Scene {
  readonly view: View;
  readonly furniture: Furniture;
  /** Vertices along the near long edge in order, for the dashed start; a disc's rim is drawn by its dimension instead. */
  private readonly near: number[];
  private readonly rim: Uint32Array;
  private readonly order: Uint32Array;
  constructor(
    readonly test: SwatchTestName,
    readonly piece: Piece,
    private readonly look: ClothLook,
  ) {
    this.view = viewOf(test);
    this.furniture = furnitureOf(test);
    this.rim = freeEdges(piece.triVerts);
    const { flat } = piece;
    this.near = [...new Set(piece.triVerts)].filter((v) => flat[2 * v + 1] < 1e-6).sort((a, b) => flat[2 * a] - flat[2 * b]);
    this.order = Uint32Array.from({ length: piece.triVerts.length / 3 }, (_, t) => t);
  }

  /** The start's near edge in right and up, m; empty where it says nothing. */
  startLine(): (readonly [number, number])[] {
    if (this.furniture === 'disc' || this.test === 'on-edge') return [];
    const { start } = this.piece;
    const line = this.near.map((v) => this.view.at(start[3 * v], start[3 * v + 1], start[3 * v + 2]));
    // A tube's near edge closes on itself.
    return this.test === 'tube' && line.length > 0 ? [...line, line[0]] : line;
  }

  /** Paints the piece at 3n positions: furthest triangles first, lit from the upper left, its other side darker. */
  paint(to: CanvasRenderingContext2D, x: ArrayLike<number>, screen: Screen): void {
    const { triVerts } = this.piece;
    const { view } = this;
    const px = (v: number): readonly [number, number] => {
      const [a, b] = view.at(x[3 * v], x[3 * v + 1], x[3 * v + 2]);
      return [screen.x0 + a * screen.scale, screen.y0 - b * screen.scale];
    };
    const far = new Float64Array(triVerts.length / 3);
    for (let t = 0; t < far.length; t++)
      for (let k = 0; k < 3; k++) {
        const v = 3 * triVerts[3 * t + k];
        far[t] += view.depth(x[v], x[v + 1], x[v + 2]);
      }
    this.order.sort((a, b) => far[b] - far[a]);
    to.lineJoin = 'round';
    to.lineWidth = 0.8;
    for (const t of this.order) {
      const [a, b, c] = [px(triVerts[3 * t]), px(triVerts[3 * t + 1]), px(triVerts[3 * t + 2])];
      const colour = this.shade(x, 3 * t);
      to.fillStyle = colour;
      // The same colour along the edges closes the hairlines between neighbours.
      to.strokeStyle = colour;
      to.beginPath();
      to.moveTo(...a);
      to.lineTo(...b);
      to.lineTo(...c);
      to.closePath();
      to.fill();
      to.stroke();
    }
    to.strokeStyle = 'rgb(21 32 31 / 70%)';
    to.lineWidth = 1.2;
    to.beginPath();
    for (let e = 0; e < this.rim.length; e += 2) {
      to.moveTo(...px(this.rim[e]));
      to.lineTo(...px(this.rim[e + 1]));
    }
    to.stroke();
  }

  /** Colour of the face lying flat before the light. */
  flatColour(): string {
    const lit = AMBIENT + (1 - AMBIENT) * LIGHT[2];
    return cssColour(this.look.face.map((v) => v * lit) as unknown as Rgb);
  }

  private shade(x: ArrayLike<number>, corner: number): string {
    const { triVerts } = this.piece;
    const [a, b, c] = [3 * triVerts[corner], 3 * triVerts[corner + 1], 3 * triVerts[corner + 2]];
    const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
    const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
    let [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.hypot(nx, ny, nz) || 1;
    const facing = nx * this.view.eye[0] + ny * this.view.eye[1] + nz * this.view.eye[2];
    const side = facing < 0 ? -1 : 1;
    [nx, ny, nz] = [(side * nx) / size, (side * ny) / size, (side * nz) / size];
    const lit = AMBIENT + (1 - AMBIENT) * Math.max(0, nx * LIGHT[0] + ny * LIGHT[1] + nz * LIGHT[2]);
    const face = side > 0 ? this.look.face : this.look.face.map((v) => 0.72 * v);
    return cssColour(face.map((v) => v * lit) as unknown as Rgb);
  }
}

/** Edges of one triangle only, as pairs of vertices. */
function freeEdges(triVerts: Uint32Array): Uint32Array {
  const seen = new Map<string, readonly [number, number] | null>();
  for (let t = 0; t < triVerts.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triVerts[t + k], triVerts[t + ((k + 1) % 3)]];
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      seen.set(key, seen.has(key) ? null : [a, b]);
    }
  return Uint32Array.from([...seen.values()].flatMap((e) => e ?? []));
}
