import { describe, expect, it } from 'vitest';
import { textReport } from '../../src/report/index.ts';
import type { Result } from '../../src/report/types.ts';
import { resultOf, runWith } from './results.ts';

describe('how the corners are pressed, where that was asked near a limit', () => {
  const plain = resultOf([runWith({ heightKept: 0.93 })]);
  it('two words are both told, with the height and that a crease is an estimate; one word is told once', () => {
    const decides = textReport({ ...plain, corners: { word: 'holds', margin: 0.4, heightKept: 0.999 } } as Result).replace(/\s+/g, ' ');
    expect(decides).toContain(
      'How the corners are pressed decides: sewn plain it softens, pressed to a crease it holds, keeping 100 % of its height. How stiff a crease is is an estimate.',
    );
    const same = textReport({ ...plain, corners: { word: 'softens', margin: -0.4, heightKept: 0.94 } } as Result).replace(/\s+/g, ' ');
    expect(same).toContain('With its upright corners pressed to a crease it softens as well, keeping 94 % of its height.');
    expect(textReport(plain)).not.toContain('crease');
  });
});
