/**
 * A few of the twelve stacks of bench:stacks on the structured bag of 280 x 220 x 110 mm, its corners creased, at 30 mm: those that a firm hand chooses, because heaps take long.
 * The whole list with its reasons: test/bench/twelve-stacks.ts; all twelve at 28 mm: test/bench/README.md.
 */
import { expect, it } from 'vitest';
import { judgeBand } from '../../src/report/index.ts';
import { previewBag } from '../../src/run/index.ts';
import { structuredBag, TWELVE } from '../bench/twelve-stacks.ts';

const bag = structuredBag('creased');

it('the list has 12 stacks of different names, each with its reason', () => {
  expect(new Set(TWELVE.map((s) => s.name)).size).toBe(12);
  for (const s of TWELVE) expect(s.why.length).toBeGreaterThan(20);
});

it.each([
  ['canvas 10 oz, foam, poplin', ['softens', 'holds', 'holds']],
  ['chrome-tanned 1.6 mm', ['softens', 'holds', 'holds']],
  ['vegetable-tanned 2.0 mm', ['holds', 'holds', 'holds']],
  ['leather 1.1 mm, fibreboard, poplin', ['holds', 'holds', 'holds']],
])('%s reads %j from soft to stiff, not "depends on the swatch", and no word contradicts its picture', (option, words) => {
  const { runs, verdict } = previewBag(bag, { option, edgeLength: 0.03, askAgain: false });
  const figures = runs.map(
    (r) => `${(100 * r.measures.heightKept!).toFixed(1)} %, ${((180 / Math.PI) * r.measures.wallLean!).toFixed(1)} deg, ${judgeBand(r).margin.toFixed(2)}`,
  );
  console.log(`${option}: ${verdict.pips.map((p) => p.word).join(' / ')}; ${figures.join('; ')}`);
  expect(verdict.pips.map((p) => p.word)).toEqual(words);
  expect(verdict.word).toBe(words[1]);
  runs.forEach((r, i) => {
    const { heightKept, wallLean } = r.measures;
    // As a maker sees it: what holds is upright and as tall as drafted; nothing here that softens has come down.
    if (words[i] === 'holds') expect([heightKept! >= 0.95, wallLean! <= (5 * Math.PI) / 180]).toEqual([true, true]);
    else expect(heightKept).toBeGreaterThan(0.85);
  });
});
