/** The worked programs for Node run against the packed library; the page of the three is run by test/browser/programs.browser.test.ts. */
import { spawnSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { root } from './packed.ts';
import { installPrograms } from './programs.ts';

let program = '';
const start = (name: string, ...argv: string[]) => spawnSync(process.execPath, [join(program, 'programs', name), ...argv], { cwd: program, encoding: 'utf8' });

beforeAll(() => {
  program = installPrograms();
  const file = JSON.parse(readFileSync(join(root, 'demos/harbour-tote.bag.json'), 'utf8'));
  file.options = { hide: { 'every panel': 'veg leather' }, boarded: { 'every panel': 'canvas boarded' } };
  writeFileSync(join(program, 'firm.bag.json'), JSON.stringify(file));
  writeFileSync(join(program, 'broken.bag.json'), JSON.stringify({ ...file, seems: {}, parameters: { ...file.parameters, W: '300' } }));
});
afterAll(() => {
  if (program !== '') rmSync(program, { recursive: true, force: true });
});

describe('line-up.mjs', () => {
  it('says a word for each of 2 options, with its weight and reason', () => {
    const done = start('line-up.mjs', 'firm.bag.json', '0.06');
    expect(done).toMatchObject({ status: 0, stderr: '' });
    expect(done.stdout.trim().split('\n')).toEqual([
      expect.stringMatching(/^hide: holds, \d+ g\. It keeps/),
      // At 60 mm its soft bolt slumps: two words, told as such.
      expect.stringMatching(/^boarded: depends on the swatch, \d+ g\. It slumps with a soft bolt/),
    ]);
  });
  it('lists every fault of a file and ends with 2', () => {
    const done = start('line-up.mjs', 'broken.bag.json');
    expect(done).toMatchObject({ status: 2, stdout: '' });
    expect(done.stderr).toContain('seems: got');
    expect(done.stderr.trim().split('\n').length).toBeGreaterThanOrEqual(2);
  });
});

describe('pool.mjs', () => {
  it('settles 6 draws in threads, tells each as it ends, and says in how many it holds', () => {
    const done = start('pool.mjs', 'firm.bag.json', 'material.veg20.band=low..high,friction=0.3..0.5', '6', '0.08');
    expect(done.status, done.stderr).toBe(0);
    expect(done.stderr.match(/^\d of 6: run \d holds$/gm)).toHaveLength(6);
    expect(done.stdout).toContain('hide, standing: holds in 6 of 6 draws (100 %; 95 % interval 61 % to 100 %)');
  });
});
