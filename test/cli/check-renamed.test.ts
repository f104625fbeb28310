import { expect, it } from 'vitest';
import { core } from '../../src/cli/core.ts';
import { createDesk, run } from './desk.ts';

const text = JSON.stringify({ ...JSON.parse(core.newBag('flat-tote')), strainLimit: 0.04 });

it('check of a file with strainLimit ends with 0 and names "largest strain"; its --json has the same as data', async () => {
  const desk = createDesk({ 'a.json': text });
  expect(await run(desk, ['check', 'a.json'])).toBe(0);
  expect(desk.out).toContain('old names in this file, still read:\n  strainLimit: "strainLimit" is now "largest strain"');
  const data = createDesk({ 'a.json': text });
  expect(await run(data, ['check', 'a.json', '--json'])).toBe(0);
  expect(JSON.parse(data.out)).toMatchObject({ ok: true, renamed: [{ path: 'strainLimit', old: 'strainLimit', now: 'largest strain' }] });
});
