/** Runs as lines, laid together, as tables and plots. */
import { describe, expect, it } from 'vitest';
import {
  gatherRuns,
  lineOf,
  manifestText,
  numbersText,
  planDifferences,
  readLines,
  readManifest,
  runsCsv,
  runsJson,
  runsPlots,
  runsText,
} from '../../../src/report/index.ts';
import { drawnAxis, madeRun, planOf, stepsAxis } from './made-up.ts';

const axes = [stepsAxis('W', [260, 300, 340], 'mm'), stepsAxis('bond', [0.2, 0.8])];
const plan = planOf(axes, 6);
const WORDS = ['holds', 'softens', 'slumps'] as const;
const runs = Array.from({ length: 6 }, (_, i) => {
  const w = Math.floor(i / 2);
  return madeRun(plan, i, { W: axes[0]!.values![w]!, bond: axes[1]!.values![i % 2]! }, { word: WORDS[w]!, heightKept: 0.95 - 0.2 * w });
});

describe('lines of runs', () => {
  it('are read as they were written; a last line without its end is left out, whatever letter it was cut at', () => {
    const text = runs.map(lineOf).join('');
    expect(readLines(text, 'f')).toEqual({ runs, whole: text.length, faults: [] });
    for (let cut = 1; cut < lineOf(runs[5]!).length; cut += 7) {
      const read = readLines(text.slice(0, -cut), 'f');
      expect(read.runs).toEqual(runs.slice(0, 5));
      expect(read.whole).toBe(text.length - lineOf(runs[5]!).length);
      expect(read.faults).toEqual([]);
    }
  });
  it('that are damaged in the midst are faults, each with its line', () => {
    const text = [lineOf(runs[0]!), '{"run":1,"plan":"x"\n', lineOf(runs[2]!), 'null\n'].join('');
    expect(readLines(text, 'f').faults.map((f) => f.path)).toEqual(['f, line 2', 'f, line 4']);
  });
});

describe('gatherRuns', () => {
  it('orders what came in any order and names what is missing', () => {
    const made = gatherRuns(plan, [
      { name: 'a', runs: [runs[4]!, runs[0]!] },
      { name: 'b', runs: [runs[2]!] },
    ]);
    expect(made.runs.map((r) => r.run)).toEqual([0, 2, 4]);
    expect(made.missing).toEqual([1, 3, 5]);
    expect(made.faults).toEqual([]);
    expect(numbersText([1, 2, 3, 7, 9, 10])).toBe('1 to 3, 7, 9 to 10');
  });
  it('refuses a run of another plan, a number beyond the plan, a run in two files, and one twice in a file with unlike figures', () => {
    const strange = { ...runs[1]!, plan: '0'.repeat(16) };
    const told = (files: Parameters<typeof gatherRuns>[1]) => gatherRuns(plan, files).faults.map((f) => `${f.path}: ${f.got}`);
    expect(told([{ name: 'a', runs: [strange] }])).toEqual(['a: 1 runs of plan 0000000000000000, such as run 1']);
    expect(told([{ name: 'a', runs: [{ ...runs[0]!, run: 6 }] }])).toEqual(['a: run 6']);
    expect(
      told([
        { name: 'a', runs },
        { name: 'b', runs: [runs[3]!] },
      ]),
    ).toEqual(['b: run 3, which stands in a as well']);
    expect(told([{ name: 'a', runs: [runs[0]!, { ...runs[0]!, margin: 0.4 }] }])).toEqual(['a: run 0 twice with unlike figures']);
    expect(told([{ name: 'a', runs: [runs[0]!, runs[0]!] }])).toEqual([]);
  });
});

describe('the manifest', () => {
  it('is read as it was written; a figure changed by hand is seen', () => {
    expect(readManifest(manifestText(plan), 'm')).toEqual(plan);
    expect(() => readManifest(manifestText(plan).replace('340', '350'), 'm')).toThrow('a plan that was changed');
    expect(() => readManifest('{}', 'm')).toThrow('no plan');
  });
  it('names every difference: bag, version, axes, draws, bands, mesh, order', () => {
    const other = planOf([axes[1]!, stepsAxis('W', [260, 340], 'mm')], 4, { version: '1', bagDigest: 'cd'.repeat(32), edgeLength: 0.06, bands: ['low'] });
    expect(planDifferences(plan, other).map((f) => f.path)).toEqual(['version of slumpline', 'bag file', 'vary.W', 'bands', 'mesh']);
    expect(planDifferences(plan, { ...plan, axes: [...axes].reverse() }).map((f) => f.got)).toEqual(['another order']);
    expect(planDifferences(plan, structuredClone(plan))).toEqual([]);
  });
});

