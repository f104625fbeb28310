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
 * Deterministic. Throws RangeError for sizes that are not positive. The status rides on the result: a reading of a state that did not settle is none.
 */
export const swatchTest = (name: TestName, setup: Setup): TestResult => TESTS[name](setup);
