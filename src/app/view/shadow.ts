/** Contact shadow: the outline of what lies near the mat, feathered. Positions 3 per vertex, darkness 1 per vertex. */
export interface ShadowRing {
  readonly position: Float32Array;
  readonly dark: Float32Array;
  readonly index: Uint16Array;
}

/** Parts of the bag below this height darken the mat, m. */
const NEAR_MAT = 0.03;
const FEATHER = 0.035;
const SIDES = 48;

/** Support function of the near-mat points in SIDES directions: a convex outline without sorting, steady from frame to frame. */
export function shadowRing(x: ArrayLike<number>): ShadowRing {
  const position = new Float32Array(3 * (2 * SIDES + 1));
  const dark = new Float32Array(2 * SIDES + 1);
  const index = new Uint16Array(9 * SIDES);
  let cx = 0;
  let cy = 0;
  let count = 0;
  for (let i = 0; i < x.length; i += 3) {
    if (x[i + 2] > NEAR_MAT) continue;
    cx += x[i];
    cy += x[i + 1];
    count++;
  }
  if (count === 0) return { position, dark, index: new Uint16Array(0) };
  cx /= count;
  cy /= count;
  const reach = new Float32Array(SIDES);
  for (let i = 0; i < x.length; i += 3) {
    if (x[i + 2] > NEAR_MAT) continue;
    for (let s = 0; s < SIDES; s++) {
      const a = (2 * Math.PI * s) / SIDES;
      const r = (x[i] - cx) * Math.cos(a) + (x[i + 1] - cy) * Math.sin(a);
      if (r > reach[s]) reach[s] = r;
    }
  }
  position[0] = cx;
  position[1] = cy;
  dark[0] = 1;
  for (let s = 0; s < SIDES; s++) {
    // Corner of the supporting lines of two neighbouring directions.
    const a0 = (2 * Math.PI * s) / SIDES;
    const a1 = (2 * Math.PI * (s + 1)) / SIDES;
    const r0 = reach[s];
    const r1 = reach[(s + 1) % SIDES];
    const det = Math.sin(a1 - a0);
    const px = (r0 * Math.sin(a1) - r1 * Math.sin(a0)) / det;
    const py = (r1 * Math.cos(a0) - r0 * Math.cos(a1)) / det;
    const mid = 0.5 * (a0 + a1);
    const inner = 1 + s;
    const outer = 1 + SIDES + s;
    position[3 * inner] = cx + px;
    position[3 * inner + 1] = cy + py;
    dark[inner] = 1;
    position[3 * outer] = cx + px + FEATHER * Math.cos(mid);
    position[3 * outer + 1] = cy + py + FEATHER * Math.sin(mid);
    const n = (s + 1) % SIDES;
    index.set([0, inner, 1 + n, inner, outer, 1 + n, 1 + n, outer, 1 + SIDES + n], 9 * s);
  }
  return { position, dark, index };
}
