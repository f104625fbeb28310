import { describe, expect, test } from 'vitest';
import { templates } from '../../src/bag/index.ts';
import { ran } from './desk.ts';

const tote = { 'tote.bag.json': templates().find((t) => t.name === 'boxed-tote')!.text };

describe('slumpline cutlist', () => {
  test('prints the list; --json and --csv print nothing else; --out keeps all three and a picture of each lay', async () => {
    const text = await ran(['cutlist', 'tote.bag.json', '--out', 'out'], tote);
    expect(text.code).toBe(0);
    expect(text.out).toContain('447 mm (17 5/8 in) of a width of 1400 mm');
    const written = Object.keys(text.files).filter((f) => f.startsWith('out/'));
    expect(written.sort()).toEqual(
      ['cutlist.csv', 'cutlist.json', 'cutlist.txt', 'lay-canvas10.svg', 'lay-fleece.svg', 'lay-poplin.svg'].map((f) => `out/${f}`),
    );
    const json = JSON.parse((await ran(['cutlist', 'tote.bag.json', '--json'], tote)).out);
    expect([json.format, json.version, json.pieces.length, json.materials[0].lay.length]).toEqual(['slumpline cutting list', 2, 3, 0.447]);
    expect((await ran(['cutlist', 'tote.bag.json', '--csv'], tote)).out.split('\r\n')[0]).toBe(
      'what,name,material,layer,count,mirrored,width_m,length_m,area_m2,mass_kg,used_share,thread_m,amount,unit,cost,currency',
    );
  });

  test('every fault of the flags at once; nothing is written', async () => {
    const { code, err, files } = await ran(
      [
        'cutlist',
        'tote.bag.json',
        '--width',
        '0',
        '--width',
        'poplin=wide',
        '--waste',
        '120',
        '--gap',
        '1 m',
        '--stitch',
        '1 in',
        '--json',
        '--csv',
        '--out',
        'out',
      ],
      tote,
    );
    expect(code).toBe(2);
    for (const words of ['6 faults', '--width "0"', '--width "wide"', '--waste "120"', '--gap "1 m"', '--stitch "1 in"', '--json and --csv'])
      expect(err).toContain(words);
    expect(Object.keys(files)).toEqual(['tote.bag.json']);
  });

  test('a width for a material that the option has not is told; so is a roll that is too narrow, with what would do', async () => {
    const unknown = await ran(['cutlist', 'tote.bag.json', '--width', 'linen=1 m'], tote);
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('expected a material of this option: canvas10, poplin, fleece')]);
    const narrow = await ran(['cutlist', 'tote.bag.json', '--width', '400 mm'], tote);
    expect(narrow.code).toBe(2);
    expect(narrow.err).toContain('at least 503 mm wide');
  });
});
