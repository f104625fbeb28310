/** A word near its limit is asked again on another mesh, and both are told. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { judge, nearItsLimit, resultsJson } from '../../src/report/index.ts';
import type { Again } from '../../src/report/types.ts';
import { type PreviewJob, preview, previewSync, type Unchecked } from '../../src/run/index.ts';
import { statedStack } from '../bag/stated-stack.ts';
import { runWith } from '../report/results.ts';

const text = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
/** The example's shape in one sheet of 450 g/m2 whose rigidity is stated, uN.m. */
const box = (D: number) => ({
  ...structuredClone(text),
  stacks: { sheet: statedStack(450, D, { thickness: '1.5 mm', D66: `${0.45 * D} uN.m`, C66: '8 kN/m' }) },
  options: { sheet: { 'every panel': 'sheet' } },
});
const o = { edgeLength: 0.035, bands: ['mid'] } as const;

describe('a box of stated rigidity', () => {
  it('at 1500 uN.m, near its limit, is settled again on a mesh 0.85 times as coarse from another seed, and the report tells that word and height', () => {
    const { runs, verdict } = previewSync(box(1500), o);
    const { again } = runs[0]!;
    console.log(`margin ${verdict.margin.toFixed(3)}; again ${JSON.stringify(again)}`);
    expect(nearItsLimit(runs[0]!)).toBe(true);
    expect(again).toMatchObject({ edgeLength: 0.85 * 0.035, seed: 2 });
    expect(verdict.details[0]).toContain('On a second mesh, of 29.8 mm');
  });

  it('at 780 uN.m, within the spread of the limit at which it slumps (at 774 it does), it is settled again as well, and both are told', () => {
    const { runs, verdict } = previewSync(box(780), { ...o, corners: false });
    const { again } = runs[0]!;
    console.log(`margin ${verdict.margin.toFixed(3)}, ${verdict.word}: ${verdict.reason}; again ${JSON.stringify(again)}`);
    expect(Math.abs(verdict.margin + 2), 'from the limit of a slump, in margins; the spread there is 0.8').toBeLessThan(0.8);
    expect(again).toMatchObject({ edgeLength: 0.85 * 0.035, seed: 2 });
    expect(verdict.details.join(' ')).toContain('On a second mesh, of 29.8 mm');
  });

  it('at 3000 uN.m, margin 0.99, it is not; nor where askAgain is false', () => {
    expect(previewSync(box(3000), o).runs[0]).not.toHaveProperty('again');
    expect(previewSync(box(1500), { ...o, askAgain: false }).runs[0]).not.toHaveProperty('again');
  });
});

describe('what a middle is asked once more', () => {
  it('is told of before it is run, with the word as it is at rest, and is jobs of its own with an executor: 3 for a box near its limit that does not hold, the same bytes', async () => {
    const [here, there, jobs]: [Unchecked[], Unchecked[], PreviewJob[]] = [[], [], []];
    const result = previewSync(box(1500), { edgeLength: 0.035, onUnchecked: (news) => here.push(news) });
    const parts = await preview(box(1500), {
      edgeLength: 0.035,
      onUnchecked: (news) => there.push(news),
      executor: async (job) => {
        jobs.push(job);
        return structuredClone(previewSync(job.bag, job.options));
      },
    });
    expect(jobs.map((j) => [j.options.edgeLength, j.options.seed ?? 1, j.bag.seams.some((seam) => seam.pressed === 'creased')])).toEqual([
      [0.035, 1, false],
      [0.85 * 0.035, 2, false],
      [0.035, 1, true],
    ]);
    expect(resultsJson([parts])).toBe(resultsJson([result]));
    for (const [{ result: first, checks }, ...more] of [here, there] as [Unchecked, ...Unchecked[]][]) {
      expect(more).toHaveLength(0);
      expect(checks).toEqual(['again', 'corners']);
      expect(first.verdict.word).toBe('softens');
      expect(first.runs[0]).not.toHaveProperty('again');
      expect(first.runs.find((r) => r.band === 'mid')!.positions).toEqual(result.runs.find((r) => r.band === 'mid')!.positions);
    }
  });
});

describe('what a nudge leaves near the limit of a slump', () => {
  const left = { ...runWith({}).measures, heightKept: 0.852, wallLean: 0 };
  const touched = (keeps: Partial<typeof left>) =>
    runWith({}, { nudge: { tested: true, comesBack: false, fraction: 0.03, worstShift: 0.05, left: { ...left, ...keeps } } });
  it('85.2 % of the height kept, margin -1.96: asked again; 90 %, margin -1: not', () => {
    expect(nearItsLimit(touched({}))).toBe(true);
    expect(nearItsLimit(touched({ heightKept: 0.9 }))).toBe(false);
  });
});

describe('the verdict of a middle that was asked again', () => {
  const again = (word: Again['word']): Again => ({ edgeLength: 0.01, seed: 2, word, margin: 0.1, heightKept: 0.96 });
  it('another word makes it "near its limit", with both words in the sentence and the height in the details', () => {
    const v = judge([runWith({ heightKept: 0.949 }, { again: again('holds') })], 'structured');
    expect(v.word).toBe('near its limit');
    expect(v.reason).toMatch(/^On one mesh it softens, on another it holds: the rim keeps 95 % of its height\.$/);
    expect(v.details[0]).toBe('On a second mesh, of 10 mm, it holds and keeps 96 % of its height. Treat it as either.');
  });
  it('the same word stays, and is told to be near its limit', () => {
    const v = judge([runWith({ heightKept: 0.949 }, { again: again('softens') })], 'structured');
    expect(v.word).toBe('softens');
    expect(v.details[0]).toContain('the same word, near its limit');
  });
});
