/** Small bags for the tests. */
import { type Bag, BagError, type Fault, type Panel, parseBag } from '../../src/bag/index.ts';

/** A bag file of one panel "p" (and others), one stack, everything else by default. */
export const file = (shape: object, others: object = {}, more: object = {}): Record<string, unknown> => ({
  slumpline: 1,
  panels: { p: shape, ...others },
  stacks: { plain: ['canvas10'] },
  ...more,
});

/** The resolved panel of a shape, with the whole bag beside it. */
export function panel(shape: object, others: object = {}, more: object = {}): Panel & { bag: Bag } {
  const bag = parseBag(file(shape, others, more));
  return { ...bag.panels[0], bag };
}

/** The faults of a file; fails the test when there is none or another exception comes. */
export function faultsOf(source: unknown): readonly Fault[] {
  try {
    parseBag(source);
  } catch (error) {
    if (error instanceof BagError) return error.faults;
    throw error;
  }
  throw new Error('the file was accepted');
}

/** Rectangle of 300 x 240 mm. */
export const RECTANGLE = { rectangle: { width: '300 mm', height: '240 mm' } };
