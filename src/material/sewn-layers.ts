/** Layers that stitching holds to a panel besides its own stack: straps' ends and turned-back allowances. */
import { onPanel, onStrap } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
import { insetOf } from './caught-layers.ts';
import { laminateOf } from './lay-up.ts';
import type { BagLaminates, Band, Laminate, SewnLayers } from './types.ts';

/**
 * What straps and allowances are made of, in one option and band. An allowance counts as the first layer of its stack and what is stated to be caught: interfacing,
 * boards and linings often end at the stitch line, and what is left out only makes a bag softer (common practice, no source). A direct stack is one sheet and counts whole.
 * Parameters: bag; its laminates; end of the band. Errors: throws for an unknown stack.
 */
export function sewnLayers(bag: Bag, laminates: BagLaminates, band: Band): SewnLayers {
  const stackOf = (name: string) => {
    const stack = bag.stacks.find((s) => s.name === name);
    if (!stack) throw new Error(`unknown stack "${name}"`);
    return stack;
  };
  const shells = new Map<string, Laminate>();
  const shell = (name: string): Laminate => {
    const known = shells.get(name);
    if (known) return known;
    const stack = stackOf(name);
    const made = laminateOf(
      bag,
      stack.kind === 'layers' ? { ...stack, layers: stack.layers.filter((l, i) => i === 0 || l.inSeams === 'caught') } : stack,
      band,
    );
    shells.set(name, made);
    return made;
  };
  /** The stack without the layers that end inside the seam; they all end where the widest does. Laid on its panel, whose size an ease by length is a share of. */
  const inside = (name: string, p: number): { width: number; cloth: Laminate } | null => {
    const stack = stackOf(name);
    if (stack.kind !== 'layers') return null;
    const insets = stack.layers.map((l, i) => insetOf(bag, l, i)),
      width = Math.max(...insets);
    if (width === 0) return null;
    return { width, cloth: laminateOf(bag, { ...stack, layers: stack.layers.filter((_, i) => insets[i] === 0) }, band, onPanel(bag.panels[p]!)) };
  };
  return {
    straps: bag.straps.map((s) => laminateOf(bag, stackOf(s.stack), band, onStrap(s))),
    finishes: (bag.finishes ?? []).map((f) => (f.stack === null ? null : laminateOf(bag, stackOf(f.stack), band))),
    inside: laminates.map((panel, p) => panel.map((l) => inside(l.stack, p))),
    band,
    allowances: laminates.map((panel) => panel.map((l) => shell(l.stack))),
  };
}
