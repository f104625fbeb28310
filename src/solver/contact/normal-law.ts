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

/** What rub() found. Mutable, one for all. */
export const rubbed = { pull: 0, energy: 0, slips: false };

/** A spring this near its limit counts as slipping: after a commit what slides sits exactly on the limit, and taking it for stuck would hold every next step's first iteration fast. */
const AT_LIMIT = 1 - 1e-6;

/**
 * Coulomb friction of every contact: a spring k, N/m, stretched by l, m, along the surface, cut off at `limit`, N. Written to `rubbed`: force over stretch, N/m, energy, J, and whether
 * its stiffness is that of slipping. The force itself has no step at AT_LIMIT: with one, a strap that carried 10 N and came to rest a ten-millionth under its limit had no state to rest in
 * (it went to and fro by 2e-11 m, residual 2e-2, for ever).
 */
export function rub(k: number, l: number, limit: number): void {
  const over = k * l > limit;
  rubbed.pull = over ? limit / l : k;
  rubbed.energy = over ? limit * (l - (0.5 * limit) / k) : 0.5 * k * l * l;
  rubbed.slips = k * l > AT_LIMIT * limit;
}
