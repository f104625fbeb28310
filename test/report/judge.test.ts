import { describe, expect, it } from 'vitest';
import type { Measures } from '../../src/measures/types.ts';
import { judgeBand } from '../../src/report/band.ts';
import { judge } from '../../src/report/judge.ts';
import { gateValue, marginOf, THRESHOLDS, UNAIDED, wordOf } from '../../src/report/thresholds.ts';
import type { BandRun } from '../../src/report/types.ts';
import { pushedIn } from '../../src/report/words.ts';
import { H, runOf, runWith, sunk, tote } from './results.ts';

const DEG = Math.PI / 180;
const still = runOf('mid', tote.drafted);

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
  it.each(table)('%s holds up to %d and slumps beyond %d', (gate, holds, softens) => {
    const t = THRESHOLDS.find((row) => row.gate === gate)!;
    const step = t.ideal === 1 ? -1e-6 : 1e-6;
    expect(wordOf(t, holds)).toBe('holds');
    expect(wordOf(t, holds + step)).toBe('softens');
    expect(wordOf(t, softens)).toBe('softens');
    expect(wordOf(t, softens + step)).toBe('slumps');
    expect(marginOf(t, t.ideal)).toBeCloseTo(1, 12);
    expect(marginOf(t, holds)).toBeCloseTo(0, 12);
    expect(marginOf(t, holds + step)).toBeLessThan(0);
    expect(t.source).toBe('common practice, no source');
  });
  it('every gated measure has exactly 1 row', () => {
    expect(THRESHOLDS.map((t) => t.gate).sort()).toEqual(table.map(([g]) => g).sort());
  });
  it('a stack stands unaided to 0.9930 of its overhang', () => {
    expect(UNAIDED).toBeCloseTo(1.98635 / 2.00035, 4);
  });
});

