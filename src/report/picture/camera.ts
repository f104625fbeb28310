import type { BagMesh } from '../../mesh/types.ts';
import { libm } from '../../numerics/index.ts';

/**
 * Cabinet view: the bag's front stays true to scale and what lies behind it moves right and up, so heights can be read off the tape.
 * Screen x = x + RIGHT y, screen y (up) = z + UP y, with the bag turned until its front faces the reader (-y).
 */
export const RIGHT = 0.38;
export const UP = 0.24;

/** Direction into the picture: points along it fall on one spot of the screen. Unit length. */
const ray = [-RIGHT, 1, -UP];
const rayLength = libm.norm(ray);
export const INTO: readonly [number, number, number] = [ray[0] / rayLength, ray[1] / rayLength, ray[2] / rayLength];

/** Positions turned about the upright so that the front faces -y, centred on the drafted footprint; floor at z = 0. */
export interface Posed {
  readonly drafted: Float64Array;
  readonly settled: Float64Array;
  /** What stands or hangs with it (straps' middle lines, forms), 3 per point, in the order given. */ readonly beside: readonly Float64Array[];
}

/**
 * Turns drafted and settled positions alike. The front is told by the panel named "front" (else the largest drafted wall): the view must not
 * depend on the axes in which the bag was drafted. The drafted bag's nearest point gets y = 0.
 */
export function poseForView(mesh: BagMesh, drafted: Float64Array, settled: Float64Array, beside: readonly Float64Array[] = []): Posed {
  const [nx, ny] = frontNormal(mesh, drafted);
  const l = libm.hypot(nx, ny);
  // Rotation that carries (nx, ny) to (0, -1); flat sheets keep their own axes.
  const c = l > 1e-9 ? -ny / l : 1;
  const s = l > 1e-9 ? -nx / l : 0;
  const turned = [drafted, settled, ...beside].map((x) => {
    const out = new Float64Array(x.length);
    for (let i = 0; i < x.length; i += 3) {
      out[i] = c * x[i] - s * x[i + 1];
      out[i + 1] = s * x[i] + c * x[i + 1];
      out[i + 2] = x[i + 2];
    }
    return out;
  });
  const box = bounds(turned[0]);
  const floor = Math.min(...turned.map((x) => bounds(x).low[2]));
  const shift = [-(box.low[0] + box.high[0]) / 2, -box.low[1], -floor];
  for (const x of turned) for (let i = 0; i < x.length; i++) x[i] += shift[i % 3];
  return { drafted: turned[0], settled: turned[1], beside: turned.slice(2) };
}

function frontNormal(mesh: BagMesh, x: Float64Array): [number, number] {
  const sums = mesh.panelNames.map(() => [0, 0, 0]);
  for (let t = 0; t < mesh.triPanel.length; t++) {
    const n = faceNormal(x, mesh.triVerts, t);
    for (let k = 0; k < 3; k++) sums[mesh.triPanel[t]][k] += n[k];
  }
  const named = mesh.panelNames.findIndex((name) => /^front/i.test(name));
  const level = sums.map(([a, b]) => libm.hypot(a, b));
  const pick = named >= 0 ? named : level.indexOf(Math.max(...level));
  const [a, b, c] = sums[pick];
  // A sheet lying level, or a closed tube, faces nowhere: leave it as drafted.
  return libm.hypot(a, b) > 0.2 * libm.hypot(a, b, c) && libm.hypot(a, b) > 1e-9 ? [a, b] : [0, 0];
}

/** (b - a) x (c - a) of triangle t: twice its area, out of the face. */
export function faceNormal(x: Float64Array, triVerts: ArrayLike<number>, t: number): [number, number, number] {
  const a = 3 * triVerts[3 * t];
  const b = 3 * triVerts[3 * t + 1];
  const c = 3 * triVerts[3 * t + 2];
  const [ux, uy, uz] = [x[b] - x[a], x[b + 1] - x[a + 1], x[b + 2] - x[a + 2]];
  const [vx, vy, vz] = [x[c] - x[a], x[c + 1] - x[a + 1], x[c + 2] - x[a + 2]];
  return [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
}

/** Lowest and highest coordinate per axis. */
export function bounds(x: Float64Array): { low: [number, number, number]; high: [number, number, number] } {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < x.length; i++) {
    low[i % 3] = Math.min(low[i % 3], x[i]);
    high[i % 3] = Math.max(high[i % 3], x[i]);
  }
  return { low, high };
}

/** Where the scene's origin lies on the sheet of paper, and its scale. */
export interface Frame {
  /** px of the point x = 0, y = 0, z = 0 */ readonly originX: number;
  readonly originY: number;
  /** px per metre */ readonly scale: number;
}

/** Paper coordinates of a scene point, px. */
export function project(f: Frame, x: number, y: number, z: number): [number, number] {
  return [f.originX + f.scale * (x + RIGHT * y), f.originY - f.scale * (z + UP * y)];
}

/** How far into the picture vertex v lies, m. */
export const depthOf = (x: Float64Array, v: number): number => x[3 * v] * INTO[0] + x[3 * v + 1] * INTO[1] + x[3 * v + 2] * INTO[2];

/** Extent on paper of posed positions, metres: left, right, top of (x + RIGHT y, z + UP y). */
export function paperExtent(x: Float64Array): { left: number; right: number; top: number } {
  let left = Infinity;
  let right = -Infinity;
  let top = -Infinity;
  for (let i = 0; i < x.length; i += 3) {
    left = Math.min(left, x[i] + RIGHT * x[i + 1]);
    right = Math.max(right, x[i] + RIGHT * x[i + 1]);
    top = Math.max(top, x[i + 2] + UP * x[i + 1]);
  }
  return { left, right, top };
}
