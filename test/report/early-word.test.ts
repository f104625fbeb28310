import { describe, expect, it } from 'vitest';
import type { Band } from '../../src/material/types.ts';
import { earlyWord, endThatFollows, judge, withFollowing } from '../../src/report/index.ts';
import { pipsLine } from '../../src/report/words.ts';
import { runOf, runWith, sunk, tote } from './results.ts';

const DEG = Math.PI / 180;
const measures = (heightKept: number | null, lean: number) => ({ ...runWith({}).measures, heightKept, wallLean: lean * DEG });

describe('the word of a bag on its way down', () => {
  it.each([
    [0.81, 10, true, null],
    [0.79, 10, true, 'slumps'],
    [0.79, 70, true, 'slumps'],
    [null, 70, true, null],
    // Without a base: which of the two its heap alone tells, unless it leans past 60 degrees.
    [0.3, 50, false, null],
    [0.3, 61, false, 'lies flat'],
    [0.81, 61, false, null],
  ] as const)('height kept %s, lean %s deg, base %s: %s', (kept, lean, base, word) => {
    expect(earlyWord(measures(kept, lean), base)).toBe(word);
  });
});

describe('ends of the band whose word follows from the middle', () => {
  const firm = runOf('mid', tote.drafted),
    down = runOf('mid', sunk(0.6)),
    end = (band: Band, height: number) => runOf(band, sunk(height));

  it('one that holds with margin 0.5 or more: the stiff end; one with a base that slumps: the soft end', () => {
    expect([endThatFollows(firm), endThatFollows(down)]).toEqual(['high', 'low']);
  });
  it('none where the middle has margin 0.4, was not nudged, was asked again, slumps without a base, holds things, or is an end itself', () => {
    // 97 % of the height: margin 0.4.
    const none = [
      runOf('mid', sunk(0.97)),
      { ...firm, nudge: { ...firm.nudge, tested: false } },
      { ...firm, again: { edgeLength: 0.02, seed: 2, word: 'holds' as const, margin: 0.1, heightKept: 1 } },
      { ...down, hasBase: false },
      // It slumps by its mouth, at 90 % of its height.
      runWith({ heightKept: 0.9, mouthGap: 0.1 }),
      { ...firm, contents: [{}] as unknown as typeof firm.contents },
      { ...firm, band: 'low' as const },
    ];
    expect(none.map(endThatFollows)).toEqual(none.map(() => null));
  });
  it('stands as a pip marked so, in its place of the band, counts for the words in the sentence, and has no figures', () => {
    const v = judge([end('low', 0.6), withFollowing(firm)], 'structured');
    expect(v.pips.map((p) => [p.band, p.word, p.follows ?? false])).toEqual([
      ['low', 'slumps', false],
      ['mid', 'holds', false],
      ['high', 'holds', true],
    ]);
    expect(pipsLine(v)).toBe('soft slumps · typical holds · stiff holds (follows): test a swatch');
    expect(v.word).toBe('depends on the swatch');
    expect(v.reason).toMatch(/holds with a typical bolt and a stiff bolt/);
    expect(v.byBand).toEqual({ low: 'slumps', mid: 'holds', high: 'holds' });
  });
  it('the soft end of one that slumps comes first', () => {
    const v = judge([withFollowing(down), end('high', 1)], 'structured');
    expect(v.pips.map((p) => [p.band, p.word])).toEqual([
      ['low', 'slumps'],
      ['mid', 'slumps'],
      ['high', 'holds'],
    ]);
    expect(v.reason).toMatch(/slumps with a soft bolt and a typical bolt/);
  });
});
