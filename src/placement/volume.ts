/** An open or closed surface: triangles counterclockwise from outside, and its boundary loops with the cloth on their left. */
export interface Shell {
  readonly tris: Uint32Array;
  readonly loops: readonly (readonly number[])[];
}

/**
 * Enclosed volume, m3: sum of a . (b x c) / 6 over the triangles and over a fan that closes each boundary loop from the mean of its vertices.
 * Closed that way it does not depend on the origin, and its gradient (a pressure) pushes the surface nowhere as a whole.
 */
export function volume(x: Float64Array, shell: Shell): number {
  let sum = 0;
  const { tris } = shell;
  for (let t = 0; t < tris.length; t += 3) {
    const [p, q, r] = [3 * tris[t], 3 * tris[t + 1], 3 * tris[t + 2]];
    sum += x[p] * (x[q + 1] * x[r + 2] - x[r + 1] * x[q + 2]) + x[p + 1] * (x[q + 2] * x[r] - x[r + 2] * x[q]) + x[p + 2] * (x[q] * x[r + 1] - x[r] * x[q + 1]);
  }
  for (const loop of shell.loops) {
    const c = meanOf(x, loop);
    for (let i = 0; i < loop.length; i++) {
      const [q, r] = [3 * loop[(i + 1) % loop.length], 3 * loop[i]];
      sum += c[0] * (x[q + 1] * x[r + 2] - x[r + 1] * x[q + 2]) + c[1] * (x[q + 2] * x[r] - x[r + 2] * x[q]) + c[2] * (x[q] * x[r + 1] - x[r] * x[q + 1]);
    }
  }
  return sum / 6;
}

/** Adds factor x the volume's gradient to `gradient` (3n, mutated). */
export function addVolumeGradient(x: Float64Array, shell: Shell, factor: number, gradient: Float64Array): void {
  const f = factor / 6;
  const { tris } = shell;
  for (let t = 0; t < tris.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const [p, q, r] = [3 * tris[t + k], 3 * tris[t + ((k + 1) % 3)], 3 * tris[t + ((k + 2) % 3)]];
      gradient[p] += f * (x[q + 1] * x[r + 2] - x[r + 1] * x[q + 2]);
      gradient[p + 1] += f * (x[q + 2] * x[r] - x[r + 2] * x[q]);
      gradient[p + 2] += f * (x[q] * x[r + 1] - x[r] * x[q + 1]);
    }
  for (const loop of shell.loops) {
    const c = meanOf(x, loop);
    const hub = [0, 0, 0];
    for (let i = 0; i < loop.length; i++) {
      const [q, r] = [3 * loop[(i + 1) % loop.length], 3 * loop[i]];
      hub[0] += x[q + 1] * x[r + 2] - x[r + 1] * x[q + 2];
      hub[1] += x[q + 2] * x[r] - x[r + 2] * x[q];
      hub[2] += x[q] * x[r + 1] - x[r] * x[q + 1];
      gradient[q] += f * (x[r + 1] * c[2] - c[1] * x[r + 2]);
      gradient[q + 1] += f * (x[r + 2] * c[0] - c[2] * x[r]);
      gradient[q + 2] += f * (x[r] * c[1] - c[0] * x[r + 1]);
      gradient[r] += f * (c[1] * x[q + 2] - x[q + 1] * c[2]);
      gradient[r + 1] += f * (c[2] * x[q] - x[q + 2] * c[0]);
      gradient[r + 2] += f * (c[0] * x[q + 1] - x[q] * c[1]);
    }
    for (const v of loop) for (let d = 0; d < 3; d++) gradient[3 * v + d] += (f * hub[d]) / loop.length;
  }
}

function meanOf(x: Float64Array, loop: readonly number[]): [number, number, number] {
  const c: [number, number, number] = [0, 0, 0];
  for (const v of loop) for (let d = 0; d < 3; d++) c[d] += x[3 * v + d] / loop.length;
  return c;
}
