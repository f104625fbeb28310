import { describe, expect, it } from 'vitest';
import type { Measures } from '../../src/measures/types.ts';
import { judgeBand } from '../../src/report/band.ts';
import { judge } from '../../src/report/judge.ts';
import { gateValue, marginOf, nearLimit, nearSlump, spreadOf, THRESHOLDS, UNAIDED, wordOf } from '../../src/report/thresholds.ts';
import type { BandRun } from '../../src/report/types.ts';
import { pipsLine, pushedIn } from '../../src/report/words.ts';
import { H, runOf, runWith, sunk, tote } from './results.ts';

const DEG = Math.PI / 180;
const still = runOf('mid', tote.drafted);
/** Of a bag that hangs nothing is read that is of a table. */
const NO_STANDING = {
  heightKept: null,
  rimHeight: null,
  topEdgeDrop: null,
  wallLean: null,
  footprintKept: null,
  mouthGap: null,
  volumeKept: null,
  bulge: null,
};

describe('limits of the trade table', () => {
  const table: readonly (readonly [string, number, number])[] = [
    ['heightKept', 0.95, 0.85],
    ['topEdgeDrop', 0.05, 0.15],
    ['wallLean', 5 * DEG, 15 * DEG],
    ['bulge', 0.03, 0.08],
    ['footprintKept', 0.95, 0.85],
    ['mouthGap', 0.7, 0.4],
    ['volumeKept', 0.9, 0.75],
    ['hangTilt', 3 * DEG, 8 * DEG],
    ['mouthSag', 0.05, 0.15],
    ['baseSag', 0.006, 0.015],
    ['dropMiss', 0.01, 0.02],
  ];
  it.each(table)('%s holds up to %d and softens up to %d; beyond it slumps where it decides, else it still softens', (gate, holds, softens) => {
    const t = THRESHOLDS.find((row) => row.gate === gate)!;
    const step = t.ideal === 1 ? -1e-6 : 1e-6;
    expect(wordOf(t, holds)).toBe('holds');
    expect(wordOf(t, holds + step)).toBe('softens');
    expect(wordOf(t, softens)).toBe('softens');
    expect(wordOf(t, softens + step)).toBe(t.decides ? 'slumps' : 'softens');
    expect(marginOf(t, t.ideal)).toBeCloseTo(1, 12);
    expect(marginOf(t, holds)).toBeCloseTo(0, 12);
    expect(marginOf(t, holds + step)).toBeLessThan(0);
    // -2 where it slumps; one that cannot slump a bag goes there and never past it: m/(1 - m/2) of m = (softens - holds)/(ideal - holds).
    const m = (softens - holds) / (t.ideal - holds);
    expect(marginOf(t, softens)).toBeCloseTo(t.decides ? -2 : m / (1 - m / 2), 12);
    expect(marginOf(t, holds + 1e6 * (softens - holds)) < -2).toBe(t.decides);
    expect(t.source).toBe('common practice, no source');
  });
  it('bulge, footprint and volume alone never slump a bag; height, top edge, lean, mouth and hanging may', () => {
    expect(THRESHOLDS.filter((t) => !t.decides).map((t) => t.gate)).toEqual(['footprintKept', 'bulge', 'volumeKept', 'dropMiss']);
  });
  it('near its limit: one figure within its own spread and none further past it; a bulge spreads by 0.25, a nudge by 0.45, hanging by 0.2', () => {
    expect((['bulge', 'nudge', 'hangTilt'] as const).map(spreadOf)).toEqual([0.25, 0.45, 0.2]);
    const near = (...margins: readonly (readonly ['bulge' | 'nudge' | 'hangTilt', number])[]) => nearLimit(margins.map(([gate, margin]) => ({ gate, margin })));
    expect([-0.26, -0.25, 0, 0.25, 0.26].map((m) => near(['bulge', m]))).toEqual([false, true, true, true, false]);
    expect(near(['bulge', 0.1], ['nudge', 0.9])).toBe(true);
    // What misses another limit by far does not change its word on another mesh.
    expect(near(['bulge', 0.1], ['nudge', -0.5])).toBe(false);
    expect(nearLimit([])).toBe(false);
  });
  it('near the limit of a slump, margin -2: the worst figure that can make it slump lies within 0.8 of it; what cannot decide is not asked', () => {
    const near = (...margins: readonly (readonly ['wallLean' | 'heightKept' | 'bulge' | 'nudge', number])[]) =>
      nearSlump(margins.map(([gate, margin]) => ({ gate, margin })));
    expect([-2.81, -2.79, -2, -1.21, -1.19].map((m) => near(['wallLean', m], ['heightKept', 0.3]))).toEqual([false, true, true, true, false]);
    expect(near(['heightKept', -2], ['wallLean', -4])).toBe(false);
    expect(near(['bulge', -1.99], ['wallLean', -0.5])).toBe(false);
    expect(near(['nudge', -2])).toBe(false);
    expect(nearSlump([])).toBe(false);
  });
  it('every gated measure has exactly 1 row', () => {
    expect(THRESHOLDS.map((t) => t.gate).sort()).toEqual(table.map(([g]) => g).sort());
  });
  it('a stack stands unaided to 0.9930 of its overhang', () => {
    expect(UNAIDED).toBeCloseTo(1.98635 / 2.00035, 4);
  });
});

