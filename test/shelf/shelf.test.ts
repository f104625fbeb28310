import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BagError } from '../../src/bag/index.ts';
import { bought, newShelf, parseShelf, parseShelfDocument, printShelf, shelfCsv, shelfFromCsv, shelfJsonSchema, USES } from '../../src/shelf/index.ts';

const faultsOf = (value: unknown): string[] => {
  try {
    parseShelf(value);
    return [];
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    return error.faults.map((f) => `${f.path}: ${f.got} | ${f.expected}`);
  }
};
const shelf = (items: unknown, more = {}) => ({ shelf: 1, items, ...more });

describe('a shelf file', () => {
  it('the start is read without faults, has 13 things of all 7 uses, and prints to the same text', () => {
    const text = newShelf(),
      { shelf: read, document } = parseShelfDocument(text);
    expect(read.items).toHaveLength(13);
    for (const use of USES)
      expect(
        read.items.some((i) => i.uses.includes(use)),
        use,
      ).toBe(true);
    expect(printShelf(document)).toBe(text);
    const own = read.materials[0]!;
    // Peirce 1930: B = w (O/2)^3 g.
    expect(own.bendingWarp![1]).toBeCloseTo(0.38 * 9.80665 * 0.031 ** 3, 12);
  });

  it('6 faults of 5 items are told at once, each with its path', () => {
    const found = faultsOf(
      shelf({
        a: { material: 'canvas12', use: 'shell', price: { 'per metre': 10 } },
        b: { material: 'canvas12', use: 'fused', width: '1.4 m' },
        c: { material: 'canvass12', use: 'shel', width: '1400' },
        d: { material: 'pp1', use: 'board', sheet: ['1 m', '700 mm'], price: { 'per metre': 3 } },
        e: { material: 'chrome16', use: 'shell', price: { 'per ft2': 9 }, stock: '2 m' },
      }),
    );
    expect(found.map((f) => f.split(':')[0])).toEqual(['items.a.price', 'items.b.use', 'items.c.use', 'items.d.price', 'items.d.price', 'items.e.stock']);
    expect(found[0]).toContain('a price per metre without a width');
    expect(found[1]).toContain('canvas12 has no adhesive');
    expect(found[3]).toContain('without a width');
    expect(found[4]).toContain('since it comes in sheets');
    expect(found[5]).toContain('an area, since it is a hide');
    const trims = faultsOf(
      shelf({
        a: { material: 'canvas12', use: 'trim' },
        b: { material: 'web_pp', use: ['trim', 'shell'], width: '30 mm' },
        c: { material: 'magnet', use: 'trim', price: { 'per metre': 1 }, size: '0 mm' },
        d: { material: 'thread', use: 'trim', price: { 'per reel': 4 } },
        e: { material: 'coil zip', use: 'trim', price: { 'per metre': 2 }, stock: '3 pieces', reel: '5 m' },
        f: { material: 'canvas12', use: 'shell', size: '3 mm' },
        g: { material: 'web_pp', use: 'shell' },
      }),
    );
    expect(trims.map((f) => f.split(':')[0])).toEqual(
      ['a.material', 'b.use', 'b.width', 'c.size', 'c.price', 'd.price', 'e.reel', 'e.stock', 'f.size', 'g.material'].map((p) => `items.${p}`),
    );
    expect(trims[4]).toContain('"per piece"');
    expect(trims[5]).toContain('"reel" beside it');
    expect(trims[9]).toContain('"use": "trim"');
    expect(faultsOf(shelf({ c: { material: 'canvass12', use: 'shell', width: '1400' } }))).toEqual([
      expect.stringMatching(/items\.c\.material: "canvass12".*did you mean/),
      expect.stringMatching(/items\.c\.width: "1400" \| a length with its unit/),
    ]);
  });

  it.each([
    ['', /line 1, column 1/],
    ['[]', /file: a list of 0/],
    ['{"slumpline": 1}', /shelf: a bag file/],
    ['{"shelf": 2}', /shelf: 2 \| 1, the only version/],
    ['{"shelf": 1}', /items: nothing/],
    ['{"shelf": 1, "items": {}}', /nothing on it/],
    ['{"shelf": 1, "itmes": {}}', /itmes: .*did you mean "items"/],
    ['{"shelf": 1, "items": {"a": {"material": "web_pp", "use": "shell"}}}', /the webbing "web_pp"/],
    ['{"shelf": 1, "items": {"a": {"material": "x", "use": "shell"}}, "materials": {"x": {"mass": "3"}}}', /materials\.x\.mass/],
    ['{"shelf": 1, "items": {"a": {"material": "lawn", "use": []}}}', /items\.a\.use: an empty list/],
    ['{"shelf": 1, "items": {"a": {"material": "lawn", "use": "lining", "price": {"per metre": -1}, "width": "1 m"}}}', /a price of 0 or more/],
    ['{"shelf": 1, "items": {"a": {"material": "lawn", "use": "lining", "width": "1 m", "waste": "10 %"}}}', /only of hides/],
  ])('%s is refused in words', (text, said) => {
    const found = faultsOf(text);
    expect(found.length).toBeGreaterThan(0);
    expect(found.join('\n')).toMatch(said);
  });

  it('300 random shelves are read or refused with faults, never with another error', () => {
    const leaf = fc.oneof(fc.string(), fc.integer(), fc.constant(null), fc.boolean(), fc.constantFrom('shell', 'fused', 'canvas12', '1400 mm', '2 m'));
    const keys = ['material', 'use', 'width', 'sheet', 'waste', 'price', 'stock', 'thickness', 'bond', 'takes fusing', 'colour', 'odd'];
    const form = fc.dictionary(
      fc.constantFrom(...keys),
      fc.oneof(leaf, fc.array(leaf, { maxLength: 3 }), fc.dictionary(fc.constantFrom('per metre', 'per m2'), leaf)),
    );
    fc.assert(
      fc.property(fc.dictionary(fc.string(), form, { maxKeys: 4 }), (items) => {
        for (const fault of faultsOf(shelf(items))) expect(fault.length).toBeGreaterThan(5);
      }),
      { numRuns: 300, seed: 30 },
    );
  });

  it('the JSON schema requires shelf and items, and knows the 6 uses', () => {
    const schema = shelfJsonSchema() as { required: string[] };
    expect(schema.required).toEqual(['shelf', 'items']);
    for (const use of USES) expect(JSON.stringify(schema)).toContain(`"${use}"`);
  });
});

