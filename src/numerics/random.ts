/**
 * Seeded random numbers in [0, 1): mulberry32 (T. Ettinger 2017, public domain; from memory). 32 bits of state, exact integer steps,
 * so that the same seed gives the same mesh and the same waviness on every machine.
 */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
