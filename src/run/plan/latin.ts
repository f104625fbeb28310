import { seeded } from '../../numerics/index.ts';

/**
 * Shares in [0, 1) of a Latin hypercube: count x axes, by draw. Each axis has one draw in each of `count` equal parts of 0..1, at a random place in it, the parts in an order of
 * their own. Same seed, same shares; another axis at the end leaves those before it as they were. Source: McKay, Beckman, Conover, "A comparison of three methods for
 * selecting values of input variables", Technometrics 21 (1979), 239-245 (from memory).
 */
export function latinHypercube(count: number, axes: number, seed: number): Float64Array {
  const chance = seeded(seed),
    shares = new Float64Array(count * axes),
    order = new Uint32Array(count);
  for (let a = 0; a < axes; a++) {
    for (let i = 0; i < count; i++) order[i] = i;
    // Fisher and Yates, as Durstenfeld 1964 has it (from memory).
    for (let i = count - 1; i > 0; i--) {
      const k = Math.floor(chance() * (i + 1)),
        kept = order[i]!;
      order[i] = order[k]!;
      order[k] = kept;
    }
    for (let i = 0; i < count; i++) shares[i * axes + a] = (order[i]! + chance()) / count;
  }
  return shares;
}
