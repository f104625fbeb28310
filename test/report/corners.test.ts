import { describe, expect, it } from 'vitest';
import { htmlReport, judge, resultJson, textReport } from '../../src/report/index.ts';
import type { BandRun } from '../../src/report/types.ts';
import { resultOf, runWith } from './results.ts';

describe('how the corners are pressed, where that was asked', () => {
  const run = runWith({ heightKept: 0.93 });
  const asked = (corners: BandRun['corners']) => resultOf([{ ...run, ...(corners ? { corners } : {}) }]);
  const decides = asked({ word: 'holds', margin: 0.4, heightKept: 0.999 }),
    same = asked({ word: 'softens', margin: -0.4, heightKept: 0.94 });
  it('another word stands in the sentence, both with the height in the details, and that a crease is an estimate; the word is that of the bag as it is sewn', () => {
    expect(decides.verdict).toMatchObject({
      word: 'softens',
      reason: 'The rim keeps 93 % of its height; it depends on how the corners are pressed: to a crease it holds.',
    });
    expect(decides.verdict.details).toContain(
      'Sewn plain it softens, with its upright corners pressed to a crease it holds, keeping 100 % of its height. The stiffness of a crease is an estimate.',
    );
  });
  it('the same word is told once, in the details', () => {
    expect(same.verdict.reason).toBe('The rim keeps 93 % of its height.');
    expect(same.verdict.details).toContain('With its upright corners pressed to a crease it softens as well, keeping 94 % of its height.');
    expect(judge([run], 'structured').details.join(' ')).not.toContain('crease');
  });
  it('text, HTML and JSON say both', () => {
    for (const said of [textReport(decides), htmlReport([decides]), resultJson(decides)].map((t) => t.replace(/\s+/g, ' ')))
      for (const words of ['it depends on how the corners are pressed: to a crease it holds', 'Sewn plain it softens']) expect(said).toContain(words);
    expect(JSON.parse(resultJson(decides)).corners).toEqual({ word: 'holds', margin: 0.4, heightKept: 0.999 });
  });
});
