import { describe, expect, it } from 'vitest';
import { BagError, type EarlyNews, previewSync, readResults, resultJson, textReport } from '../../src/index.ts';
import { evenBox } from '../bench/even-box.ts';

const COARSE = 0.04;
/** Soft enough to come down: 10 uN.m. */
const soft = evenBox(1e-5);

describe('a box of 300 x 240 x 100 mm of 10 uN.m, mesh 40 mm: its word before its heap', () => {
  const heard: EarlyNews[] = [];
  const toRest = previewSync(soft, { bands: ['mid'], edgeLength: COARSE, onWord: (news) => heard.push({ ...news, positions: news.positions.slice() }) });
  const toWord = previewSync(soft, { bands: ['mid'], edgeLength: COARSE, until: 'word' });
  const [rest, early] = [toRest.runs[0]!, toWord.runs[0]!];

  it('is told once, below 80 % and above 70 % of its height, and is the one that the heap has', () => {
    console.log(`told at ${heard.map((n) => n.heightKept.toFixed(3))}, at rest ${rest.measures.heightKept!.toFixed(3)}: ${toRest.verdict.word}`);
    expect(heard.map(({ band, word }) => [band, word])).toEqual([['mid', 'slumps']]);
    expect(heard[0]!.heightKept).toBeLessThan(0.8);
    expect(heard[0]!.heightKept).toBeGreaterThan(0.7);
    expect([toRest.verdict.word, rest.status, rest.early]).toEqual(['slumps', 'settled', undefined]);
  });

  it('ended there it has the same word in under half of the steps, at the shape that was told', () => {
    console.log(`${early.iterations} of ${rest.iterations} steps`);
    expect([toWord.verdict.word, toWord.verdict.decidedBy, early.early, early.status]).toEqual(['slumps', 'falling', 'slumps', 'notConverged']);
    expect(early.iterations).toBeLessThan(rest.iterations / 2);
    expect(early.measures.heightKept).toBe(heard[0]!.heightKept);
    expect(early.positions).toEqual(heard[0]!.positions.subarray(0, early.positions.length));
  });

  it('its figures are marked as still falling wherever they stand, no panel is said to give way, and "slouchy" is not judged', () => {
    const text = textReport(toWord);
    expect(text).toContain('mid, falling');
    expect(text).toMatch(/those of a bag\s+that still falls/);
    expect(text).toContain('not at rest');
    expect(toWord.verdict.givesWayFirst).toBeNull();
    expect(readResults(resultJson(toWord)).results[0]!.bands.mid).toMatchObject({ early: 'slumps', stillFalling: true });
    const slouchy = previewSync({ ...soft, wanted: 'slouchy' }, { bands: ['mid'], edgeLength: COARSE, until: 'word' }).verdict;
    expect([slouchy.meetsWanted, slouchy.fit]).toEqual([null, null]);
  });

  it('told or not, the heap is the same to the last byte', () => {
    expect(previewSync(soft, { bands: ['mid'], edgeLength: COARSE }).runs[0]!.positions).toEqual(rest.positions);
  });

  it('until: anything else is a fault with its path', () => {
    expect(() => previewSync(soft, { until: 'words' as 'word' })).toThrow(BagError);
    expect(() => previewSync(soft, { until: 'words' as 'word' })).toThrow(/until/);
  });
});
