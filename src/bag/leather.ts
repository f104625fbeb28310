/** What counts as leather. */
import type { Bag } from './types.ts';

/** Cut from a hide, not from a bolt. */
const LEATHER = /^(lamb|upholstery|suede|chrome|veg|web_strap_leather)/;

/** The built-in material that a material is, or is like; empty where neither is known. */
export const builtIn = (bag: Pick<Bag, 'materials'>, material: string): string => {
  const own = bag.materials.find((m) => m.id === material);
  return own ? (own.like ?? '') : material;
};

/** Is it leather? A material of one's own is what it is like. */
export const isLeather = (bag: Pick<Bag, 'materials'>, material: string): boolean => LEATHER.test(builtIn(bag, material));
