/** The page's shelf: a material's form to the shelf file and back, its faults field by field, and two shelves put together. */
import { describe, expect, it } from 'vitest';
import { entryOf, faultsOf, type ItemEntry, itemForm, NEW_ITEM } from '../../src/app/shelf/item.ts';
import type { ShelfValue } from '../../src/app/shelf/keeper.ts';
import { merged } from '../../src/app/shelf/merge.ts';
import { newShelf, parseShelf, parseShelfDocument } from '../../src/index.ts';

const start = parseShelfDocument(newShelf()).document.value as unknown as ShelfValue;
const faults = (e: Partial<ItemEntry>, taken: readonly string[] = []) => {
  const entry = { ...NEW_ITEM, id: 'mine', ...e };
  return faultsOf(entry, itemForm(entry), (id) => taken.includes(id), {});
};

describe('a material of the shelf in its form', () => {
  it('each of the 13 of the shelf to start from goes through the form and back unchanged in meaning', () => {
    const items = Object.fromEntries(Object.entries(start.items).map(([id, item]) => [id, itemForm(entryOf(id, item), item)]));
    expect(Object.keys(items)).toHaveLength(13);
    expect(parseShelf({ ...start, items })).toEqual(parseShelf(start));
  });

  it('each fault stands at its field: a price without a width, a use it cannot have, a stock without a unit, a name that is taken, a bond of 2', () => {
    expect(faults({})).toBeNull();
    expect(Object.keys(faults({ price: '14' }) ?? {})).toEqual(['width']);
    expect(Object.keys(faults({ price: '14,5', width: '1.4 m' }) ?? {})).toEqual([]);
    expect(faults({ price: 'dear', width: 'wide' })).toEqual({ price: 'a number, such as 14 or 9.50', width: expect.stringMatching(/mm|length/) });
    expect(Object.keys(faults({ uses: ['fused'] }) ?? {})).toEqual(['uses']);
    expect(Object.keys(faults({ uses: [] }) ?? {})).toEqual(['uses']);
    expect(Object.keys(faults({ width: '1 m', stock: 'plenty' }) ?? {})).toEqual(['stock']);
    expect(Object.keys(faults({}, ['mine']) ?? {})).toEqual(['id']);
    expect(Object.keys(faults({ id: '12' }) ?? {})).toEqual(['id']);
    expect(Object.keys(faults({ material: 'fus_heavy', uses: ['fused'], bond: '2' }) ?? {})).toEqual(['bond']);
    expect(Object.keys(faults({ sold: 'sheet', price: '4' }) ?? {})).toEqual(['sheetWidth']);
    expect(Object.keys(faults({ sold: 'sheet', price: '4', sheetWidth: '1 m', sheetLength: 'long' }) ?? {})).toEqual(['sheetLength']);
  });

  it('a hide priced by the square foot, with its waste, is read as a hide; what only the file says stays', () => {
    const item = { name: 'from a friend', material: 'chrome16', use: 'shell', price: { 'per ft2': 5 }, waste: '25 %' };
    const entry = entryOf('hide', item);
    expect([entry.sold, entry.area, entry.price, entry.waste]).toEqual(['area', 'per ft2', '5', '25 %']);
    expect(itemForm(entry, item)).toEqual(item);
  });
});

describe('two shelves put together', () => {
  const into: ShelfValue = { shelf: 1, items: { canvas: { material: 'canvas12', use: 'shell' } } };
  it('nothing that is there is written over: of 13 things one has another name, and a second time all 13 are there already', () => {
    const once = merged(into, start),
      twice = merged(once.value, start);
    expect([once.added, once.renamed, once.same]).toEqual([13, 1, 0]);
    expect(once.value.items.canvas).toBe(into.items.canvas);
    expect(once.value.items['canvas 2']).toMatchObject({ price: { 'per metre': 14 } });
    expect([twice.added, twice.same]).toEqual([0, 13]);
    expect(twice.value).toEqual(once.value);
  });
  it('a swatch whose name is taken by another comes under a name of its own, and its material with it', () => {
    const own = { 'canvas from the market': { like: 'canvas10', mass: '300 g/m2' } };
    const { value } = merged({ ...into, materials: own }, start);
    expect(value.materials?.['canvas from the market']).toBe(own['canvas from the market']);
    expect(value.items['my canvas']).toMatchObject({ material: 'canvas from the market 2' });
    expect(parseShelf(value).items).toHaveLength(14);
  });
});