describe('one run', () => {
  it('as drafted, left 0.1 mm out of place by a nudge, holds with margin 1 - 0.1/2.4, 1 % of 240 mm', () => {
    expect(judge([still], 'structured')).toMatchObject({ word: 'holds', givesWayFirst: null, decidedBy: null, meetsWanted: true });
    expect(judge([still], 'structured').margin).toBeCloseTo(1 - 0.1 / 2.4, 9);
    expect(judge([{ ...still, nudge: { ...still.nudge, worstShift: 0 } }], 'structured').margin).toBeCloseTo(1, 9);
  });
  it.each([
    ['heightKept', 0.9, 'softens'],
    ['heightKept', 0.5, 'slumps'],
    ['topEdgeDrop', 0.1 * H, 'softens'],
    ['wallLean', 16 * DEG, 'slumps'],
    ['bulge', 0.05, 'softens'],
    ['footprintKept', 0.8, 'softens'],
    ['mouthGap', 0.5, 'softens'],
    ['volumeKept', 0.7, 'softens'],
  ] as const)('%s alone at %d decides: %s', (gate, value, word) => {
    const v = judge([runWith({ [gate]: value })], 'structured');
    expect(v.word).toBe(word);
    expect(v.decidedBy).toBe(gate);
    expect(v.margin).toBeCloseTo(marginOf(THRESHOLDS.find((t) => t.gate === gate)!, gateValue(gate, runWith({ [gate]: value }).measures)!), 12);
  });
  it('a slump in one measure outweighs a worse-looking softening in another', () => {
    expect(judge([runWith({ heightKept: 0.86, mouthGap: 0.39 })], 'structured')).toMatchObject({ word: 'slumps', decidedBy: 'mouthGap' });
  });
  it('a top edge that softens is told before a footprint, though that is further past its limit', () => {
    expect(judge([runWith({ topEdgeDrop: 0.06 * H, footprintKept: 0.5 })], 'structured')).toMatchObject({ word: 'softens', decidedBy: 'topEdgeDrop' });
  });
  const touched = (worstShift: number, more: Partial<BandRun> = {}): BandRun => ({
    ...still,
    nudge: { tested: true, comesBack: false, fraction: 0.03, worstShift },
    ...more,
  });
  /** Left out of place by a nudge, in a shape with these measures. */
  const became = (worstShift: number, measures: Partial<Measures>): BandRun => {
    const run = touched(worstShift);
    return { ...run, nudge: { ...run.nudge, left: { ...still.measures, ...measures } } };
  };
  it('that a nudge leaves 12 mm out of place, its figures within their limits, softens: with x = (12 - 2.4)/12 margin -x/(1 + x)', () => {
    const v = judge([became(0.012, {})], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'nudge', givesWayFirst: null });
    expect(v.margin).toBeCloseTo(-9.6 / 21.6, 9);
    expect(v.reason).toBe('It stands, but a nudge leaves it 12 mm (1/2 in) out of place.');
  });
  it('that a nudge brings to the shape of a softer bag has no worse word than that: 60 mm out of place and leaning 9 deg it softens by -2 (9 - 5)/10', () => {
    const v = judge([became(0.06, { wallLean: 9 * DEG, heightKept: 0.98 })], 'structured');
    expect(v.word).toBe('softens');
    expect(v.margin).toBeCloseTo(Math.min(-0.8, -57.6 / 69.6), 9);
    expect(v.margin).toBeGreaterThan(judge([runWith({ wallLean: 9.5 * DEG })], 'structured').margin);
  });
  it('that a nudge leaves in a slump, or in a shape not known 13 mm out of place, or that never came back, stands until touched', () => {
    expect(judge([became(0.06, { heightKept: 0.84 })], 'structured')).toMatchObject({ word: 'stands until touched', margin: -2 });
    expect(judge([touched(0.013)], 'structured')).toMatchObject({
      word: 'stands until touched',
      decidedBy: 'nudge',
      givesWayFirst: null,
      fit: 'goes when touched',
    });
    const gone = judge([touched(Number.POSITIVE_INFINITY)], 'structured');
    expect(gone).toMatchObject({ word: 'stands until touched', margin: -2 });
    expect(gone.reason).toBe('It stands, but a nudge of 3 % of its weight knocks it over.');
  });
  it('whose figures soften and that a nudge knocks over stands until touched as well; one that has slumped stays slumped', () => {
    const soft = { ...touched(Number.POSITIVE_INFINITY), measures: { ...still.measures, heightKept: 0.9 } };
    expect(judge([soft], 'structured').word).toBe('stands until touched');
    expect(judge([{ ...soft, measures: { ...still.measures, heightKept: 0.7 } }], 'structured').word).toBe('slumps');
  });
  it('twice as large and left twice as far out of place has the same word and margin to 1e-12: 1 %, 3 %, 7 % of 240 and of 480 mm', () => {
    for (const share of [0.003, 0.01, 0.03, 0.07]) {
      const [one, two] = [1, 2].map((s) => {
        const measures = { ...still.measures, draftedHeight: 0.24 * s, topEdgeDrop: (still.measures.topEdgeDrop ?? 0) * s };
        return judge([touched(share * 0.24 * s, { measures })], 'structured');
      });
      expect(two!.word).toBe(one!.word);
      expect(Math.abs(two!.margin - one!.margin)).toBeLessThan(1e-12);
    }
  });
  it.each([
    ['not known', (shift: number) => touched(shift), -2],
    ['known', (shift: number) => became(shift, {}), -37.6 / 49.6],
  ] as const)('has a margin without a jump, the shape left %s: shifts of 0 to 40 mm by 0.1 mm never change it by more than 0.05, down to %d', (_, of, last) => {
    const margins = Array.from({ length: 401 }, (_, i) => judge([of(i * 1e-4)], 'structured').margin);
    const most = Math.max(...margins.slice(1).map((m, i) => Math.abs(m - margins[i]!)));
    expect(most).toBeLessThan(0.05);
    expect(margins.at(-1)).toBeCloseTo(last, 9);
    expect(margins[0]).toBeCloseTo(1, 9);
  });
  it('that is closed, without rim or mouth, has a margin: its walls, and its nudge on the scale of its tallest wall', () => {
    const closed = { heightKept: null, rimHeight: null, draftedHeight: null, topEdgeDrop: null, mouthGap: null };
    expect(judge([runWith(closed)], 'structured')).toMatchObject({ word: 'holds' });
    const v = judge([{ ...runWith(closed), nudge: { ...still.nudge, worstShift: 0.006 } }], 'structured');
    // Halfway and more from 2.4 mm to 5 % of 240 mm, where a shape that is not known is gone.
    expect(v.margin).toBeCloseTo((-2 * 3.6) / 9.6, 9);
  });
  it('that would only slide is told that, and holds', () => {
    const slides = judge([{ ...still, nudge: { tested: false, comesBack: false, fraction: 0.03, worstShift: 0, slides: true } }], 'structured');
    expect(slides.word).toBe('holds');
    expect(slides.details).toEqual(['A nudge of 3 % of its weight would slide it along the table, so no nudge was tried.']);
  });
  it('hung, hangs true; from a nudge that leaves its mouth out of place it softens or hangs true until touched, and is never said to stand or hold', () => {
    const hung = { slid: 0 } as NonNullable<BandRun['hung']>,
      measures = { ...still.measures, hangTilt: 0.01, heightKept: null, rimHeight: null };
    const [fine, off, gone] = [0, 0.012, Number.POSITIVE_INFINITY].map((shift) => judge([touched(shift, { hung, measures })], 'structured'));
    expect([fine!.word, off!.word, gone!.word]).toEqual(['hangs true', 'softens', 'hangs true until touched']);
    expect(fine!.reason).toBe('It hangs 0.6 deg off the plumb line and swings back from a nudge.');
    expect(off!.reason).toBe('It hangs still, but a nudge leaves its mouth 12 mm (1/2 in) out of place.');
    for (const v of [fine!, off!, gone!]) expect(`${v.word} ${v.reason}`).not.toMatch(/stand|hold/);
  });
  it('unstable and never nudged does not hold', () => {
    expect(judge([{ ...still, stable: false, nudge: { ...still.nudge, tested: false, comesBack: false } }], 'structured').word).toBe('stands until touched');
  });
  it('not converged has no verdict, and the reason says how far it is from rest', () => {
    const v = judge([{ ...still, status: 'notConverged', residual: 0.0123, iterations: 300 }], 'structured');
    expect(v).toMatchObject({ word: 'no verdict', meetsWanted: null, wantedReason: '' });
    expect(v.margin).toBeNaN();
    expect(v.reason).toContain('300 steps (out of balance by 0.012');
    expect(judge([{ ...still, status: 'diverged' }], 'structured').word).toBe('no verdict');
  });
  it('still falling below half its height slumps and says so', () => {
    const run = runOf('mid', sunk(0.41), 0.143, { status: 'notConverged', stillFalling: true });
    const v = judge([run], 'structured');
    expect(v).toMatchObject({ word: 'slumps', decidedBy: 'falling', givesWayFirst: 'front' });
    expect(v.reason).toContain('still falling at 41 % of its height');
  });
  it('a plain strip has nothing to judge', () => {
    const none = Object.fromEntries(Object.keys(still.measures).map((k) => [k, null])) as unknown as Measures;
    const v = judge([{ ...still, measures: none, panels: still.panels.map((p) => ({ ...p, heightKept: null })) }], 'structured');
    expect(v.word).toBe('no verdict');
    expect(v.reason).toMatch(/nothing|no mouth/);
  });
});