describe('tables', () => {
  it('table.csv has a row a run with its values in their units, and the words', () => {
    const rows = runsCsv(plan, runs).split('\r\n');
    expect(rows).toHaveLength(8);
    expect(rows[0]).toBe('run,W (mm),bond,option,stance,verdict,height kept (%),tilt (deg),margin,wanted,decided by,mass (g),reason');
    expect(rows[3]).toBe('2,300,0.2,canvas,standing,softens,75.0,,0.500,yes,,200,It keeps 95 % of its height.');
  });
  it('table.json holds the plan, every run, how many hold and the method of the shares', () => {
    const made = JSON.parse(runsJson(plan, runs));
    expect(made.plan).toEqual(plan);
    expect(made.runs).toHaveLength(6);
    expect(made.matters.method).toContain('R squared');
    expect(made.matters.byCase[0].height[0]).toMatchObject({ axis: 'W', groups: 3 });
  });
  it('table.json has an interval for draws alone: a grid of 6 says 2 of 6 and nothing about chance, 6 draws say 0.097 to 0.700', () => {
    const grid = JSON.parse(runsJson(plan, runs));
    expect(grid.holds).toEqual([{ option: 'canvas', stance: 'standing', holds: 2, of: 6 }]);
    expect(Object.keys(grid.matters.byCase[0].height[0])).toEqual(['axis', 'share', 'groups']);
    const drawn = planOf([drawnAxis('W'), drawnAxis('bond')], 6);
    const made = runs.map((r, i) => madeRun(drawn, i, { W: i / 6, bond: (5 - i) / 6 }, { word: r.word, heightKept: r.heightKept }));
    expect(JSON.parse(runsJson(drawn, made)).holds).toEqual([
      { option: 'canvas', stance: 'standing', holds: 2, of: 6, low: expect.closeTo(0.0968, 3), high: expect.closeTo(0.7, 3) },
    ]);
  });
  it('the text says "holds in 46 of 50 draws" for draws, counts what has no verdict neither way, and says why a bag cannot be made', () => {
    const drawn = planOf([drawnAxis('friction')], 52);
    const made = Array.from({ length: 52 }, (_, i) =>
      madeRun(
        drawn,
        i,
        { friction: i / 52 },
        i === 50 ? { word: 'no verdict' } : i === 51 ? { word: null, reason: 'panels.front: too wide' } : i < 46 ? {} : { word: 'slumps', heightKept: 0.3 },
      ),
    );
    const text = runsText(drawn, made);
    expect(text).toContain('canvas, standing: holds in 46 of 50 draws (92 %; 95 % interval 81 % to 97 %)');
    expect(text).toContain('holds 46, slumps 4, no verdict 1');
    expect(text).toContain('1 did not come to rest: they count neither way');
    expect(text).toContain('1 cannot be made, such as run 51: panels.front: too wide');
    expect(text).toContain('what holding hangs on: friction');
  });
});

describe('plots', () => {
  const plots = runsPlots(plan, runs);
  it('are one along each parameter and a map of the two that matter most, under names that are files', () => {
    expect(plots.map((p) => p.name)).toEqual(['along-w.svg', 'along-bond.svg', 'map-w-bond.svg']);
  });
  it('every cell of the map has its word in writing and a pattern of its own: 6 cells, 3 words, 3 patterns that differ', () => {
    const { svg } = plots[2]!;
    const patterns = [...svg.matchAll(/<pattern id="(\w+)".*?<\/pattern>/g)].map((m) => m[0].replace(m[1]!, ''));
    expect(new Set(patterns).size).toBe(3);
    for (const word of WORDS) expect(svg.match(new RegExp(`>${word}<`, 'g'))).toHaveLength(2);
  });
  it('a cell whose runs differ says how many have its word', () => {
    const twice = planOf([...axes, stepsAxis('H', [1, 2, 3])], 18);
    const made = runs.flatMap((r, i) =>
      [1, 2, 3].map((h, k) => madeRun(twice, 3 * i + k, { ...r.values, H: h }, { word: k === 0 && i === 0 ? 'slumps' : r.word, heightKept: r.heightKept })),
    );
    expect(runsPlots(twice, made).find((p) => p.name.startsWith('map'))!.svg).toContain('in 2 of 3');
  });
  it('the share that holds is drawn with its counts, 2/2, 0/2, 0/2, over the values of W', () => {
    const { svg } = plots[0]!;
    for (const words of ['2/2', '0/2', '260', '340', 'W (mm)']) expect(svg).toContain(words);
  });
  it('sizes that were gone through are no sample: an interval stands beside draws alone, in text and plot', () => {
    expect(runsText(plan, runs)).not.toContain('interval 1');
    expect(runsText(plan, runs)).toMatch(/holds in 2 of 6 runs \(33 %\)/);
    expect(plots[0]!.svg).not.toContain('interval');
    const drawn = planOf([drawnAxis('friction')], 6);
    const made = Array.from({ length: 6 }, (_, i) => madeRun(drawn, i, { friction: i / 6 }, {}));
    expect(runsPlots(drawn, made)[0]!.svg).toContain('share that holds, with its 95 % interval');
  });
});