describe('one run', () => {
  it('as drafted holds with margin 1', () => {
    expect(judge([still], 'structured')).toMatchObject({ word: 'holds', givesWayFirst: null, decidedBy: null, meetsWanted: true });
    expect(judge([still], 'structured').margin).toBeCloseTo(1, 9);
  });
  it.each([
    ['heightKept', 0.9, 'softens'],
    ['heightKept', 0.5, 'slumps'],
    ['topEdgeDrop', 0.1 * H, 'softens'],
    ['wallLean', 16 * DEG, 'slumps'],
    ['bulge', 0.05, 'softens'],
    ['footprintKept', 0.8, 'slumps'],
    ['mouthGap', 0.5, 'softens'],
    ['volumeKept', 0.7, 'slumps'],
  ] as const)('%s alone at %d decides: %s', (gate, value, word) => {
    const v = judge([runWith({ [gate]: value })], 'structured');
    expect(v.word).toBe(word);
    expect(v.decidedBy).toBe(gate);
    expect(v.margin).toBeCloseTo(marginOf(THRESHOLDS.find((t) => t.gate === gate)!, gateValue(gate, runWith({ [gate]: value }).measures)!), 12);
  });
  it('a slump in one measure outweighs a worse-looking softening in another', () => {
    expect(judge([runWith({ heightKept: 0.86, footprintKept: 0.84 })], 'structured')).toMatchObject({ word: 'slumps', decidedBy: 'footprintKept' });
  });
  it('that does not come back from a nudge does not hold: margin -12 mm / (5 % of 240 mm) = -1', () => {
    const v = judge([{ ...still, nudge: { tested: true, comesBack: false, fraction: 0.03, worstShift: 0.012 } }], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'nudge' });
    expect(v.margin).toBeCloseTo(-1, 9);
    expect(v.reason).toBe('It stands, but a nudge of 3 % of its weight leaves it 12 mm (1/2 in) out of place.');
  });
  it('that never came back from one is told so, without a distance; one that would only slide is told that, and holds', () => {
    const gone = judge([{ ...still, nudge: { tested: true, comesBack: false, fraction: 0.03, worstShift: Number.POSITIVE_INFINITY } }], 'structured');
    expect(gone.reason).toBe('It stands until it is touched: from a nudge of 3 % of its weight it does not come back.');
    const slides = judge([{ ...still, nudge: { tested: false, comesBack: false, fraction: 0.03, worstShift: 0, slides: true } }], 'structured');
    expect(slides.word).toBe('holds');
    expect(slides.reason).toContain('would slide it along the table, so no nudge was tried');
  });
  it('hung, that does not come back from a nudge, is not said to stand', () => {
    const hung = { slid: 0 } as NonNullable<BandRun['hung']>,
      measures = { ...still.measures, hangTilt: 0.01 };
    const v = judge([{ ...still, hung, measures, nudge: { tested: true, comesBack: false, fraction: 0.03, worstShift: 0.012 } }], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'nudge' });
    expect(v.reason).toBe('It hangs like this, but a nudge of 3 % of its weight leaves its mouth 12 mm (1/2 in) out of place.');
  });
  it('unstable and never nudged does not hold', () => {
    expect(judge([{ ...still, stable: false, nudge: { ...still.nudge, tested: false, comesBack: false } }], 'structured').word).toBe('softens');
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
  it('92 % filled out and 61 % pushed in depends on it, with both numbers', () => {
    const v = judge([runWith({ heightKept: 0.92 }, { inward: inward({ heightKept: 0.61 }) })], 'structured');
    expect(v).toMatchObject({ word: 'depends on how it is filled', decidedBy: 'filling' });
    expect(v.reason).toBe('Filled out it keeps 92 % of its height; with its walls pushed in it comes to rest at 61 %.');
  });
  it('92 % filled out and 99 % pushed in with the mouth shut depends on it as well, and the sentence says what shuts', () => {
    const run = runWith({ heightKept: 0.92 }, { inward: inward({ heightKept: 0.99, mouthGap: 0.02 }) });
    const v = judge([run], 'structured');
    expect(v.word).toBe('depends on how it is filled');
    expect(v.reason).toBe(
      'Filled out it keeps 92 % of its height; with its walls pushed in it comes to rest at 99 %, but the mouth closes to 2 % of its depth.',
    );
    expect(pushedIn(run)).toBe('99 %, slumps');
  });
  it('a bag that slumps filled out and, by its bulge, pushed in, slumps, though it stands tall the second way', () => {
    const run = runWith({ heightKept: 0.82 }, { inward: inward({ heightKept: 0.98, bulge: 0.19 }) });
    const v = judge([run], 'structured');
    expect(v).toMatchObject({ word: 'slumps', decidedBy: 'heightKept' });
    // (0.19 - 0.03) / (0 - 0.03), by hand: the worse of the two shapes.
    expect(v.margin).toBeCloseTo(-0.16 / 0.03, 9);
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
    expect(judge(bands(0.5, 0.6, 0.7), 'slouchy')).toMatchObject({
      word: 'slumps',
      meetsWanted: true,
      byBand: { low: 'slumps', mid: 'slumps', high: 'slumps' },
    });
  });
  it('that differ depend on the swatch, and the sentence names the bolts', () => {
    const v = judge(bands(0.8, 0.96, 0.99), 'structured');
    expect(v.word).toBe('depends on the swatch');
    expect(v.byBand).toEqual({ low: 'slumps', mid: 'holds', high: 'holds' });
    expect(v.reason).toMatch(
      /^Slumps with a soft bolt, holds with a typical bolt and a stiff bolt: test a swatch\. With a soft bolt: .*80 % of (its|the drafted) height/,
    );
    expect(v.wantedReason).toBe('Too soft for "structured" with a soft bolt.');
    expect(v.margin).toBeCloseTo((0.8 - 0.95) / 0.05, 9);
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
  it.each([
    [1, 'slouchy', false, 'Too stiff for "slouchy".'],
    [0.9, 'slouchy', true, 'Meets "slouchy".'],
    [0.5, 'slouchy', true, 'Meets "slouchy".'],
    [1, 'soft', false, 'Too stiff for "soft".'],
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
});

describe('the panel that gives way first', () => {
  it('is the wall that bulges when a bulge decided the word, though others are taller than their stack stands', () => {
    const base = runWith({ bulge: 0.05 }, {}, 0.142);
    const panels = base.panels.map((p) => (p.name === 'left' ? { ...p, bulge: 0.05, overhang: 0.3 } : { ...p, bulge: 0.001 }));
    const v = judge([{ ...base, panels }], 'structured');
    expect(v).toMatchObject({ word: 'softens', decidedBy: 'bulge', givesWayFirst: 'left' });
    expect(v.reason).toBe('The left panel gives way first: a wall bulges 5 % of its width.');
  });

  it('stands taller than its stack: 240 mm against 0.9930 x 143 = 142 mm', () => {
    const v = judge([runOf('mid', sunk(0.7, 0.03), 0.143)], 'structured');
    expect(v.givesWayFirst).toBe('front');
    expect(v.reason).toContain('The front gives way first: it is 240 mm (9 7/16 in) tall, its stack stands 142 mm (5 9/16 in) unaided; ');
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
    expect(v.reason).toMatch(/although every wall is low enough/);
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
  it('a bag that holds is told by its 100 % and its level edge', () => {
    expect(judge([still], 'structured').reason).toBe('Comes back from every nudge: it keeps 100 % of its height, and the top edge stays level.');
    expect(judgeBand(still).word).toBe('holds');
  });
});