describe('how it is filled', () => {
  const inward = (measures: Partial<Measures>): BandRun['inward'] => ({
    ran: true,
    heightKept: measures.heightKept ?? null,
    differs: true,
    measures: { ...runWith({}).measures, ...measures },
  });
  it('92 % filled out and 61 % pushed in softens, the likelier, with the other in a clause and its figure below', () => {
    const v = judge([runWith({ heightKept: 0.92 }, { inward: inward({ heightKept: 0.61 }) })], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'heightKept' });
    expect(v.reason).toBe('The rim keeps 92 % of its height; with its walls pressed in it slumps.');
    expect(v.details).toContain('With its walls pressed in it comes to rest at 61 % of its height.');
    // (0.61 - 0.95) / 0.05 = -6.8: the margin knows of both, and never of more than a bag that softens may miss.
    expect(v.margin).toBe(-2);
  });
  it('92 % filled out and 99 % pushed in with the mouth shut: the sentence below says what shuts', () => {
    const run = runWith({ heightKept: 0.92 }, { inward: inward({ heightKept: 0.99, mouthGap: 0.02 }) });
    const v = judge([run], 'structured');
    expect(v.word).toBe('softens');
    expect(v.details).toContain('With its walls pressed in it comes to rest at 99 % of its height, and the mouth closes to 2 % of its depth.');
    expect(pushedIn(run)).toBe('99 %, slumps');
  });
  it('a bag that slumps filled out slumps, though with its walls pressed in it keeps 98 % of its height and only bulges', () => {
    const run = runWith({ heightKept: 0.82 }, { inward: inward({ heightKept: 0.98, bulge: 0.19 }) });
    const v = judge([run], 'structured');
    expect(v).toMatchObject({ word: 'slumps', decidedBy: 'heightKept' });
    // (0.82 - 0.95) / 0.05, by hand: a bulge never weighs more than a slump.
    expect(v.margin).toBeCloseTo(-2.6, 9);
  });
  it('a bag that slumps both ways and was not followed to a second heap slumps by its own figure', () => {
    const run = runWith({ heightKept: 0.78 }, { inward: { ran: true, heightKept: null, differs: false, measures: null } });
    const v = judge([run], 'structured');
    expect(v).toMatchObject({ word: 'slumps', decidedBy: 'heightKept' });
    expect(v.margin).toBeCloseTo(judge([runWith({ heightKept: 0.78 })], 'structured').margin, 12);
    expect(pushedIn(run)).toBe('slumps too');
    expect(pushedIn(runWith({ heightKept: 0.92 }, { inward: inward({ heightKept: 0.61 }) }))).toBe('61 %, slumps');
    expect(pushedIn(runWith({ heightKept: 0.99 }))).toBe('not needed');
  });
  it('two different heaps (55 and 40 %) still slump', () => {
    expect(judge([runWith({ heightKept: 0.55 }, { inward: inward({ heightKept: 0.4 }) })], 'structured').word).toBe('slumps');
  });
});

