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

  test('--shelf: the start shelf prices canvas by the metre of its width, tells what it has not, and faults of bag, shelf and flags are told together', async () => {
    const shelf = (await ran(['shelf', 'new'])).out;
    const files = { ...tote, 'my.shelf.json': shelf.replaceAll('"canvas12"', '"canvas10"') };
    const { code, out, files: written } = await ran(['cutlist', 'tote.bag.json', '--shelf', 'my.shelf.json', '--out', 'out'], files);
    expect(code).toBe(0);
    // 447 mm of the bolt, at 14 EUR a metre.
    expect(out).toContain('0.447 m of canvas / duck 10 oz/yd2: 6.26 EUR');
    expect(out).toContain('no price on the shelf for poplin');
    expect(out).toMatch(/together \d+ g .*what the bag weighs when it is settled/);
    const json = JSON.parse(written['out/cutlist.json']!);
    expect(json.cost).toMatchObject({ shelf: 'My shelf', currency: 'EUR', total: null, without: ['poplin / broadcloth', 'cotton webbing 25-38 mm'] });
    const bad = await ran(['cutlist', 'b.bag.json', '--shelf', 'a.shelf.json'], {
      'a.shelf.json': '{"shelf": 1, "items": {"a": {"material": "lawn", "use": "fused"}}}',
      'b.bag.json': '{"slumpline": 1}',
    });
    expect([bad.code, bad.out]).toEqual([2, '']);
    for (const words of ['items.a.use', 'at least one panel']) expect(bad.err).toContain(words);
    expect((await ran(['cutlist', 'tote.bag.json', '--shelf', 'none.json'], tote)).code).toBe(2);
  });
});
