import { describe, expect, it } from 'vitest';
import { htmlReport, resultJson, textReport } from '../../src/report/index.ts';
import type { BandRun } from '../../src/report/types.ts';
import { resultOf, runWith } from './results.ts';

/** Soft, typical, stiff with these heights; a heap settled once more with its walls pressed in. */
const heapsOf = (heights: readonly number[]) =>
  resultOf(
    (['low', 'mid', 'high'] as const).map((band, i): BandRun => {
      const run = runWith({ heightKept: heights[i]!, rimHeight: 0.24 * heights[i]! }, {}, 0.143);
      return {
        ...run,
        band,
        panels: run.panels.map((p) => ({ ...p, heightKept: heights[i]! })),
        inward: { ran: true, heightKept: null, differs: false, measures: null },
      };
    }),
  );
const said = (result: ReturnType<typeof heapsOf>) => [textReport(result), htmlReport([result])].map((t) => t.replace(/\s+/g, ' '));

describe('heights of bags that have come down, 55, 62, 70 % from soft to stiff', () => {
  const result = heapsOf([0.55, 0.62, 0.7]);
  it('text and HTML give one range for all three, and nowhere the heap of a soft or stiff bolt by itself', () => {
    for (const told of said(result)) {
      expect(told).toMatch(/55 to 70 %|55-70 %/);
      expect(told).not.toMatch(/(?<!\d-)\b(55|70) %(?! of its height)(?<!to 70 %)/);
    }
  });
  it('JSON gives the range and the bands that it is of; of a bag that stands nothing', () => {
    expect(JSON.parse(resultJson(result)).collapsed).toEqual({ bands: ['low', 'mid', 'high'], heightKept: [0.55, 0.7] });
    expect(JSON.parse(resultJson(heapsOf([0.97, 0.98, 0.99])))).not.toHaveProperty('collapsed');
  });
  it('where the stiff one stands the range is of the other two', () => {
    expect(JSON.parse(resultJson(heapsOf([0.62, 0.55, 0.99]))).collapsed).toEqual({ bands: ['low', 'mid'], heightKept: [0.55, 0.62] });
    for (const told of said(heapsOf([0.62, 0.55, 0.99]))) expect(told).toMatch(/55 to 62 %|55-62 %/);
  });
  it('"too soft" comes with by how much, in mm of overhang, in text, HTML and JSON', () => {
    const words = 'Too soft for "structured": its overhang is 143 mm, 99 mm less than a wall of 240 mm needs to stand by itself';
    const [text, html] = said(result);
    expect(text).toContain(words);
    expect(html).toContain(words.slice(words.indexOf('its overhang')));
    expect(JSON.parse(resultJson(result)).verdict.wantedReason).toContain(words);
  });
});
