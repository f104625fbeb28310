import { libm } from '../numerics/index.ts';
/** A flat panel laid rigidly in space. */
export interface RigidFit {
  /** Largest distance of a fitted vertex from where it is, m. */ readonly misfit: number;
  /** Unit directions of the flat x and y. */ readonly x: readonly number[];
  readonly y: readonly number[];
  place(u: number, v: number): [number, number, number];
}

/**
 * Affine map flat -> space that fits the held vertices best, made rigid by Gram-Schmidt on its two columns; null when the held places are in line.
 * misfit: largest distance of a held vertex from where it is, m.
 */
export function rigidFit(verts: ArrayLike<number>, flat: ArrayLike<number>, x: Float64Array): RigidFit | null {
  const n = verts.length;
  let [mu, mv] = [0, 0];
  const m = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    mu += flat[2 * i] / n;
    mv += flat[2 * i + 1] / n;
    for (let d = 0; d < 3; d++) m[d] += x[3 * verts[i] + d] / n;
  }
  let [uu, uv, vv] = [0, 0, 0];
  const [su, sv] = [
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let i = 0; i < n; i++) {
    const [u, v] = [flat[2 * i] - mu, flat[2 * i + 1] - mv];
    uu += u * u;
    uv += u * v;
    vv += v * v;
    for (let d = 0; d < 3; d++) {
      su[d] += u * (x[3 * verts[i] + d] - m[d]);
      sv[d] += v * (x[3 * verts[i] + d] - m[d]);
    }
  }
  const det = uu * vv - uv * uv;
  if (!(det > 1e-6 * (uu + vv) * (uu + vv))) return null;
  const a = [0, 1, 2].map((d) => (vv * su[d] - uv * sv[d]) / det);
  const b = [0, 1, 2].map((d) => (uu * sv[d] - uv * su[d]) / det);
  const la = libm.norm(a);
  const ex = a.map((c) => c / la);
  const along = b.reduce((sum, c, d) => sum + c * ex[d], 0);
  const rest = b.map((c, d) => c - along * ex[d]);
  const lb = libm.norm(rest);
  const ey = rest.map((c) => c / lb);
  const place = (u: number, v: number): [number, number, number] =>
    [0, 1, 2].map((d) => m[d] + (u - mu) * ex[d] + (v - mv) * ey[d]) as [number, number, number];
  let misfit = 0;
  for (let i = 0; i < n; i++) {
    const at = place(flat[2 * i], flat[2 * i + 1]);
    misfit = Math.max(misfit, libm.hypot(at[0] - x[3 * verts[i]], at[1] - x[3 * verts[i] + 1], at[2] - x[3 * verts[i] + 2]));
  }
  return { misfit: Number.isFinite(misfit) ? misfit : Number.POSITIVE_INFINITY, x: ex, y: ey, place };
}
