/** A sweep's table read back, and its map as words. */
import { describe, expect, it } from 'vitest';
import { readMany } from '../../../src/app/many/read.ts';
import { BagError, lineOf, manifestText, readRunsTable, runsJson, runsPlots, verdictCells, verdictMap } from '../../../src/index.ts';
import { madeRun, planOf, stepsAxis } from './made-up.ts';

const axes = [stepsAxis('W', [260, 300, 340], 'mm'), stepsAxis('bond', [0.2, 0.8])];
const plan = planOf(axes, 6);
const WORDS = ['holds', 'softens', 'slumps'] as const;
const runs = Array.from({ length: 6 }, (_, i) => {
  const w = Math.floor(i / 2);
  return madeRun(plan, i, { W: axes[0]!.values![w]!, bond: axes[1]!.values![i % 2]! }, { word: WORDS[w]!, heightKept: [0.95, 0.75, 0.55][w]! });
});
const text = runsJson(plan, runs);
const changed = (change: (table: { plan: { runs: number }; runs: Record<string, unknown>[]; format: string; formatVersion: number }) => void): string => {
  const table = JSON.parse(text);
  change(table);
  return JSON.stringify(table);
};
const faults = (source: string) => {
  try {
    readRunsTable(source);
    return [];
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    return error.faults.map((f) => f.path);
  }
};

describe('readRunsTable', () => {
  it('gives back plan and 6 runs as they were written: the same table, the same plots to the byte', () => {
    const read = readRunsTable(text);
    expect(read).toEqual({ plan, runs });
    expect(runsJson(read.plan, read.runs)).toBe(text);
    expect(runsPlots(read.plan, read.runs)).toEqual(runsPlots(plan, runs));
  });
  it.each<[string, string, string[]]>([
    ['no JSON', '{', ['']],
    ['null', 'null', ['format']],
    ['a bag file', '{"slumpline":1}', ['format']],
    [
      'another version',
      changed((t) => {
        t.formatVersion = 2;
      }),
      ['formatVersion'],
    ],
    [
      'a plan changed by hand',
      changed((t) => {
        t.plan.runs = 7;
      }),
      ['plan'],
    ],
    [
      'runs of five kinds that are none: no word, a number beyond the plan, one twice, a value missing, a word for a figure',
      changed((t) => {
        t.runs[0]!.word = 'stands';
        t.runs[1]!.run = 6;
        t.runs[3]!.run = 2;
        t.runs[4]!.values = { W: 340 };
        t.runs[5]!.values = { W: '340', bond: 0.8 };
      }),
      ['runs[0]', 'runs[1].run', 'runs[3].run', 'runs[4].values.bond', 'runs[5].values.W'],
    ],
  ])('refuses %s', (_, source, paths) => {
    expect(faults(source)).toEqual(paths);
  });
});

describe('what the page reads', () => {
  const words = { none: 'none', expected: 'files of a sweep' };
  it('is a table, or the manifest with 4 of 6 runs that are written so far, the last line cut short', () => {
    expect(readMany([{ name: 'table.json', text }], words).table?.runs).toHaveLength(6);
    const lines = runs.slice(0, 5).map(lineOf).join('').slice(0, -9);
    const folder = [
      { name: 'runs-1-of-1.jsonl', text: lines },
      { name: 'manifest.json', text: manifestText(plan) },
    ];
    expect(readMany(folder, words)).toEqual({ table: { plan, runs: runs.slice(0, 4) }, faults: [] });
  });
  it('is refused where a line is damaged, a run stands in two shards, or no file is of a sweep', () => {
    const manifest = { name: 'manifest.json', text: manifestText(plan) };
    const shard = (name: string, t: string) => ({ name, text: t });
    expect(readMany([manifest, shard('a.jsonl', 'x\n')], words).faults.map((f) => f.path)).toEqual(['a.jsonl, line 1']);
    expect(readMany([manifest, shard('a.jsonl', lineOf(runs[0]!)), shard('b.jsonl', lineOf(runs[0]!))], words).faults.map((f) => f.path)).toEqual(['b.jsonl']);
    expect(readMany([shard('notes.json', '{}')], words).faults).toEqual([{ path: 'notes.json', got: 'none', expected: 'files of a sweep' }]);
  });
});

describe('the map as words', () => {
  it('has a cell for every pair, the least value upward first, each with its word as the picture has it', () => {
    const { columns, rows } = verdictCells(axes[0]!, axes[1]!, runs);
    expect(columns).toEqual(['260', '300', '340']);
    expect(rows.map((r) => [r.label, r.cells.map((c) => c?.word)])).toEqual([
      ['0.2', ['holds', 'softens', 'slumps']],
      ['0.8', ['holds', 'softens', 'slumps']],
    ]);
    const svg = verdictMap('t', axes[0]!, axes[1]!, runs);
    for (const word of WORDS) expect(svg.split(`>${word}<`)).toHaveLength(3);
  });
  it('a pair without a run is no cell', () => {
    expect(verdictCells(axes[0]!, axes[1]!, runs.slice(1)).rows[0]!.cells[0]).toBeNull();
  });
});
