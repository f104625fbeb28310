/** Layers that stitching holds to a panel besides its own stack: straps' ends and turned-back allowances. */
import { onStrap } from '../bag/index.ts';
import type { Bag } from '../bag/types.ts';
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
  return {
    straps: bag.straps.map((s) => laminateOf(bag, stackOf(s.stack), band, onStrap(s))),
    finishes: (bag.finishes ?? []).map((f) => (f.stack === null ? null : laminateOf(bag, stackOf(f.stack), band))),
    allowances: laminates.map((panel) => panel.map((l) => shell(l.stack))),
  };
}
