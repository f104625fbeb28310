/** A hand that has taken hold of one point: a spring toward where the hand is, never stronger than `most`. For watching; a verdict is settled without hands. */
export interface Hand {
  readonly vertex: number;
  /** m */ readonly target: readonly [number, number, number];
  /** N/m */ readonly stiffness: number;
  /** N */ readonly most: number;
}

/** The whole sheet hangs this far below the hand, m, and the hand pulls at most this many times the sheet's weight. Our own choice. */
const SAG = 0.03;
const MAX_WEIGHTS = 4;

/** A hand as strong as a sheet of this weight, N, wants it. */
export const handOn = (vertex: number, target: readonly [number, number, number], weight: number): Hand => ({
  vertex,
  target,
  stiffness: weight / SAG,
  most: MAX_WEIGHTS * weight,
});

/**
 * Adds the hand's pull to the gradient g (3n) and its stiffness to the point's block of diag (9n); returns its energy, J.
 * W = k d^2/2 up to the distance most/k, from there on a constant pull. Beyond that the stiffness is the secant's, which is on the positive side.
 */
export function addHand(hand: Hand, x: Float64Array, g: Float64Array, diag: Float64Array): number {
  const { vertex: v, target, stiffness: k, most } = hand;
  const dx = x[3 * v]! - target[0],
    dy = x[3 * v + 1]! - target[1],
    dz = x[3 * v + 2]! - target[2];
  const d = Math.sqrt(dx * dx + dy * dy + dz * dz),
    reach = most / k,
    now = d > reach ? most / d : k;
  g[3 * v] = g[3 * v]! + now * dx;
  g[3 * v + 1] = g[3 * v + 1]! + now * dy;
  g[3 * v + 2] = g[3 * v + 2]! + now * dz;
  for (let c = 9 * v; c < 9 * v + 9; c += 4) diag[c] = diag[c]! + now;
  return d > reach ? most * (d - reach / 2) : 0.5 * k * d * d;
}
