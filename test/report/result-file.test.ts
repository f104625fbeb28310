/** The results file: one shape, its schema, where it comes from, and what becomes of an older one. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { BagError } from '../../src/bag/types.ts';
import { readResults, resultJson, resultsJson, resultsJsonSchema, VERSION } from '../../src/report/index.ts';
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
    expect(faults(JSON.stringify(other))).toEqual([{ path: 'formatVersion', got: '7, written by version 9.9.9', expected: '1, as this version writes it' }]);
    const lame = JSON.parse(resultJson(two[0]!));
    delete lame.results[0].massKg;
    lame.results[0].vertices = 'many';
    expect(faults(JSON.stringify(lame)).map((f) => f.path)).toEqual(['results.0.vertices', 'results.0.massKg']);
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
