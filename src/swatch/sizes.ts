/** Sizes that a test runs at where none are given, and the limits of what can be asked of it. */

import { FIXED_ANGLE_LOAD, GRAVITY } from '../units/index.ts';
import { SPECIMENS, SUPPORT_DISC } from './drape.ts';
import { GREENHILL, onEdgeLoad } from './elastica.ts';
import type { Setup, TestName } from './result.ts';
import type { Sheet } from './sheet.ts';
import { lengthFor, STANDARD_WIDTH } from './strip.ts';

/** Load w L^3/B at which each strip is cut; the drape disc, the hanging strip and the one on the floor have a fixed size. */
const LOADS: Readonly<Partial<Record<TestName, number>>> = {
  cantilever: FIXED_ANGLE_LOAD,
  heart: 40,
  ring: 40,
  pear: 40,
  standing: GREENHILL,
  leaning: 7,
  tube: 80,
  tip: 1,
  board: 0.4,
};
const FIXED: Readonly<Partial<Record<TestName, number>>> = { drape: SPECIMENS[1], bias: 0.3, slip: 0.1 };

/** Length (drape: diameter) that the test takes of itself, m. */
export function ownLength(test: TestName, sheet: Sheet, cut = 0): number {
  const load = LOADS[test];
  if (load !== undefined) return lengthFor(sheet, load, cut);
  return FIXED[test] ?? Math.cbrt(onEdgeLoad(sheet.bending[0], sheet.bending[3]) / (sheet.arealMass * GRAVITY));
}

/** Width of what is tested, m. */
const widthOf = (test: TestName, length: number): number => (test === 'on-edge' ? length / 10 : test === 'drape' ? length : STANDARD_WIDTH);

/** Edge length that follows the strip's curves (30 edges over the length, 6 over a narrow one's width), 1 to 10 mm; 7 mm for the disc. */
export function ownMesh(test: TestName, length: number): number {
  if (test === 'drape') return 0.007;
  return Math.min(0.01, Math.max(0.001, Math.min(length / 30, widthOf(test, length) / 6)));
}

/** Vertices beyond which a test is refused rather than left to run for an hour. */
const MOST = 20_000;

/**
 * What cannot be tested: one line per fault, naming the test to use instead where a strip is too stiff or too limp; empty when all is well.
 * Parameters: test; setup with its sizes filled in (m); whether the length is the test's own choice.
 */
export function unfitSetup(test: TestName, setup: Setup & { readonly length: number }, chosen: boolean): string[] {
  const { length, mesh } = setup;
  const out: string[] = [];
  const mm = (v: number) => `${Number((v * 1000).toPrecision(3))} mm`;
  const instead = (what: string) => `the material is too ${what} for this test`;
  if (chosen && test !== 'drape' && test !== 'bias' && test !== 'slip') {
    if (length > 3) out.push(`${instead('stiff')}: its strip would be ${mm(length)} long; use board (tip drop) at a --length of your own`);
    if (length < 0.005) out.push(`${instead('limp')}: its strip would be ${mm(length)} long; use heart (a hanging loop)`);
  }
  if (test === 'drape' && length <= SUPPORT_DISC + 2 * mesh)
    out.push(`--length ${mm(length)}: the specimen must be wider than the ${mm(SUPPORT_DISC)} disc it lies on`);
  if (mesh > length / 6) out.push(`--mesh ${mm(mesh)}: at most a sixth of the ${mm(length)} tested, ${mm(length / 6)}`);
  const vertices = (1.15 * length * (setup.width ?? widthOf(test, length))) / mesh ** 2;
  if (vertices > MOST) out.push(`--mesh ${mm(mesh)}: ${Math.round(vertices)} vertices are too many (${MOST}); use a coarser mesh`);
  return out;
}
