import { libm } from '../../numerics/index.ts';
/** What normalContact() found: J, N, N/m. Mutable, one for all. */
export const normal = { energy: 0, force: 0, stiffness: 0 };

/** Share of the activation distance under which a surface's law goes on linearly. */
const LINEAR_BELOW = 1e-3;

/**
 * The normal law of every contact, at the signed distance d under the activation distance r: E' = -k (r - d) for r/2 <= d < r, -k r^2/(4 d) below, which rises
 * without bound, so that nothing is pressed through. Under `least` (below the surface: only a bad start shape gets there) it goes on along its tangent.
 * k: N/m; d, r and least: m. Written to `normal`.
 */
export function normalContact(k: number, d: number, r: number, least = LINEAR_BELOW * r): void {
  const dd = Math.max(d, least),
    deep = dd < r / 2,
    kn = deep ? (k * r * r) / (4 * dd * dd) : k;
  let N = deep ? (k * r * r) / (4 * dd) : k * (r - dd),
    energy = deep ? 0.125 * k * r * r + 0.25 * k * r * r * libm.log(r / (2 * dd)) : 0.5 * k * (r - dd) * (r - dd);
  if (d < dd) {
    energy += N * (dd - d) + 0.5 * kn * (dd - d) * (dd - d);
    N += kn * (dd - d);
  }
  normal.energy = energy;
  normal.force = N;
  normal.stiffness = kn;
}
