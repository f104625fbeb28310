/** Which place for the anchors a maker would choose, of made-up hangings. */
import { describe, expect, it } from 'vitest';
import { changesWords, hereWords, insideWords, levelLimits, missesOf, rankSingleChanges, recommend } from '../../src/report/index.ts';
import type { AnchorSweep, SingleChange, SweepStep } from '../../src/report/sweep/types.ts';
import { levelWords } from '../../src/report/sweep/words.ts';

const limits = { tilt: 0.05, mouthSag: 0.05 };
const mm = (m: number): string => `${Math.round(1000 * m)} mm`;
const WIDTH = 0.36;

const hung = (distance: number, mouthSag: number, more: Partial<SweepStep> = {}): SweepStep & { distance: number } => ({
  distance,
  status: 'settled',
  reason: null,
  apart: WIDTH - 2 * distance,
  residual: 1e-5,
  tilt: 0.001,
  mouthSag,
  baseSag: 0.001,
  drop: 0.25,
  force: 5,
  inward: 1,
  weight: 20,
  carried: 20,
  anchors: [],
  legs: [],
  level: mouthSag <= limits.mouthSag && (more.tilt ?? 0) <= limits.tilt,
  ...more,
});

/** A pair of handles on a panel 360 mm wide: a third to a half of it are 120 to 180 mm, 90 to 120 mm from the side. */
const sweep = (drawn: SweepStep & { distance: number }, steps: AnchorSweep['steps'], more: Partial<AnchorSweep> = {}): AnchorSweep => ({
  bag: 'Tote',
  option: 'canvas',
  stance: 'hung',
  strap: 'handle',
  edgeLength: 0.02,
  things: [],
  load: 0,
  panelWidth: WIDTH,
  wantedDrop: null,
  drawn: { places: [{ strap: 'handle', panel: 'front', side: 'left', fromSide: drawn.distance, fromTop: 0.03, fromCorner: null }], step: drawn },
  steps,
  level: [],
  limits,
  wanted: 'structured',
  ...more,
});

