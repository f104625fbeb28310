/** How a trim is sold: by length, by the piece, thread by the reel; size, price and stock as written, to one record. */
import { at, type FaultList, LIMITS } from '../bag/index.ts';
import { readQuantity } from '../units/index.ts';
import type { ItemForm } from './schema.ts';
import type { Sold } from './types.ts';
import { PRICED, PRICED_BY, THREAD, trimSoldBy } from './words.ts';

/** Longest reel of thread, m. */
const LONGEST_REEL = 50_000;

/** Entries that say how a sheet is cut, fused or sold. */
const OF_SHEETS = ['thickness', 'width', 'sheet', 'waste', 'bond', 'takes fusing'] as const;

function lengthOf(faults: FaultList, path: string, written: string | number, most: number): number | null {
  const read = readQuantity(String(written), 'length');
  if (read.ok && read.value > 0 && read.value <= most) return read.value;
  faults.add(path, written, read.ok ? `more than 0 mm and at most ${most} m` : read.expected);
  return null;
}

/** Size of a trim, m; null where none is stated. Mutates faults: entries that only sheets have among them. */
export function trimSize(faults: FaultList, path: string, form: ItemForm): number | null {
  for (const key of OF_SHEETS) if (form[key] !== undefined) faults.addText(at(path, key), `${key} of a trim`, `"${key}" only of what panels are cut from`);
  return form.size === undefined ? null : lengthOf(faults, at(path, 'size'), form.size, LIMITS.length);
}

/** What is stated of how a trim is sold. kind: a kind of trim, or the webbing that a swatch of one's own is like. Mutates faults. */
export function readSoldTrim(faults: FaultList, path: string, form: ItemForm, kind: string): Sold | null {
  const thread = kind === THREAD,
    sold = trimSoldBy(kind);
  const priced = PRICED.filter((p) => form.price?.[p] !== undefined),
    ways = PRICED.filter((p) => sold.some((by) => PRICED_BY[by] === p));
  const may = ways.map((p) => `"${p}"`).join(' or ');
  if (form.price && priced.length !== 1) faults.addText(at(path, 'price'), priced.length === 0 ? 'a price without a figure' : priced.join(' and '), may);
  else if (priced[0] !== undefined && !ways.includes(priced[0])) faults.addText(at(path, 'price'), priced[0], may);
  if (!thread && form.reel !== undefined) faults.add(at(path, 'reel'), form.reel, 'a reel only of thread');
  const by = priced[0],
    price = by === undefined ? null : form.price![by]!;
  if (thread && form.reel !== undefined) {
    if (by === 'per metre') faults.addText(at(path, 'price'), by, '"per reel", since it comes in reels');
    const length = lengthOf(faults, at(path, 'reel'), form.reel, LONGEST_REEL);
    return length === null ? null : { by: 'reel', price, length };
  }
  if (by === 'per reel') faults.addText(at(path, 'price'), 'a price per reel without a length', '"reel" beside it: the length of a reel, such as "1000 m"');
  return { by: by === 'per piece' || (by === undefined && sold[0] === 'piece') ? 'piece' : 'length', price };
}
