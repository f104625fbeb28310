/** Words and plots of a bag hung at several distances, of made-up steps. */
import { expect, it } from 'vitest';
import { drawnDistances, hangSvg, hangText, missesOf } from '../../src/report/index.ts';
import { marksFor } from '../../src/report/sweep/plot.ts';
import type { AnchorSweep, SweepStep } from '../../src/report/sweep/types.ts';
import { levelWords, stepWord } from '../../src/report/sweep/words.ts';

const limits = { tilt: 0.05, mouthSag: 0.05 };
const step = (tilt: number, mouthSag: number, more: Partial<SweepStep> = {}): SweepStep => ({
  status: 'settled',
  reason: null,
  residual: 1e-5,
  apart: null,
  tilt,
  mouthSag,
  baseSag: 0.001,
  drop: 0.2413,
  force: 5,
  inward: 1,
  weight: 20,
  carried: 20,
  anchors: [],
  legs: [],
  level: tilt <= limits.tilt && mouthSag <= limits.mouthSag,
  ...more,
});
const place = (fromSide: number) => ({ strap: 'handle', panel: 'front', side: 'left' as const, fromSide, fromTop: 0.03, fromCorner: null });
const sweep: AnchorSweep = {
  bag: 'Tote',
  option: 'canvas',
  stance: 'hung',
  strap: 'handle',
  edgeLength: 0.02,
  load: 0,
  things: [],
  panelWidth: null,
  wantedDrop: null,
  drawn: { places: [place(0.08), place(0.06), place(0.08)], step: step(0.002, 0.09) },
  steps: [
    { distance: 0.0508, ...step(0.002, 0.07) },
    { distance: 0.0762, ...step(0.01, 0.01) },
    { distance: 0.1016, ...step(0.09, 0.06) },
  ],
  level: [{ from: 0.0762, to: 0.0762 }],
  limits,
  wanted: 'structured',
};

it('a step that is not level is told by the limit it misses: mouth sag at a tilt of 0.1 deg, or both', () => {
  expect(sweep.steps.map((s) => missesOf(s, limits).map((m) => m.figure))).toEqual([['mouthSag'], [], ['tilt', 'mouthSag']]);
  expect(sweep.steps.map((s) => stepWord(s, limits))).toEqual(['mouth sag 7 % where 5 % holds', 'level', 'tilts, mouth sag 6 % where 5 % holds']);
  expect(stepWord(step(0.1, 0.1, { status: 'notConverged' }), limits)).toBe('NOT at rest');
  expect(stepWord(step(0, 0, { status: 'refused' }), limits)).toBe('not hung');
});

it('a bag that hangs level with a base 7 mm below its border is told so, limit 6 mm, in table and card; at 5 mm nothing is said', () => {
  const [deep, slight] = [step(0, 0, { baseSag: 0.007 }), step(0, 0, { baseSag: 0.005 })];
  expect([stepWord(deep, limits), stepWord(slight, limits)]).toEqual(['level, base sags', 'level']);
  const text = (s: SweepStep): string => hangText({ anchors: { ...sweep, steps: [{ distance: 0.0762, ...s }] }, load: null, stitching: null });
  expect(text(deep)).toContain('Where the base sags past 6 mm the bag does not keep its shape, level or not');
  expect(text(slight)).not.toContain('Where the base sags');
});

it('the anchors as drawn have their distances, each once, in the sentence and in the table', () => {
  expect(drawnDistances(sweep)).toEqual([0.06, 0.08]);
  expect(levelWords(sweep)).toContain('As drawn, 60 mm (2 3/8 in) and 80 mm (3 1/8 in) from the side: mouth sags.');
  expect(hangText({ anchors: sweep, load: null, stitching: null })).toContain('as drawn at 60 mm (2 3/8 in), 80 mm (3 1/8 in)');
});

it('the plot is in millimetres or in inches throughout, with one diamond for each distance as drawn in each of its 4 figures', () => {
  const report = { anchors: sweep, load: null, stitching: null };
  const [mm, inches] = [hangSvg(report), hangSvg(report, 'in')];
  expect(mm).toContain('from the side, mm');
  expect(mm).toContain('level at 76.2 mm');
  expect(inches).toContain('from the side, in');
  expect(inches).toContain('level at 3 in');
  expect(inches).not.toContain('mm<');
  for (const svg of [mm, inches]) {
    expect(svg.match(/l6 6l-6 6l-6 -6z/g)).toHaveLength(8);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  }
});

it('marks of inches are halves, quarters and so on down to sixteenths', () => {
  expect(marksFor(2, 4, true)).toEqual([2, 2.5, 3, 3.5, 4]);
  expect(marksFor(9.25, 9.6, true)).toEqual([9.25, 9.375, 9.5, 9.625]);
  expect(marksFor(2, 4)).toEqual([2, 2.5, 3, 3.5, 4]);
});