describe('a shelf as a table', () => {
  it('there and back gives the same shelf: 13 things, and the own swatch', () => {
    const before = parseShelfDocument(newShelf());
    const table = shelfCsv(before.document);
    expect(table.split('\r\n')).toHaveLength(15);
    const after = parseShelf(shelfFromCsv(table, { value: { shelf: 1, currency: 'EUR', items: {} } }).value);
    expect(after.items).toEqual(before.shelf.items);
    expect(after.materials).toEqual(before.shelf.materials.map((m) => ({ ...m, name: 'canvas from the market' })));
  });

  it('semicolons, quotes, a comma as decimal sign and added rows are read; what was there stays', () => {
    const table = 'item;material;use;width;price;priced;note\r\n"red; thick";canvas16;shell / lining;1400 mm;12,5;per metre;"says ""hm"""\r\n';
    const into = { value: shelf({ old: { material: 'lawn', use: 'lining' } }) };
    const made = shelfFromCsv(table, into).value as { items: Record<string, unknown> };
    expect(Object.keys(made.items)).toEqual(['old', 'red; thick']);
    expect(made.items['red; thick']).toEqual({
      material: 'canvas16',
      use: ['shell', 'lining'],
      width: '1400 mm',
      price: { 'per metre': 12.5 },
      note: 'says "hm"',
    });
  });

  it('every fault of a table is told at once, by row', () => {
    const broken = 'item,material,use,price,colr\na,lawn,lining,3,\na,lawn,lining,,\n,lawn,lining,,\n';
    const told = (text: string): string => {
      try {
        shelfFromCsv(text);
        return '';
      } catch (error) {
        return (error as BagError).faults.map((f) => f.path).join(' | ');
      }
    };
    expect(told(broken)).toBe('line 1, column 5');
    expect(told(broken.replace(',colr', ',name'))).toBe('row 2.priced | row 3 | row 4');
    expect(told('')).toContain('line 1');
  });
});

describe('what a use comes to', () => {
  const item = (more: object) => ({ ...parseShelf(shelf({ a: { material: 'lawn', use: 'lining', ...more } })).items[0]! });

  it('0.7 m2 off a bolt of 1.4 m is 0.5 m: 6 at 12 a metre, 0.2 m short of 0.3', () => {
    const made = bought(item({ width: '1.4 m', price: { 'per metre': 12 }, stock: '0.3 m' }), { area: 0.7 })!;
    expect(made.unit).toBe('m');
    expect(made.amount).toBeCloseTo(0.5, 12);
    expect(made.cost).toBeCloseTo(6, 12);
    expect(made.short).toBeCloseTo(0.2, 12);
    expect(bought(item({ width: '1.4 m', price: { 'per metre': 12 } }), { area: 0.7, length: 0.9 })!.cost).toBeCloseTo(10.8, 12);
  });

  it('sheets are whole: 0.35 m2 of 0.5 x 0.7 m is one, a hair more two; hides lose their waste: 0.7 m2 of leather is 1 m2', () => {
    const board = item({ material: 'pp1', use: 'board', sheet: ['500 mm', '700 mm'], price: { 'per sheet': 6 } });
    expect(bought(board, { area: 0.35 })).toEqual({ unit: 'sheets', amount: 1, cost: 6, short: null });
    expect(bought(board, { area: 0.3501 })!.amount).toBe(2);
    const hide = item({ material: 'chrome16', use: 'shell', price: { 'per ft2': 10 } });
    expect(bought(hide, { area: 0.7 })!.cost).toBeCloseTo(10 / 0.3048 ** 2, 9);
    expect(bought(item({}), { area: 1 })).toBeNull();
  });
});
