import { describe, expect, it } from 'vitest';
import { judged, whole } from '../../src/app/line-up/columns.ts';
import { parseBag, previewBag } from '../../src/index.ts';
import { htmlReport, resultJson, textReport } from '../../src/report/index.ts';
import { BOX_PANELS, BOX_SEAMS, bagFile } from '../panels/wrong-bags.ts';

const rectangle = (w: number, h: number) => ({ rectangle: { width: `${w} mm`, height: `${h} mm` } });

describe('what the pattern check warns of is told with the word of what was settled all the same', () => {
  // A box tote in leatherboard, with a pocket whose sides nobody sewed.
  const bag = parseBag(
    bagFile(
      { ...BOX_PANELS, pocket: rectangle(300, 140) },
      { ...BOX_SEAMS, A: ['front.bottom', 'base.bottom', 'pocket.bottom'] },
      { stacks: { cloth: ['leatherboard'] } },
    ),
  );
  it('2 open edges of a pocket: 2 sentences among the verdict’s details, in text, JSON and HTML, kept where the page judges anew', () => {
    const asked = { edgeLength: 0.04, skipNudge: true } as const;
    const result = previewBag(bag, { ...asked, bands: ['mid'] });
    const told = ['pocket.right', 'pocket.left'].map((edge) => `140 mm of ${edge} is in no seam and not named as an opening.`);
    expect(result.pattern).toEqual(told);
    expect(result.verdict.details.slice(0, 2)).toEqual(told);
    const flat = (s: string): string => s.replace(/\s+/g, ' ');
    for (const sentence of told) for (const report of [textReport(result), resultJson(result), htmlReport([result])]) expect(flat(report)).toContain(sentence);
    expect(judged(result, 'slouchy').verdict.details).toEqual(expect.arrayContaining(told));
    expect(whole(result, previewBag(bag, { ...asked, bands: ['high'] })).verdict.details).toEqual(expect.arrayContaining(told));
  });
});
