import { libm } from '../numerics/index.ts';

/**
 * How far the materials of one stack go towards the ends of their bands together, as shares of those bands (0 middle, 1 end).
 *
 * An end of a band is what one bolt may be. That all bolts of a stack are soft at once is rarer than that one of them is, so the stack's own end is the likeliest
 * way to be as far from its middle as one bolt at its end: with r_k = ln(rigidity with material k alone at its end / rigidity at the middle), share_k = |r_k|/sqrt(sum r^2).
 * Layers of one material are cut from one bolt. A stack of one material goes to its end. Bolts are taken as independent and their bands as alike in chance; logarithms,
 * because bands are ratios. Source: first-order reliability, the design point (Hasofer and Lind 1974; from memory).
 * Parameters: names of the materials, each once; rigidity of the stack, N*m, with each at its share.
 */
export function sharesTogether(materials: readonly string[], rigidity: (share: (material: string) => number) => number): ReadonlyMap<string, number> {
  if (materials.length === 1) return new Map([[materials[0]!, 1]]);
  const middle = rigidity(() => 0);
  const moves = materials.map((m) => Math.abs(libm.log(rigidity((n) => (n === m ? 1 : 0)) / middle)));
  const all = libm.norm(moves);
  return new Map(materials.map((m, k) => [m, all > 0 ? moves[k]! / all : 1]));
}
