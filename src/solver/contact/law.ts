/** What press() found. Mutable, one for all. */
export const pressed = { energy: 0, force: 0, stiffness: 0 };

/**
 * The law of every contact with a rigid surface, at signed distance d, felt from r on: E' = -k (r - d) for r/2 <= d < r, -k r^2/(4 d) below, which rises
 * without bound, so that nothing is pressed through. Below the surface (only a bad start shape gets there) it goes on linearly from a hair above it.
 * k: N/m, d and r: m. Written to `pressed`: J, N, N/m.
 */
export function press(k: number, d: number, r: number): void {
  const dd = Math.max(d, 1e-3 * r),
    deep = dd < r / 2,
    kn = deep ? (k * r * r) / (4 * dd * dd) : k;
  let N = deep ? (k * r * r) / (4 * dd) : k * (r - dd),
    energy = deep ? 0.125 * k * r * r + 0.25 * k * r * r * Math.log(r / (2 * dd)) : 0.5 * k * (r - dd) * (r - dd);
  if (d < dd) {
    energy += N * (dd - d) + 0.5 * kn * (dd - d) * (dd - d);
    N += kn * (dd - d);
  }
  pressed.energy = energy;
  pressed.force = N;
  pressed.stiffness = kn;
}
