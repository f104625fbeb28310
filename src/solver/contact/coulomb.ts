/**
 * Coulomb friction of every contact (Coulomb 1785; as an elastic spring with a cut-off: Cundall and Strack 1979): a tangential spring k from where the two sides
 * stuck last, its stretch e = (I - n n^T) u, its force cut off at mu N of the CURRENT normal force (never the last step's).
 */

/** What tangentialStretch() and coulombSpring() found. Mutable, one for all. */
export const spring = {
  /** Stretch along the surface, m, and its length. */
  ex: 0,
  ey: 0,
  ez: 0,
  length: 0,
  /** Force over stretch, N/m; also the tangential stiffness. */ pull: 0,
  /** J */ energy: 0,
  /** The stiffness is that of slipping. */ slips: false,
  /** Direction of slip where it slips, else nothing. */
  tx: 0,
  ty: 0,
  tz: 0,
};

/** A spring this near its limit counts as slipping: after a commit what slides sits exactly on the limit, and taking it for stuck would hold every next step's first iteration fast. */
const AT_LIMIT = 1 - 1e-6;

/** e = (I - n n^T) u of a displacement u, m, at a unit normal n, and its length: written to `spring`. */
export function tangentialStretch(ux: number, uy: number, uz: number, nx: number, ny: number, nz: number): void {
  const un = ux * nx + uy * ny + uz * nz,
    ex = ux - un * nx,
    ey = uy - un * ny,
    ez = uz - un * nz;
  spring.ex = ex;
  spring.ey = ey;
  spring.ez = ez;
  spring.length = Math.sqrt(ex * ex + ey * ey + ez * ez);
}

/** Takes what of the stretch last found lies along a unit vector a out of it: the way in which a strap is let run, or nothing. */
export function freeStretch(ax: number, ay: number, az: number): void {
  const along = spring.ex * ax + spring.ey * ay + spring.ez * az;
  spring.ex -= along * ax;
  spring.ey -= along * ay;
  spring.ez -= along * az;
  spring.length = Math.sqrt(spring.ex * spring.ex + spring.ey * spring.ey + spring.ez * spring.ez);
}

/**
 * The spring k, N/m, of the stretch last found, cut off at `limit`, N. Slipping stiffness is (mu N/|e|)(I - n n^T - t t^T): zero along the slip, because the
 * secant form holds a sheet that should slide. The force itself has no step at AT_LIMIT: with one, a strap that carried 10 N and came to rest a ten-millionth
 * under its limit had no state to rest in (it went to and fro by 2e-11 m, residual 2e-2, for ever).
 */
export function coulombSpring(k: number, limit: number): void {
  const l = spring.length,
    over = k * l > limit,
    slips = k * l > AT_LIMIT * limit;
  spring.pull = over ? limit / l : k;
  spring.energy = over ? limit * (l - (0.5 * limit) / k) : 0.5 * k * l * l;
  spring.slips = slips;
  spring.tx = slips ? spring.ex / l : 0;
  spring.ty = slips ? spring.ey / l : 0;
  spring.tz = slips ? spring.ez / l : 0;
}

/** The spring of a contact without friction: no stretch, no force. */
export function noSpring(): void {
  spring.ex = 0;
  spring.ey = 0;
  spring.ez = 0;
  spring.pull = 0;
  spring.energy = 0;
  spring.tx = 0;
  spring.ty = 0;
  spring.tz = 0;
}

/** Share of the stretch last found that is kept when a state is accepted: all of it where it sticks, what the limit, N, allows where it slips. */
export function keptShare(k: number, limit: number): number {
  const force = k * spring.length;
  return force > limit ? limit / force : 1;
}

/** block (3x3 at q) += kn n n^T + kt (I - n n^T - t t^T): normal and tangential stiffness of one contact, N/m; t the direction of slip or nothing. */
export function addContactBlock(
  block: Float64Array,
  q: number,
  kn: number,
  kt: number,
  nx: number,
  ny: number,
  nz: number,
  tx: number,
  ty: number,
  tz: number,
): void {
  const xx = kn * nx * nx + kt * (1 - nx * nx - tx * tx),
    xy = kn * nx * ny + kt * (-nx * ny - tx * ty),
    xz = kn * nx * nz + kt * (-nx * nz - tx * tz),
    yy = kn * ny * ny + kt * (1 - ny * ny - ty * ty),
    yz = kn * ny * nz + kt * (-ny * nz - ty * tz),
    zz = kn * nz * nz + kt * (1 - nz * nz - tz * tz);
  block[q] = block[q]! + xx;
  block[q + 1] = block[q + 1]! + xy;
  block[q + 2] = block[q + 2]! + xz;
  block[q + 3] = block[q + 3]! + xy;
  block[q + 4] = block[q + 4]! + yy;
  block[q + 5] = block[q + 5]! + yz;
  block[q + 6] = block[q + 6]! + xz;
  block[q + 7] = block[q + 7]! + yz;
  block[q + 8] = block[q + 8]! + zz;
}

/** block (3x3 at q) += k a a^T, N/m. */
export function addOuter(block: Float64Array, q: number, k: number, ax: number, ay: number, az: number): void {
  block[q] = block[q]! + k * ax * ax;
  block[q + 1] = block[q + 1]! + k * ax * ay;
  block[q + 2] = block[q + 2]! + k * ax * az;
  block[q + 3] = block[q + 3]! + k * ax * ay;
  block[q + 4] = block[q + 4]! + k * ay * ay;
  block[q + 5] = block[q + 5]! + k * ay * az;
  block[q + 6] = block[q + 6]! + k * ax * az;
  block[q + 7] = block[q + 7]! + k * ay * az;
  block[q + 8] = block[q + 8]! + k * az * az;
}
