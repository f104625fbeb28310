/** The results file: one shape, its schema, where it comes from, and what becomes of an older one. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { BagError } from '../../src/bag/types.ts';
import {
  batchJsonSchema,
  batchRecord,
  readBatch,
  readResults,
  resultJson,
  resultsJson,
  resultsJsonSchema,
  stableJson,
  VERSION,
} from '../../src/report/index.ts';
import { previewSync } from '../../src/run/index.ts';
import { ran } from '../cli/desk.ts';
import { resultOf, runOf, runWith, sunk, tote } from './results.ts';

const demo = (name: string) => readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const two = [resultOf([runOf('mid', sunk(0.7, 0.02), 0.143)]), { ...resultOf([runWith({})]), option: 'leather' }];

it("the version it names is package.json's", () => {
  expect(VERSION).toBe(JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')).version);
});

describe('every shape of results passes its own schema, with nothing left out of it', () => {
  it.each([
    ['one option', () => resultJson(two[0]!, { bagDigest: 'ab' })],
    ['several options', () => resultsJson(two, { bagDigest: null })],
    ['a clamped strip, really settled', () => resultJson(previewSync(demo('clamped-strip'), { bands: ['mid'] }))],
    [
      'a bag hung with 2 kg, really settled',
      () => resultJson(previewSync(demo('market-tote'), { stance: 'hung with 2 kg', bands: ['mid'], edgeLength: 0.05, skipNudge: true })),
    ],
    [
      'a bag with things in it, really settled',
      () =>
        resultJson(
          previewSync(demo('commuter-tote'), {
            stance: 'with things in it',
            option: 'canvas, board, poplin',
            bands: ['mid'],
            edgeLength: 0.05,
            skipNudge: true,
          }),
        ),
    ],
  ])('%s', (_, text) => {
    const read = readResults(text());
    expect(read.program).toEqual({ name: 'slumpline', version: VERSION });
    for (const r of read.results) {
      expect(r.positions && Object.keys(r.positions).length).toBeGreaterThan(0);
      expect(JSON.stringify(r)).not.toContain('"seconds"');
    }
  });
});

it('one result has its keys at the top, several have none there; both list them all under results', () => {
  const [one, many] = [JSON.parse(resultJson(two[0]!)), JSON.parse(resultsJson(two))];
  for (const key of ['status', 'residual', 'vertices', 'massKg', 'verdict', 'measures', 'panels', 'marks', 'contact', 'hung', 'nudge', 'bands', 'stacks']) {
    expect(one, key).toHaveProperty(key);
    expect(many, key).not.toHaveProperty(key);
  }
  expect(one.results).toHaveLength(1);
  expect(many.results).toHaveLength(2);
  expect(one.results[0].settings).toEqual({ edgeLength: 0.02, seed: 1, kernels: 'plain' });
});

it('the schema is JSON schema 2020-12 and names units where a figure has one', () => {
  const schema = JSON.stringify(resultsJsonSchema());
  expect(schema).toContain('2020-12');
  expect(schema).toContain('of the mesh, m');
});

describe('what is no results file of this version is said to be so, and never read', () => {
  const faults = (text: string) => {
    try {
      readResults(text);
    } catch (error) {
      return (error as BagError).faults;
    }
    return [];
  };
  it('no JSON, another file, another version (with the program that wrote it), a missing figure', () => {
    expect(faults('{')[0]!.expected).toContain('JSON');
    expect(faults('{"slumpline": 1}')[0]).toMatchObject({ path: 'format', got: 'nothing' });
    const other = { ...JSON.parse(resultJson(two[0]!)), formatVersion: 7, program: { name: 'slumpline', version: '9.9.9' } };
    expect(faults(JSON.stringify(other))).toEqual([{ path: 'formatVersion', got: '7, written by version 9.9.9', expected: '2, as this version writes it' }]);
    const lame = JSON.parse(resultJson(two[0]!));
    delete lame.results[0].massKg;
    lame.results[0].vertices = 'many';
    expect(faults(JSON.stringify(lame)).map((f) => f.path)).toEqual(['results[0].vertices', 'results[0].massKg']);
  });

  it('every fault in words of our own with what stands there: wrong kinds, words, missing and unknown entries; nothing of the schema program shines through', () => {
    const lame = JSON.parse(resultJson(two[0]!));
    lame.results[0].vertices = 'many';
    lame.results[0].status = 'tired';
    lame.results[0].residual = [1];
    lame.results[0].stable = 1;
    lame.results[0].cautions = {};
    lame.results[0].marks = { tip: [0, 1] };
    delete lame.results[0].option;
    lame.result = 5;
    const found = faults(JSON.stringify(lame));
    expect(found).toEqual(
      expect.arrayContaining([
        { path: 'results[0].vertices', got: '"many"', expected: 'a number' },
        { path: 'results[0].status', got: '"tired"', expected: 'one of "settled", "notConverged", "diverged"' },
        { path: 'results[0].residual', got: 'a list of 1', expected: 'a number' },
        { path: 'results[0].stable', got: '1', expected: 'true or false' },
        { path: 'results[0].cautions', got: 'an object with nothing in it', expected: 'a list' },
        { path: 'results[0].option', got: 'nothing', expected: 'text' },
        { path: 'result', got: 'an unknown entry', expected: 'no entry of that name (did you mean "results"?)' },
      ]),
    );
    expect(found.map((f) => f.path)).toContain('results[0].marks.tip');
    expect(JSON.stringify(found)).not.toMatch(/invalid_|too_small|expected_|Invalid|received|unrecognized/i);
  });
});

describe('results of several files', () => {
  const batch = batchRecord([
    { file: 'a.bag.json', results: two, trace: { bagDigest: 'ab' } },
    { file: 'b.bag.json', results: [two[0]!] },
  ]);

  it('pass their own schema and are read back: 2 files, each as its own results file would be', () => {
    const read = readBatch(stableJson(batch));
    expect(read.files.map((f) => [f.file, f.results.length, f.bagDigest])).toEqual([
      ['a.bag.json', 2, 'ab'],
      ['b.bag.json', 1, null],
    ]);
    const { file: _, ...second } = read.files[1]!;
    expect(readResults(stableJson(second))).toEqual(readResults(resultJson(two[0]!)));
    expect(JSON.stringify(batchJsonSchema())).toContain('as it was given on the command line');
  });

  it('one kind is not taken for the other; a fault names its file by number', () => {
    expect(() => readResults(stableJson(batch))).toThrow(/format/);
    expect(() => readBatch(resultJson(two[0]!))).toThrow(/slumpline results of several files/);
    const lame = JSON.parse(stableJson(batch));
    lame.files[1].results[0].massKg = 'light';
    expect(() => readBatch(JSON.stringify(lame))).toThrow(/files\[1\]\.results\[0\]\.massKg/);
  });
});

it('--out takes away what an earlier run left there and this one does not write, and nothing else', async () => {
  const preview = async () => resultOf([runOf('mid', tote.drafted)]);
  const first = await ran(['settle', 'a.json', '--out', 'o', '--maps', '--quiet'], { 'a.json': demo('harbour-tote'), 'o/notes.txt': 'mine' }, null, {
    preview,
  });
  expect(Object.keys(first.files)).toContain('o/map-strain.svg');
  const again = await ran(['settle', 'a.json', '--out', 'o', '--quiet'], first.files, null, { preview });
  expect(again.code).toBe(0);
  expect(
    Object.keys(again.files)
      .filter((f) => f.startsWith('o/'))
      .sort(),
  ).toEqual(['mesh.obj', 'notes.txt', 'panels.svg', 'picture.svg', 'report.html', 'result.json'].map((f) => `o/${f}`));
});
