import type { BagMesh } from '../mesh/types.ts';
import { libm } from '../numerics/index.ts';
import type { Hold } from './extras.ts';
import { cross, dot, unit, type Vec } from './flat.ts';

const combine = (a: Vec, s: number, b: Vec, t: number): Vec => [s * a[0] + t * b[0], s * a[1] + t * b[1], s * a[2] + t * b[2]];
const less = (a: Vec, b: Vec): Vec => combine(a, 1, b, -1);

/**
 * A strap as a circular arch from one hold to the other: chord c, strap length L, half angle from sin(q)/q = c/L (straight when L <= c). The arch
 * stands in the plane of the chord and the direction past the edges, leaned outward. The width follows by parallel transport from the first
 * hold, with whatever twist is left at the second spread evenly. A strap that leaves its ends edgewise (both sewn side by side in one edge)
 * turns flat over the middle of the arch, as handles do; what strain that leaves is for the relaxation.
 * Returns positions (3n) with the panel's own vertices written.
 */
export function archStrap(mesh: BagMesh, p: number, a: Hold, b: Hold, lean: number, x: Float64Array): Float64Array {
  const out = x.slice();
  const [fa, fb] = [flatMiddle(a), flatMiddle(b)];
  const length = libm.hypot(fb[0] - fa[0], fb[1] - fa[1]);
  const [lu, lv] = [(fb[0] - fa[0]) / length, (fb[1] - fa[1]) / length];
  const [A, B] = [spaceMiddle(a, x), spaceMiddle(b, x)];
  const chord = libm.norm(less(B, A));
  const across = chord > 1e-9 ? unit(less(B, A)) : ([1, 0, 0] as Vec);
  const normal = unit(combine(a.normal, 1, b.normal, 1).map((c) => c + 1e-12) as unknown as Vec);
  const past = unit(combine(a.onward, 1, b.onward, 1).map((c) => c + 1e-12) as unknown as Vec);
  let up = combine(past, libm.cos(lean), normal, libm.sin(lean));
  up = unit(combine(up, 1, across, -dot(up, across)));
  const half = halfAngle(Math.min(0.9999, chord / length));
  const radius = length / (2 * half);
  // Point and tangent at fraction s of the strap.
  const at = (s: number): { point: Vec; tangent: Vec } => {
    const angle = (2 * s - 1) * half;
    const m = combine(A, 0.5, B, 0.5);
    const point = combine(combine(m, 1, across, radius * libm.sin(angle)), 1, up, radius * (libm.cos(angle) - libm.cos(half)));
    return { point, tangent: combine(across, libm.cos(angle), up, -libm.sin(angle)) };
  };
  const widthAt = (hold: Hold, mid: readonly [number, number]): Vec => {
    let sum: Vec = [0, 0, 0];
    const M = spaceMiddle(hold, x);
    hold.verts.forEach((v, i) => {
      const w = -lv * (hold.flat[2 * i] - mid[0]) + lu * (hold.flat[2 * i + 1] - mid[1]);
      sum = combine(sum, 1, [x[3 * v] - M[0], x[3 * v + 1] - M[1], x[3 * v + 2] - M[2]], w);
    });
    return sum;
  };
  // In the arch's own frame (out of its plane, radial) the width keeps its angle under parallel transport.
  const binormal = cross(across, up);
  const angleOf = (w: Vec, tangent: Vec): number => libm.atan2(dot(w, cross(binormal, tangent)), dot(w, binormal));
  const start = angleOf(widthAt(a, fa), at(0).tangent);
  let twist = angleOf(widthAt(b, fb), at(1).tangent) - start;
  twist -= 2 * Math.PI * Math.round(twist / (2 * Math.PI));
  const { verts, flat } = mesh.panelVerts[p];
  for (let i = 0; i < verts.length; i++) {
    const [du, dv] = [flat[2 * i] - fa[0], flat[2 * i + 1] - fa[1]];
    const s = (du * lu + dv * lv) / length;
    const w = -lv * du + lu * dv;
    const { point, tangent } = at(s);
    const even = start + twist * Math.min(1, Math.max(0, s));
    // Flat over the arch: the width along the binormal, either way round.
    const turn = even + ease(s / 0.35) * ease((1 - s) / 0.35) * (Math.PI * Math.round(even / Math.PI - 1e-9) - even);
    const width = combine(binormal, libm.cos(turn), cross(binormal, tangent), libm.sin(turn));
    for (let d = 0; d < 3; d++) out[3 * verts[i] + d] = point[d] + w * width[d];
  }
  return out;
}

const ease = (t: number): number => {
  const s = Math.min(1, Math.max(0, t));
  return s * s * (3 - 2 * s);
};

/** q in (0, pi) with sin(q)/q = ratio, by bisection. */
function halfAngle(ratio: number): number {
  let [low, high] = [1e-3, Math.PI - 1e-6];
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2;
    if (libm.sin(mid) / mid > ratio) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}

function flatMiddle(hold: Hold): [number, number] {
  const n = hold.verts.length;
  let [u, v] = [0, 0];
  for (let i = 0; i < n; i++) {
    u += hold.flat[2 * i] / n;
    v += hold.flat[2 * i + 1] / n;
  }
  return [u, v];
}

function spaceMiddle(hold: Hold, x: Float64Array): Vec {
  return [0, 1, 2].map((d) => hold.verts.reduce((sum, v) => sum + x[3 * v + d], 0) / hold.verts.length) as unknown as Vec;
}
