import { describe, expect, it } from 'vitest';
import { endsToAsk, whole } from '../../src/app/line-up/columns.ts';
import { resultOf, runOf, sunk, tote } from '../report/results.ts';

const firm = resultOf([runOf('mid', tote.drafted)]),
  down = resultOf([runOf('mid', sunk(0.6))]),
  between = resultOf([runOf('mid', sunk(0.9))]);

describe('ends of the band that the page asks for beside the middle', () => {
  it('of one that holds with room to spare the soft end, of one that has come down the stiff end, of any other both', () => {
    expect([firm, down, between].map(endsToAsk)).toEqual([['low'], ['high'], ['low', 'high']]);
  });
  it('the whole band of a firm one: soft and typical with figures, stiff follows; an end that was run all the same stands with its own', () => {
    const low = resultOf([runOf('low', sunk(0.9))]),
      both = resultOf([runOf('low', sunk(0.9)), runOf('high', tote.drafted)]);
    expect(whole(firm, low).verdict.pips.map((p) => [p.band, p.word, p.follows ?? false])).toEqual([
      ['low', 'softens', false],
      ['mid', 'holds', false],
      ['high', 'holds', true],
    ]);
    expect(whole(firm, both).verdict.pips.map((p) => p.follows ?? false)).toEqual([false, false, false]);
    expect(whole(firm, both).runs.map((r) => r.band)).toEqual(['low', 'mid', 'high']);
  });
});
