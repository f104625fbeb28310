/** Small faults of the command line, each with what it says now. Nothing is settled in any of them. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ran } from './desk.ts';

const demo = (name: string): string => readFileSync(new URL(`../../demos/${name}.bag.json`, import.meta.url), 'utf8');
const files = { 'a.json': demo('harbour-tote'), 'm.json': demo('market-tote'), 'r.json': '{}' };
const never = { preview: () => expect.fail('was settled'), previewAnchors: () => expect.fail('was hung') } as never;
const call = (...argv: string[]) => ran(argv, files, null, never);

describe('refused with exit 2, nothing on stdout, and words that say what to write', () => {
  const cases: readonly (readonly [string, readonly string[], RegExp])[] = [
    ['one band twice', ['settle', 'a.json', '--bands', 'mid,mid'], /invalid --bands "mid,mid": expected low, mid, high, or some of them, each once/],
    ['no band', ['settle', 'a.json', '--bands', ''], /invalid --bands ""/],
    [
      'anchors beyond the panel',
      ['hang', 'm.json', '--anchors', '400-500 mm'],
      /--anchors "400-500 mm": there no patch of .* lies on its panel; expected distances within \d+ mm to \d+ mm/,
    ],
    ['a decimal comma in a load', ['hang', 'm.json', '--load', '2,5 kg'], /--load "2,5 kg": expected .*2\.5 kg/],
    ['a decimal comma in a distance', ['hang', 'm.json', '--anchors', '60,5 mm'], /--anchors "60,5 mm": expected .*60\.5 mm/],
    ['help of no command', ['help', 'setle'], /unknown command "setle"; did you mean "settle"\?\nthere are: check, settle/],
    ['help of nothing like one', ['help', 'nope'], /unknown command "nope"\nthere are: check, settle/],
    [
      'a rigidity without its unit',
      ['swatch', 'heart', '--rigidity', '55', '--areal-mass', '340 g/m2'],
      /--rigidity "55" is 55 N\.m, stiffer than any cloth or board: expected its unit as well, such as "55 uN\.m"/,
    ],
    ['a folder without a name', ['settle', 'a.json', '--out', ''], /--out "": expected the name of a folder/],
    ['the same of change', ['change', 'a.json', '--out', ' '], /--out "": expected the name of a folder/],
    ['the same of hang', ['hang', 'm.json', '--out', ''], /--out "": expected the name of a folder/],
    ['a file without a name', ['swatch', 'reading', 'r.json', '--out', ''], /--out "": expected the name of a file/],
  ];
  it.each(cases)('%s', async (_, argv, words) => {
    const r = await call(...argv);
    expect(r).toMatchObject({ code: 2, out: '' });
    expect(r.err).toMatch(words);
  });
});

it('check --json of a file that is not there: exit 2, and a record on stdout beside those of the files that are', async () => {
  const r = await call('check', 'gone.json', '--json');
  expect(r).toMatchObject({ code: 2, err: '' });
  expect(JSON.parse(r.out)).toEqual({
    file: 'gone.json',
    ok: false,
    faults: [{ path: '', got: 'cannot read gone.json: there is no such file or folder', expected: 'a file that can be read' }],
  });
  const two = await call('check', 'gone.json', 'a.json', '--json');
  expect(JSON.parse(two.out).files.map((f: { file: string; ok: boolean }) => [f.file, f.ok])).toEqual([
    ['gone.json', false],
    ['a.json', true],
  ]);
});

it('a rigidity with its unit, or bare within what cloth and board have, is read as before', async () => {
  for (const rigidity of ['55 uN.m', '1e-4']) {
    const r = await call('swatch', 'heart', '--rigidity', rigidity, '--areal-mass', '340 g/m2', '--length', '2 mm', '--mesh', '9 m');
    expect(r.err).not.toContain('without');
    expect(r.err).not.toContain('expected its unit as well');
  }
});

it('help alone, and of a command that there is, are no fault', async () => {
  for (const argv of [['help'], ['help', 'settle']]) expect((await call(...argv)).code).toBe(0);
});
