import { describe, expect, it } from 'vitest';
import { ran } from './desk.ts';

describe('slumpline shelf', () => {
  it('new prints a shelf that check reads: 13 things, with their uses and prices; exit 0', async () => {
    const made = await ran(['shelf', 'new']);
    expect(made.code).toBe(0);
    const { code, out } = await ran(['check', 'my.shelf.json'], { 'my.shelf.json': made.out });
    expect(code).toBe(0);
    expect(out).toContain('My shelf: no faults. 13 materials, 1 of your own swatches.');
    expect(out).toContain('canvas: canvas / duck 12 oz/yd2; shell; 14 EUR a metre, 1500 mm wide, 2.5 m there');
    expect(out).toContain('base board: polypropylene sheet 1 mm; board; 6 EUR a sheet, 500 mm x 700 mm, 2 sheets there');
  });

  it('export and import --into give the same file back, byte for byte', async () => {
    const { out: shelf } = await ran(['shelf', 'new']);
    const { out: table } = await ran(['shelf', 'export', 'my.shelf.json'], { 'my.shelf.json': shelf });
    expect(table.split('\r\n')[0]).toMatch(/^item,name,material,use,/);
    const back = await ran(['shelf', 'import', 't.csv', '--into', 'my.shelf.json'], { 't.csv': table, 'my.shelf.json': shelf });
    expect([back.code, JSON.parse(back.out).items]).toEqual([0, JSON.parse(shelf).items]);
  });

  it('check tells the faults of a bag and of a shelf together, and as JSON; exit 2', async () => {
    const files = { 'a.shelf.json': '{"shelf": 1, "items": {"a": {"material": "lawn", "use": "fused"}}}', 'b.bag.json': '{"slumpline": 1}' };
    const { code, out, err } = await ran(['check', 'a.shelf.json', 'b.bag.json'], files);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('items.a.use');
    expect(err).toContain('at least one panel');
    const json = await ran(['check', 'a.shelf.json', '--json'], files);
    expect(JSON.parse(json.out)).toMatchObject({ ok: false, faults: [{ path: 'items.a.use' }] });
  });

  it('a table with faults is refused with all of them; nothing on stdout', async () => {
    const { code, out, err } = await ran(['shelf', 'import', 't.csv'], { 't.csv': 'item,material,use\na,lawnn,lining\nb,pp1,fused\n' });
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('2 faults');
    expect(err).toContain('did you mean "lawn"?');
  });
});
