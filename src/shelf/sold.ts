/** How a material is sold: width, sheet, price and stock as written, to one record. */
import { at, type FaultList, LIMITS } from '../bag/index.ts';
import { FOOT, readQuantity } from '../units/index.ts';
import type { ItemForm } from './schema.ts';
import type { Sold } from './types.ts';
import { HIDE, HIDE_WASTE, PRICED } from './words.ts';

const FT2 = FOOT * FOOT;

function length(faults: FaultList, path: string, written: string | number): number | null {
  const read = readQuantity(String(written), 'length');
  if (read.ok && read.value >= 0.01 && read.value <= 2 * LIMITS.length) return read.value;
  faults.add(path, written, read.ok ? `from 10 mm to ${2 * LIMITS.length} m` : read.expected);
  return null;
}

function wasteOf(faults: FaultList, path: string, written: string | number | undefined): number {
  if (written === undefined) return HIDE_WASTE;
  const read = typeof written === 'number' ? { ok: true as const, value: written } : readQuantity(written, 'number');
  if (read.ok && read.value >= 0 && read.value <= 0.8) return read.value;
  faults.add(at(path, 'waste'), written, 'a share from "0 %" to "80 %"');
  return HIDE_WASTE;
}

/** What is stated of how it is sold; null where nothing is. kind: the built-in material that it is or is like. Mutates faults. */
export function readSold(faults: FaultList, path: string, form: ItemForm, kind: string): Sold | null {
  const priced = PRICED.filter((p) => form.price?.[p] !== undefined);
  if (form.price && priced.length !== 1)
    faults.addText(at(path, 'price'), priced.length === 0 ? 'a price without a figure' : priced.join(' and '), `one of ${PRICED.join(', ')}`);
  const by = priced[0];
  if (by === 'per metre' && form.width === undefined)
    faults.addText(at(path, 'price'), 'a price per metre without a width', '"width" beside it: the usable width of the bolt');
  if (by === 'per sheet' && form.sheet === undefined)
    faults.addText(at(path, 'price'), 'a price per sheet without a size', '"sheet" beside it: width and length of a sheet');
  if (form.sheet && form.width !== undefined) faults.addText(path, 'a width and a sheet', 'one of them');
  if (form.sheet && by !== undefined && by !== 'per sheet') faults.addText(at(path, 'price'), by, '"per sheet", since it comes in sheets');
  if (form.width !== undefined && by === 'per sheet') faults.addText(at(path, 'price'), by, '"per metre", since it comes off a bolt');
  const area = by === 'per m2' || by === 'per ft2' || (by === undefined && !form.sheet && form.width === undefined && HIDE.test(kind));
  if (form.waste !== undefined && !area) faults.add(at(path, 'waste'), form.waste, 'a waste only of hides, which are sold by area');
  const price = by === undefined ? null : form.price![by]!;
  if (form.sheet) {
    const [width, long] = form.sheet.map((s, i) => length(faults, at(at(path, 'sheet'), i), s));
    return width && long ? { by: 'sheet', price, width, length: long } : null;
  }
  if (area) return { by: 'area', price: by === 'per ft2' ? price! / FT2 : price, waste: wasteOf(faults, path, form.waste) };
  if (form.width === undefined) return null;
  const width = length(faults, at(path, 'width'), form.width);
  return width === null ? null : { by: 'metre', price, width };
}

const STOCK = /^\s*(\d+(?:\.\d+)?)\s*(m|cm|yd|m2|ft2|sheets?|pieces?|reels?)\s*$/;
const SIZE: Readonly<Record<string, readonly [Sold['by'], number]>> = {
  m: ['metre', 1],
  cm: ['metre', 0.01],
  yd: ['metre', 0.9144],
  m2: ['area', 1],
  ft2: ['area', FT2],
  sheet: ['sheet', 1],
  sheets: ['sheet', 1],
  piece: ['piece', 1],
  pieces: ['piece', 1],
  reel: ['reel', 1],
  reels: ['reel', 1],
};
/** What a stock is told in, by how the thing is sold. */
const TOLD: Readonly<Record<Sold['by'], string>> = {
  metre: 'metres, since it comes off a bolt',
  area: 'an area, since it is a hide',
  sheet: 'sheets',
  length: 'metres, since it is sold by length',
  piece: 'pieces',
  reel: 'reels',
};

/** What is there, in the unit it is sold by; null where it is not stated. Mutates faults. */
export function readStock(faults: FaultList, path: string, written: string | undefined, sold: Sold | null): number | null {
  if (written === undefined) return null;
  const where = at(path, 'stock'),
    found = STOCK.exec(written.replace(/\^2/g, '2').replace(/²/g, '2'));
  if (!found) {
    faults.add(where, written, 'what is there with its unit: "2.5 m", "0.8 m2", "12 ft2", "3 sheets", "4 pieces" or "2 reels"');
    return null;
  }
  const [by, size] = SIZE[found[2]!]!;
  const amount = Number(found[1]) * size;
  if (sold === null)
    faults.add(where, written, by === 'metre' ? 'a "width" beside it' : by === 'sheet' ? 'a "sheet" beside it' : 'a "price" per area beside it');
  else if (sold.by === by || (sold.by === 'length' && by === 'metre')) return amount;
  // A piece off a bolt may be known by its area.
  else if (sold.by === 'metre' && by === 'area') return amount / sold.width;
  else faults.add(where, written, TOLD[sold.by]);
  return null;
}
