import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { bagTextIn } from '../../src/report/index.ts';
import { ran } from './desk.ts';

/** A name and a note with what HTML, XML and a careless reader would trip over. */
const text = readFileSync(new URL('../../demos/clamped-strip.bag.json', import.meta.url), 'utf8').replace(
  /"name": "[^"]*"/,
  '"name": "strip </pre> & <b> &lt; \\u00e9 é"',
);
const settleIt = ['--bands', 'mid', '--mesh', '20', '--quiet'];

describe('a report is opened like the bag file it was made from', () => {
  test('settle out/report.html gives the same result, byte for byte, digest included', async () => {
    const first = await ran(['settle', 'strip.bag.json', '--out', 'out', ...settleIt], { 'strip.bag.json': text });
    expect(first.code, first.err).toBe(0);
    expect(bagTextIn(first.files['out/report.html']!)).toBe(text);
    const again = await ran(['settle', 'out/report.html', '--out', 'two', ...settleIt], first.files);
    expect(again.code, again.err).toBe(0);
    expect(again.files['two/result.json']).toBe(first.files['out/result.json']);
    expect(again.files['two/report.html']).toBe(first.files['out/report.html']);
  });

  test('check and pattern read it as well; a page that is no report is refused as bad JSON', async () => {
    const { files } = await ran(['settle', 'strip.bag.json', '--out', 'out', ...settleIt], { 'strip.bag.json': text });
    expect((await ran(['check', 'out/report.html'], files)).code).toBe(0);
    expect((await ran(['pattern', 'out/report.html', '--out', 'cut', '--paper', 'a4'], files)).code).toBe(0);
    const other = await ran(['check', 'page.html'], { 'page.html': '<!doctype html><pre id="slumpline-bag">{}</pre>' });
    expect(other.code).toBe(2);
  });
});
