import { expect, it } from 'vitest';
import { BagError, parseBag } from '../../src/bag/index.ts';

/** A radius so small that both ends of its corner are one place in f64 gave edges of length NaN, and a RangeError where a copy was drafted. */
it('a radius of 1e-30 mm on a panel with a copy is 1 fault with its path, not an internal error', () => {
  const text = {
    slumpline: 1,
    name: 'x',
    panels: { a: { rectangle: { width: '300 mm', height: '200 mm', radius: '1e-30 mm' } }, b: { copy: 'a' } },
    stacks: { plain: ['canvas10'] },
    options: { o: { 'every panel': 'plain' } },
  };
  let faults: readonly { path: string; got: string }[] = [];
  try {
    parseBag(text);
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    faults = error.faults;
  }
  expect(faults.map((f) => f.path)).toEqual(['panels.a.rectangle']);
  expect(faults[0].got).toContain('a corner rounded over');
});
