/** Several files, standard input, the check as data, help of one command. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { type PreviewOptions, type Result, readBatch } from '../../src/index.ts';
import { resultOf, runOf, sunk } from '../report/results.ts';
import { ran } from './desk.ts';

const harbour = readFileSync(new URL('../../demos/harbour-tote.bag.json', import.meta.url), 'utf8');
const preview = async (_: unknown, o: PreviewOptions = {}): Promise<Result> => ({
  ...resultOf([runOf('mid', sunk(0.7, 0.02), 0.143)]),
  option: o.option ?? 'canvas and poplin',
});

it('"-" reads a bag from standard input: check and settle exit 0 and name no file', async () => {
  const checked = await ran(['check', '-'], { '-': harbour });
  expect(checked).toMatchObject({ code: 0, err: '' });
  expect(checked.out).toMatch(/^Harbour tote: no faults/);
  const settled = await ran(['settle', '-', '--json', '--quiet'], { '-': harbour }, null, { preview });
  expect(settled.code).toBe(0);
  expect(JSON.parse(settled.out).verdict.word).toBe('slumps');
});

it('faults of standard input are told under that name; "-" twice is refused with exit 2', async () => {
  const bad = await ran(['check', '-'], { '-': '{' });
  expect(bad.code).toBe(2);
  expect(bad.err).toMatch(/^standard input: 1 fault/);
  const twice = await ran(['check', '-', '-'], { '-': harbour });
  expect(twice).toMatchObject({ code: 2, out: '' });
  expect(twice.err).toContain('standard input can be read once');
});

it.each(['check', 'settle'])('%s of three files, two of them wrong, lists the faults of both and does nothing else', async (command) => {
  const files = { 'a.json': harbour, 'b.json': harbour.replace('"W": "300 mm"', '"W": "300 furlongs"'), 'c.json': '[]' };
  const r = await ran([command, ...Object.keys(files), 'gone.json'], files, null, { preview: () => expect.fail('was settled') });
  expect(r).toMatchObject({ code: 2, out: '' });
  for (const words of ['b.json: ', 'furlongs', 'c.json: ', 'cannot read gone.json']) expect(r.err).toContain(words);
  expect(r.err).not.toContain('a.json');
});

it('settle of two files prints both reports; with --out each has a folder of its own, of different names', async () => {
  const files = { 'x/tote.bag.json': harbour, 'y/tote.bag.json': harbour };
  const r = await ran(['settle', ...Object.keys(files), '--out', 'o', '--quiet'], files, null, { preview });
  expect(r.code).toBe(0);
  expect(r.out.match(/SLUMPS/g)).toHaveLength(2);
  expect(Object.keys(r.files).filter((f) => f.endsWith('result.json'))).toEqual(['o/tote/result.json', 'o/tote-2/result.json']);
  const json = await ran(['settle', ...Object.keys(files), '--json', '--quiet'], files, null, { preview });
  // Its own schema, whose readers refuse whatever is not as written there.
  expect(readBatch(json.out).files).toHaveLength(2);
  expect(JSON.parse((await ran(['keys', 'batch'])).out).properties).toHaveProperty('files');
  expect(JSON.parse(json.out).files.map((f: { file: string; verdict: { word: string } }) => [f.file, f.verdict.word])).toEqual([
    ['x/tote.bag.json', 'slumps'],
    ['y/tote.bag.json', 'slumps'],
  ]);
});

it('check --json gives the panels in metres: the front is 0.3 x 0.24 m; nothing on stderr', async () => {
  const r = await ran(['check', 'a.json', '--json'], { 'a.json': harbour });
  expect(r).toMatchObject({ code: 0, err: '' });
  const found = JSON.parse(r.out);
  expect(found).toMatchObject({ ok: true, file: 'a.json', bag: 'Harbour tote', wanted: 'structured', seamsMatch: true });
  expect(found.panels.find((p: { name: string }) => p.name === 'front')).toMatchObject({ width: 0.3, height: 0.24 });
});

it('check --json of a bad and a good file: exit 2, faults with path, value and what was expected, the good one beside them', async () => {
  const r = await ran(['check', 'bad.json', 'a.json', '--json'], { 'a.json': harbour, 'bad.json': harbour.replace('"structured"', '"floppy"') });
  expect(r).toMatchObject({ code: 2, err: '' });
  const [bad, good] = JSON.parse(r.out).files;
  expect(bad).toMatchObject({ file: 'bad.json', ok: false });
  expect(bad.faults[0]).toMatchObject({ path: 'wanted', got: expect.stringContaining('floppy'), expected: expect.stringContaining('slouchy') });
  expect(good).toMatchObject({ file: 'a.json', ok: true });
});

it('check --json of a pattern that cannot be sewn names the kind of its fault', async () => {
  const file = JSON.parse(harbour);
  const [name] = Object.entries(file.seams).find(([, s]) => JSON.stringify(s).includes('front.bottom'))!;
  file.seams[name] = ['front.bottom', 'left.right'];
  const r = await ran(['check', 'a.json', '--json'], { 'a.json': JSON.stringify(file) });
  expect(r.code).toBe(2);
  expect(JSON.parse(r.out).faults.map((f: { kind: string }) => f.kind)).toContain('mismatch');
});

it.each(['check', 'settle', 'change', 'hang', 'new', 'keys', 'materials', 'swatch'])('help %s prints what %s --help prints, exit 0', async (command) => {
  const [help, flag] = [await ran(['help', command]), await ran([command, '--help'])];
  expect(help).toMatchObject({ code: 0, err: '' });
  expect(help.out).toContain(`Usage: slumpline ${command}`);
  expect(help.out).toBe(flag.out);
});

it('help alone lists the commands, exit 0; help of an unknown command ends with 2', async () => {
  const all = await ran(['help']);
  expect(all.code).toBe(0);
  expect(all.out).toContain('settle');
  expect((await ran(['help', 'sette'])).code).toBe(2);
});

it('a rename that fails at the third of six files puts the earlier run back as it was: no new file, no old one gone, nothing under another name', async () => {
  const first = await ran(['settle', 'a.json', '--out', 'o', '--quiet'], { 'a.json': harbour }, null, { preview });
  expect(first.code).toBe(0);
  const slack = harbour.replace('"W": "300 mm"', '"W": "280 mm"');
  expect(slack).not.toBe(harbour);
  const given = { ...first.files, 'a.json': slack };
  for (const path of Object.keys(first.files).filter((f) => f.startsWith('o/'))) {
    const again = await ran(['settle', 'a.json', '--out', 'o', '--quiet'], given, { path, code: 'ENOSPC' }, { preview });
    expect(again.code, path).toBe(2);
    expect(again.err, path).toContain('the disk is full');
    expect(again.files, path).toEqual(given);
  }
  const fresh = await ran(['settle', 'a.json', '--out', 'n', '--quiet'], { 'a.json': harbour }, { path: 'n/report.html', code: 'ENOSPC' }, { preview });
  expect(Object.keys(fresh.files)).toEqual(['a.json']);
  const over = await ran(['settle', 'a.json', '--out', 'o', '--quiet'], given, null, { preview });
  expect(Object.keys(over.files).sort()).toEqual(Object.keys(first.files).sort());
});