describe('the place recommended', () => {
  it('level before spacing: 60 mm in hangs level, 100 mm in tilts by 0.06 rad where 0.05 holds', () =>
    expect(recommend(sweep(hung(0.1, 0.01, { tilt: 0.06 }), [hung(0.06, 0.01), hung(0.1, 0.01, { tilt: 0.06 })])).index).toBe(0));

  it('mouth sag before spacing: 6 % at 160 mm apart loses to 2 % at 240 mm apart, and wider than usual is said', () => {
    const a = sweep(hung(0.1, 0.06), [hung(0.06, 0.02), hung(0.1, 0.06)]),
      r = recommend(a);
    expect([r.index, r.spacing]).toEqual([0, 'wide']);
    expect(hereWords(a, mm)).toBe(
      "Recommended: the anchors 60 mm from the sides, where it hangs level. The two ends of a handle are 240 mm apart, wider than the usual third to a half of the front's width.",
    );
  });

  it('of two that hang level, 160 mm apart (usual) beats 240 mm apart with 2 % less sag', () =>
    expect(recommend(sweep(hung(0.06, 0.01), [hung(0.06, 0.01), hung(0.1, 0.03)])).index).toBe(1));

  it('within the usual spacing the mouth that sags by 2 % less is chosen, one that sags by 0.5 % less is a tie for as drawn', () => {
    expect(recommend(sweep(hung(0.1, 0.04), [hung(0.1, 0.04), hung(0.115, 0.02)])).index).toBe(1);
    expect(recommend(sweep(hung(0.1, 0.025), [hung(0.1, 0.025), hung(0.115, 0.02)])).index).toBe(-1);
  });

  it('a wanted drop of 250 mm: 252 mm beats 275 mm as drawn', () =>
    expect(recommend(sweep(hung(0.1, 0.01, { drop: 0.275 }), [hung(0.115, 0.01, { drop: 0.252 })], { wantedDrop: 0.25 })).index).toBe(0));

  it('legs 80 mm apart lose to 240 mm apart; where they alone hang level they are recommended with a warning', () => {
    expect(recommend(sweep(hung(0.14, 0), [hung(0.06, 0.03), hung(0.14, 0)])).index).toBe(0);
    const a = sweep(hung(0.14, 0), [hung(0.06, 0.09)]);
    expect([recommend(a).index, recommend(a).handTight]).toEqual([-1, true]);
    expect(hereWords(a, mm)).toContain("Its legs are 80 mm apart, nearer than a hand's breadth (100 mm).");
  });

  it('nothing that is not at rest is recommended, though its figures would be the best; it is named', () => {
    const a = sweep(hung(0.1, 0.03), [hung(0.11, 0, { status: 'notConverged', level: true })]);
    expect([recommend(a).index, recommend(a).unsettled]).toEqual([-1, [0]]);
    expect(hereWords(a, mm)).toContain('Not at rest at 110 mm: nothing is said of the bag there.');
  });

  it('nowhere level: none is recommended, the nearest is told with its margin, 6.2 % where 5 % holds', () => {
    const a = sweep(hung(0.1, 0.09), [hung(0.08, 0.062), hung(0.12, 0.2)]);
    expect([recommend(a).index, recommend(a).nearest]).toEqual([null, 0]);
    expect(hereWords(a, mm)).toBe(
      'No recommendation: it hangs level at none of the 3 places where it came to rest. Nearest to level at 80 mm: mouth sag 6.2 % where 5 % holds.',
    );
  });

  it('nowhere level: 0.001 rad of tilt and 6.9 % of sag come nearer than 0.07 rad and 6 %, and as drawn wins a tie of 0.3 % of sag', () => {
    const a = sweep(hung(0.1, 0.072), [hung(0.08, 0.06, { tilt: 0.07 }), hung(0.12, 0.069)]);
    expect([recommend(a).index, recommend(a).nearest]).toEqual([null, -1]);
    expect(recommend(sweep(hung(0.1, 0.09), [hung(0.08, 0.06, { tilt: 0.07 }), hung(0.12, 0.069)])).nearest).toBe(1);
  });

  it('a mouth that sags by 13 % is level where a slouchy look is wanted (25 %) or a soft one (15 %), and not where a structured one is (5 %)', () => {
    expect((['slouchy', 'soft', 'structured', 'rigid'] as const).map((w) => levelLimits(w).mouthSag)).toEqual([0.25, 0.15, 0.05, 0.05]);
    const a = sweep(hung(0.1, 0.13), [], { limits: levelLimits('slouchy'), wanted: 'slouchy' });
    expect(missesOf(a.drawn.step, a.limits)).toEqual([]);
    expect(levelWords(a)).toContain('mouth sag at most 25 %, because "slouchy" is wanted');
  });

  it('at rest nowhere: no recommendation and no figure', () => {
    const gone = { status: 'notConverged', tilt: null, mouthSag: null, level: false } as const;
    expect(hereWords(sweep(hung(0.1, 0, gone), [hung(0.08, 0, gone)]), mm)).toBe(
      'No recommendation: it came to rest at none of the places tried. Not at rest as drawn, at 80 mm: nothing is said of the bag there.',
    );
  });
});

it('single changes: a longer strap that does it first, then a rim, then a lighter load; what misses after them, by how much it lacks', () => {
  const one = (change: string, kind: SingleChange['kind'], amount: number, sag: number): SingleChange => ({ change, kind, amount, step: hung(0.1, sag) });
  const ranked = rankSingleChanges(
    [
      one('1 kg less', 'load', 1, 0.01),
      one('hem', 'rim', 0.025, 0.07),
      one('tape', 'rim', 0.025, 0.04),
      one('strap 80 mm longer', 'strap', 0.08, 0.03),
      one('strap 40 mm longer', 'strap', 0.04, 0.06),
    ],
    limits,
  );
  expect(changesWords(ranked, limits)).toEqual([
    'strap 80 mm longer: hangs level',
    'tape: hangs level',
    '1 kg less: hangs level',
    'strap 40 mm longer: mouth sag 6 % where 5 % holds',
    'hem: mouth sag 7 % where 5 % holds',
  ]);
});

it('what is inside: nothing, 2 kg, a bottle and a book, or all three, never "nothing inside" over a bottle', () => {
  const things = [
    { name: 'bottle', mass: 0.53 },
    { name: 'book', mass: 0.6 },
  ];
  expect(insideWords({ load: 0, things: [] })).toBe('nothing inside');
  expect(insideWords({ load: 2, things: [] })).toBe('2 kg (4.41 lb) inside');
  expect(insideWords({ load: 0, things })).toBe('a bottle of 530 g (1.17 lb) and a book of 600 g (1.32 lb) inside');
  expect(insideWords({ load: 2, things })).toBe('2 kg (4.41 lb) loose, a bottle of 530 g (1.17 lb) and a book of 600 g (1.32 lb) inside');
});
