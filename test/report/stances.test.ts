import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { overStances } from '../../src/report/over-stances.ts';
import { stancesText } from '../../src/report/stances.ts';
import { ran } from '../cli/desk.ts';
import { resultOf, runWith } from './results.ts';

const named = (stance: string, height: number) => ({ ...resultOf([runWith({ heightKept: height })]), stance });

it('says that it holds everywhere when it does', () => {
  expect(overStances([named('empty', 1), named('loaded', 0.99)])).toBe('It keeps its shape in every stance.');
});

it('names the weakest stance, its word and the panel that gives way first, and where the bag holds', () => {
  const over = overStances([named('empty', 1), named('loaded', 0.9), named('wet', 0.5)])!;
  expect(over).toMatch(/^It keeps its shape empty; the weakest stance is "wet": slumps, (front|back) first\.$/);
});

it('says nothing over stances that have no verdict', () => {
  expect(overStances([{ ...named('empty', 1), verdict: { ...named('empty', 1).verdict, word: 'no verdict' } }])).toBeNull();
});

it('a line a stance, with its word', () => {
  const text = stancesText([named('empty', 1), named('loaded', 0.9)]);
  expect(text).toMatch(/empty +holds +holds/);
  expect(text).toMatch(/loaded +softens +softens/);
});

it('on the command line: two stances of the tote, one folder each and their text; all options in all stances go into a folder for each option', async () => {
  const tote = JSON.parse(readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8'));
  const stances = { empty: { kind: 'standing' }, 'with 1 kg': { kind: 'standing', load: '1 kg' } };
  const files = { 'a.bag.json': JSON.stringify({ ...tote, stances }) };
  const ask = ['settle', 'a.bag.json', '--stance', 'all', '--bands', 'mid', '--mesh', '30', '--out', 'out'];
  const good = await ran([...ask, '--option', 'vegetable-tanned leather'], files);
  expect([0, 3]).toContain(good.code);
  expect(good.out).toMatch(/2 stances/);
  expect(good.out).toMatch(/with 1 kg/);
  expect(Object.keys(good.files)).toEqual(expect.arrayContaining(['out/empty/picture.svg', 'out/with-1-kg/picture.svg', 'out/result.json', 'out/report.html']));
  expect(JSON.parse(good.files['out/result.json']!).results.map((s: { stance: string }) => s.stance)).toEqual(['empty', 'with 1 kg']);
  const two = { ...tote, stances, options: Object.fromEntries(Object.entries(tote.options).filter(([name]) => /leather|board/.test(name))) };
  const both = await ran([...ask, '--option', 'all'], { 'a.bag.json': JSON.stringify(two) });
  expect([0, 3]).toContain(both.code);
  const folders = Object.keys(two.options).map((o) => o.replace(/[^a-z0-9]+/g, '-'));
  for (const folder of folders)
    expect(Object.keys(both.files), folder).toEqual(expect.arrayContaining([`out/${folder}/empty/picture.svg`, `out/${folder}/with-1-kg/picture.svg`]));
  expect(JSON.parse(both.files['out/result.json']!).results).toHaveLength(2 * folders.length);
});