describe('low, mid and high', () => {
  const bands = (...kept: [number, number, number]) => (['low', 'mid', 'high'] as const).map((band, i) => ({ ...runWith({ heightKept: kept[i] }), band }));
  it('that agree give their word', () => {
    expect(judge(bands(0.6, 0.65, 0.7), 'slouchy')).toMatchObject({
      word: 'slumps',
      testSwatch: false,
      meetsWanted: true,
      byBand: { low: 'slumps', mid: 'slumps', high: 'slumps' },
    });
  });
  it('two steps apart depend on the swatch, and the sentence names the bolts', () => {
    const v = judge(bands(0.8, 0.96, 0.99), 'structured');
    expect(v.word).toBe('depends on the swatch');
    expect(v.byBand).toEqual({ low: 'slumps', mid: 'holds', high: 'holds' });
    expect(v.reason).toBe('It slumps with a soft bolt (the rim keeps 80 % of its height) and holds with a typical bolt and a stiff bolt.');
    expect(v.wantedReason).toBe('Too soft for "structured" with a soft bolt.');
    expect(v.margin).toBeCloseTo((0.8 - 0.95) / 0.05, 9);
  });
  it('one step apart have the word of the middle, the ends as pips, and the advice to test a swatch', () => {
    const v = judge(bands(0.8, 0.9, 0.94), 'structured');
    expect(v).toMatchObject({ word: 'softens', reason: 'The rim keeps 90 % of its height.', testSwatch: true });
    expect(v.pips.map((p) => `${p.name} ${p.word}`)).toEqual(['soft slumps', 'typical softens', 'stiff softens']);
    expect(pipsLine(v)).toBe('soft slumps · typical softens · stiff softens: test a swatch');
    expect(v.details).toContain('With a soft bolt it slumps: the rim keeps 80 % of its height.');
  });
  it('that all come down have one range of heights, never soft under middle under stiff', () => {
    const v = judge(bands(0.7, 0.55, 0.62), 'structured');
    expect(v.reason).toBe('The rim keeps 55 to 70 % of its height.');
    expect(v.details.join(' ')).not.toMatch(/62 %/);
  });
  it('of which one has no verdict give none, but keep the words of the others', () => {
    const [low, mid, high] = bands(0.99, 0.99, 0.99);
    const v = judge([{ ...low, status: 'notConverged' }, mid, high], 'structured');
    expect(v.word).toBe('no verdict');
    expect(v.byBand).toEqual({ low: 'no verdict', mid: 'holds', high: 'holds' });
  });
  it('0 runs are refused', () => {
    expect(() => judge([], 'soft')).toThrow(/missing runs/);
  });
});

