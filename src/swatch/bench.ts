import { oneOf } from '../bag/index.ts';
import { BagError, type Fault } from '../bag/types.ts';
import { bias } from './bias.ts';
import { board } from './board.ts';
import { corner } from './corner.ts';
import { drape } from './drape.ts';
import { cantilever, loop, tip } from './hanging.ts';
import type { Setup, TestName, TestResult } from './result.ts';
import { slip } from './slip.ts';
import { leaning, onEdge, standing } from './standing.ts';
import { tube } from './tube.ts';

const TESTS: Readonly<Record<TestName, (setup: Setup) => TestResult>> = {
  cantilever,
  heart: (setup) => loop('heart', setup),
  ring: (setup) => loop('ring', setup),
  pear: (setup) => loop('pear', setup),
  standing,
  leaning,
  drape,
  tube,
  tip,
  board,
  'on-edge': onEdge,
  bias,
  slip,
  corner,
};

/** Names of the tests of the bench. */
export const TEST_NAMES = Object.keys(TESTS) as readonly TestName[];

/**
 * One standard test of a material on the bench: the reading of the settled strip or disc, and theory beside it.
 * Deterministic. Throws BagError for a test or a setup that is none, RangeError for sizes that are not positive. The status rides on the result: a reading of a state that did not settle is none.
 */
export function swatchTest(name: TestName, setup: Setup): TestResult {
  const faults: Fault[] = [];
  if (!TEST_NAMES.includes(name)) faults.push({ path: 'test', got: JSON.stringify(name) ?? String(name), expected: oneOf('a test', String(name), TEST_NAMES) });
  const { sheet, ...sizes }: Partial<Setup> = setup ?? {};
  if (typeof sheet !== 'object' || sheet === null)
    faults.push({ path: 'sheet', got: JSON.stringify(sheet) ?? 'nothing', expected: 'a sheet, such as isotropic(0.34, 55e-6, 5e3)' });
  for (const key of ['length', 'mesh'] as const)
    if (typeof sizes[key] !== 'number' && !(key === 'length' && sizes[key] === undefined))
      faults.push({ path: key, got: JSON.stringify(sizes[key]) ?? 'nothing', expected: 'a number of metres' });
  if (faults.length > 0) throw new BagError(faults);
  return TESTS[name](setup);
}
