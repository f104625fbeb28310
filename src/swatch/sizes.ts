/** Sizes that a test runs at where none are given, and the limits of what can be asked of it. */

import { libm } from '../numerics/index.ts';
import { FIXED_ANGLE_LOAD, GRAVITY } from '../units/index.ts';
import { CORNER_LOAD } from './corner.ts';
import { SPECIMENS, SUPPORT_DISC } from './drape.ts';
import { GREENHILL } from './elastica.ts';
import { onEdgeOf } from './figures.ts';
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
  corner: CORNER_LOAD,
};
const FIXED: Readonly<Partial<Record<TestName, number>>> = { drape: SPECIMENS[1], bias: 0.3, slip: 0.1 };

/** Length (drape: diameter) that the test takes of itself, m. */
export function ownLength(test: TestName, sheet: Sheet, cut = 0): number {
  const load = LOADS[test];
  if (load !== undefined) return lengthFor(sheet, load, cut);
  return FIXED[test] ?? libm.cbrt(onEdgeOf(sheet, cut).load / (sheet.arealMass * GRAVITY));
}

/** Width of what is tested, m. */
export const widthOf = (test: TestName, length: number): number => (test === 'on-edge' ? length / 10 : test === 'drape' ? length : STANDARD_WIDTH);

/** Edge length that follows the strip's curves (30 edges over the length, 6 over a narrow one's width), 1 to 10 mm; 7 mm for the disc. */
export function ownMesh(test: TestName, length: number): number {
  if (test === 'drape') return 0.007;
  return Math.min(0.01, Math.max(0.001, Math.min(length / 30, widthOf(test, length) / 6)));
}

/**
 * Loads w L^3/B between which each strip test tells something, and what to do about a strip that is too stiff or too limp for its length.
 * Above: cantilever and loops hang straight down, the tube lies flat, the board drops more than a tenth of its overhang (B = w L^4/(8 drop) there
 * is 0.8 % low). Below: the strip hardly bends.
 */
const RANGES: Readonly<Partial<Record<TestName, readonly [least: number, most: number, ifStiff: string, ifLimp: string]>>> = {
  cantilever: [0.1, 200, 'use board (tip drop)', 'use heart (a hanging loop)'],
  heart: [1, 1000, 'use cantilever', 'use a shorter one'],
  ring: [1, 1000, 'use cantilever', 'use a shorter one'],
  pear: [1, 1000, 'use cantilever', 'use a shorter one'],
  tube: [1, 1500, 'use cantilever', 'use heart (a hanging loop)'],
  board: [0.01, 0.8, 'use a longer one', 'use cantilever'],
  leaning: [0.1, 60, 'use board (tip drop)', 'use heart (a hanging loop)'],
  corner: [0.01, 60, 'use a longer piece', 'use a shorter piece'],
};
/** Strips longer than this, or shorter, are not cut at a table, m. */
const CUT = [0.005, 3] as const;

/** What to use where the strip that a test would choose cannot be cut. */
function instead(stiff: boolean, test: TestName, sheet: Sheet, cut = 0): string {
  const other: TestName = stiff ? 'board' : 'heart';
  const length = ownLength(other, sheet, cut);
  if (other !== test && length >= CUT[0] && length <= CUT[1]) return stiff ? 'use board (tip drop)' : 'use heart (a hanging loop)';
  return stiff ? 'use board (tip drop) with a --length of your own' : 'no strip of it can be cut; use drape (a disc)';
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
  const load = libm.cube(length / lengthFor(setup.sheet, 1, setup.cut));
  if (FIXED[test] === undefined) {
    const stiff = length > CUT[1];
    // What its mesh would be no longer matters.
    if (chosen && (stiff || length < CUT[0]))
      return [
        `the material is too ${stiff ? 'stiff' : 'limp'} for this test: its strip would be ${mm(length)} long; ${instead(stiff, test, setup.sheet, setup.cut)}`,
      ];
    const range = RANGES[test];
    if (!chosen && range !== undefined && !(load >= range[0] && load <= range[1])) {
      const tooStiff = load < range[0];
      out.push(
        `--length ${mm(length)}: the material is too ${tooStiff ? 'stiff' : 'limp'} for a strip of that length (w L^3/B = ${Number(load.toPrecision(3))}; ${range[0]} to ${range[1]}): ${tooStiff ? range[2] : range[3]}, or a strip of about ${mm(ownLength(test, setup.sheet, setup.cut))}`,
      );
    }
  }
  if (test === 'drape' && length <= SUPPORT_DISC + 2 * mesh)
    out.push(`--length ${mm(length)}: the specimen must be wider than the ${mm(SUPPORT_DISC)} disc it lies on`);
  if (mesh > length / 6) out.push(`--mesh ${mm(mesh)}: at most a sixth of the ${mm(length)} tested, ${mm(length / 6)}`);
  const vertices = (1.15 * length * (setup.width ?? widthOf(test, length))) / libm.square(mesh);
  if (vertices > MOST) out.push(`--mesh ${mm(mesh)}: ${Math.round(vertices)} vertices are too many (${MOST}); use a coarser mesh`);
  return out;
}