describe('what is wanted', () => {
  const at = (kept: number, wanted: 'slouchy' | 'soft' | 'structured' | 'rigid') => judge([runWith({ heightKept: kept })], wanted);
  const STIFF = ': its overhang is 300 mm, 58 mm more than a wall of 240 mm needs to stand by itself';
  it.each([
    [1, 'slouchy', false, `Too stiff for "slouchy"${STIFF}.`],
    [0.9, 'slouchy', true, 'Meets "slouchy".'],
    [0.62, 'slouchy', true, 'Meets "slouchy".'],
    [0.58, 'slouchy', false, 'Too soft for "slouchy".'],
    [1, 'soft', false, `Too stiff for "soft"${STIFF}.`],
    [0.96, 'soft', true, 'Meets "soft".'],
    [0.9, 'soft', true, 'Meets "soft".'],
    [0.5, 'soft', false, 'Too soft for "soft".'],
    [0.96, 'structured', true, 'Meets "structured".'],
    [0.9, 'structured', false, 'Too soft for "structured".'],
    [0.96, 'rigid', false, 'Too soft for "rigid".'],
    [0.98, 'rigid', true, 'Meets "rigid".'],
  ] as const)('height kept %d, wanted %s: %s', (kept, wanted, meets, words) => {
    expect(at(kept, wanted)).toMatchObject({ meetsWanted: meets, wantedReason: words });
  });
  it('what stands until touched suits none; of slouchy, which may well move, nothing is said', () => {
    const run = { ...still, nudge: { ...still.nudge, comesBack: false, worstShift: Number.POSITIVE_INFINITY } };
    for (const wanted of ['soft', 'structured', 'rigid'] as const) expect(judge([run], wanted)).toMatchObject({ meetsWanted: false, fit: 'goes when touched' });
    expect(judge([run], 'slouchy')).toMatchObject({ meetsWanted: null, fit: 'goes when touched' });
  });
  it('a slump with its mouth shut, or off half its feet, is too soft for slouchy', () => {
    for (const measures of [{ mouthGap: 0.3 }, { footprintKept: 0.7 }])
      expect(judge([runWith({ heightKept: 0.7, ...measures })], 'slouchy')).toMatchObject({ meetsWanted: false, fit: 'too soft' });
  });
  it('by how much: a stack of 143 mm overhang under a wall of 240 mm lacks 99 mm', () => {
    const v = judge([runWith({ heightKept: 0.9 }, {}, 0.143)], 'structured');
    expect(v.wantedReason).toBe(
      'Too soft for "structured": its overhang is 143 mm, 99 mm less than a wall of 240 mm needs to stand by itself (side seams that hold it let it do with less).',
    );
  });
  it('by how much, where another bolt meets it: its overhang', () => {
    const soft = { ...runWith({ heightKept: 0.9 }, {}, 0.098), band: 'low' as const };
    const v = judge([soft, runWith({}, {}, 0.143)], 'structured');
    expect(v.wantedReason).toBe('Too soft for "structured" with a soft bolt: its overhang is 98 mm, a typical bolt of 143 mm meets it.');
  });
  it.each([
    [0.01, 'slouchy', false, 'Too stiff for "slouchy": the mouth droops 1 % of the height, wanted 2 % to 25 %.'],
    [0.12, 'slouchy', true, 'Meets "slouchy".'],
    [0.2, 'slouchy', true, 'Meets "slouchy".'],
    [0.3, 'slouchy', false, 'Too soft for "slouchy".'],
    [0.12, 'soft', true, 'Meets "soft".'],
    [0.2, 'soft', false, 'Too soft for "soft".'],
    [0.12, 'structured', false, 'Too soft for "structured".'],
    [0.02, 'structured', true, 'Meets "structured".'],
  ] as const)('hung, its mouth sagging %d of the height, wanted %s: %s', (mouthSag, wanted, meets, words) => {
    const hung = { slid: 0 } as NonNullable<BandRun['hung']>;
    const v = judge([runWith({ ...NO_STANDING, hangTilt: 0.01, mouthSag, baseSag: 0.001 }, { hung })], wanted);
    expect(v).toMatchObject({ meetsWanted: meets, wantedReason: words });
  });
  it('hung 10 deg off level is not slouchy but askew', () => {
    const hung = { slid: 0 } as NonNullable<BandRun['hung']>;
    const v = judge([runWith({ ...NO_STANDING, hangTilt: 10 * DEG, mouthSag: 0.1 }, { hung })], 'slouchy');
    expect(v).toMatchObject({ meetsWanted: false, fit: 'hangs askew', wantedReason: 'Hangs askew, so it is not "slouchy": it tilts 10 deg.' });
  });
});

describe('the panel that gives way first', () => {
  it('is the wall that bulges when a bulge decided the word, though others are taller than their stack stands', () => {
    const base = runWith({ bulge: 0.05 }, {}, 0.142);
    const panels = base.panels.map((p) => (p.name === 'left' ? { ...p, bulge: 0.05, overhang: 0.3 } : { ...p, bulge: 0.001 }));
    const v = judge([{ ...base, panels }], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'bulge', givesWayFirst: 'left' });
    expect(v.reason).toBe('It holds its height; the left panel bulges 5 % of its width.');
    expect(v.details).toEqual(['The left panel gives way first.']);
  });

  it('stands taller than its stack: 240 mm against 0.9930 x 143 = 142 mm', () => {
    const v = judge([runOf('mid', sunk(0.7, 0.03), 0.143)], 'structured');
    expect(v.givesWayFirst).toBe('front');
    expect(v.details[0]).toBe('The front gives way first: it is 240 mm (9 7/16 in) tall, its stack stands 142 mm (5 9/16 in) unaided.');
  });
  it('is, among walls that all stand too tall, the one that kept least: the front sags 30 mm more than the sides', () => {
    const run = runOf('mid', sunk(0.9, 0.03), 0.143);
    const kept = Object.fromEntries(run.panels.map((p) => [p.name, p.heightKept]));
    expect(kept.front!).toBeLessThan(kept.right! - 0.02);
    expect(judge([run], 'structured').givesWayFirst).toBe('front');
  });
  it('is told apart by the stand number when all kept the same: a side with half the overhang', () => {
    const run = runOf('mid', sunk(0.8), 0.2);
    const panels = run.panels.map((p) => (p.name === 'left' ? { ...p, overhang: 0.1, standNumber: 2.4 } : p));
    expect(judge([{ ...run, panels }], 'structured').givesWayFirst).toBe('left');
  });
  it('makes no claim about a stack that would stand by itself', () => {
    const v = judge([runOf('mid', sunk(0.8), 0.4)], 'structured');
    expect(v.details).toEqual(['Every wall is low enough for its stack to stand unaided.']);
  });
});

describe('sentences', () => {
  it('never promise anything: the word "safe" does not occur in any of 40 reasons', () => {
    const runs = [still, runWith({ heightKept: 0.9 }), runWith({ wallLean: 0.5 }), runOf('mid', sunk(0.4), 0.1), { ...still, status: 'notConverged' as const }];
    for (const wanted of ['slouchy', 'soft', 'structured', 'rigid'] as const) {
      for (const run of runs) {
        for (const text of [judge([run], wanted).reason, judge([run], wanted).wantedReason]) expect(text).not.toMatch(/\bsafe/i);
      }
    }
  });
  it('a bag that holds is told by its 100 %', () => {
    expect(judge([still], 'structured').reason).toBe('It keeps 100 % of its height and comes back from a nudge.');
    expect(judgeBand(still).word).toBe('holds');
  });
});
