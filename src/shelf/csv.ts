/** A shelf as a table and back (CSV, RFC 4180). What a table cannot hold (a swatch with bands) stays in the shelf that it is put into. */
import { at, FaultList, isPlain, oneOf, type Plain } from '../bag/index.ts';
import { csvCell } from '../units/index.ts';
import type { ShelfDocument } from './types.ts';
import { PRICED } from './words.ts';

/** Columns; the last four are of a swatch of one's own, named by `material`. */
export const CSV_COLUMNS = [
  ...[
    'item',
    'name',
    'material',
    'use',
    'thickness',
    'size',
    'width',
    'sheet',
    'reel',
    'waste',
    'price',
    'priced',
    'stock',
    'colour',
    'takes fusing',
    'bond',
    'note',
  ],
  ...['like', 'mass', 'overhang', 'source'],
] as const;
const OWN = ['like', 'mass', 'overhang', 'source'] as const;

/** A cell of what may come back with commas or with semicolons. */
export const shelfCell = (text: string): string => csvCell(text, /[",;\n\r]/);

/** Rows of a CSV text; commas or semicolons, whichever the first line has more of. A quote that is never closed runs to the end. */
export function csvRows(text: string): readonly (readonly string[])[] {
  const plain = text.replace(/^\uFEFF/, ''),
    [first] = plain.split(/\r?\n/, 1);
  const by = (first!.match(/;/g)?.length ?? 0) > (first!.match(/,/g)?.length ?? 0) ? ';' : ',';
  const rows: string[][] = [];
  let [row, cell, quoted, closed]: [string[], string, boolean, boolean] = [[], '', false, false];
  const end = (): void => {
    row.push(closed ? cell : cell.trim());
    [cell, closed] = ['', false];
  };
  const endRow = (): void => {
    end();
    if (row.some((c) => c !== '')) rows.push(row);
    row = [];
  };
  for (let i = 0; i < plain.length; i++) {
    const c = plain[i]!;
    if (quoted) {
      if (c !== '"') cell += c;
      else if (plain[i + 1] === '"') cell += plain[++i];
      else [quoted, closed] = [false, true];
    } else if (c === '"' && cell.trim() === '') [cell, quoted] = ['', true];
    else if (c === by) end();
    else if (c === '\n') endRow();
    else if (c !== '\r') cell += c;
  }
  endRow();
  return rows.map((r) => r.map((v) => v.replace(/^'(?=[=+@\t\r-])/, '')));
}

const text = (v: unknown): string => (v === undefined || v === null ? '' : String(v));

/** The items of a shelf as a table; a swatch of one's own stands in the row of the first item that is of it, as far as single figures tell it. */
export function shelfCsv({ value }: ShelfDocument): string {
  const materials = isPlain(value.materials) ? value.materials : {},
    told = new Set<string>();
  const rows = Object.entries(isPlain(value.items) ? value.items : {}).map(([id, item]): string[] => {
    const form = isPlain(item) ? item : {},
      price = isPlain(form.price) ? form.price : {},
      priced = PRICED.find((p) => price[p] !== undefined);
    const material = text(form.material),
      found = told.has(material) ? undefined : materials[material],
      own = isPlain(found) ? found : {};
    told.add(material);
    const list = (v: unknown, by: string): string => (Array.isArray(v) ? v.join(by) : text(v));
    const cells: Plain = {
      ...form,
      item: id,
      use: list(form.use, ' / '),
      sheet: list(form.sheet, ' x '),
      price: priced && price[priced],
      priced: priced ?? '',
    };
    return CSV_COLUMNS.map((c) => {
      const cell = (OWN as readonly string[]).includes(c) ? own[c] : cells[c];
      return typeof cell === 'object' ? '' : text(cell);
    });
  });
  return `${[[...CSV_COLUMNS], ...rows].map((r) => r.map(shelfCell).join(',')).join('\r\n')}\r\n`;
}

/** Cells whose text is a number or a yes in the file. */
function written(column: string, cell: string): unknown {
  if (column === 'use') {
    const uses = cell.split('/').map((u) => u.trim());
    return uses.length === 1 ? uses[0] : uses;
  }
  if (column === 'sheet') return cell.split(/\s*x\s*/i);
  if (column === 'takes fusing') return /^(true|yes)$/i.test(cell) ? true : /^(false|no)$/i.test(cell) ? false : cell;
  const number = Number(cell.replace(/^(\d+),(\d+)$/, '$1.$2'));
  return column === 'bond' || column === 'price' ? (Number.isFinite(number) ? number : cell) : cell;
}

/**
 * A shelf document made of a table: rows in place of items of the same name, added to `into` (default: an empty shelf). It is not checked: parse it.
 * Errors: BagError with every fault of the table itself: no heading, unknown columns, rows without a name, names twice, a price without "priced".
 */
export function shelfFromCsv(source: string, into: ShelfDocument = { value: { shelf: 1, name: 'Shelf', items: {} } }): ShelfDocument {
  const faults = new FaultList(),
    [head = [], ...rows] = csvRows(source);
  const columns = head.map((h) => h.trim().toLowerCase());
  for (const must of ['item', 'material', 'use'])
    if (!columns.includes(must)) faults.addText('line 1', `no column "${must}"`, `columns ${CSV_COLUMNS.join(', ')}`);
  columns.forEach((c, i) => {
    if (c !== '' && !(CSV_COLUMNS as readonly string[]).includes(c)) faults.add(`line 1, column ${i + 1}`, head[i], oneOf('a column', c, CSV_COLUMNS));
    else if (c !== '' && columns.indexOf(c) !== i) faults.add(`line 1, column ${i + 1}`, head[i], 'each column once');
  });
  faults.stop();
  const items = new Map<string, unknown>(),
    materials = new Map(Object.entries(isPlain(into.value.materials) ? into.value.materials : {}));
  rows.forEach((row, r) => {
    const where = `row ${r + 2}`,
      cell = (c: string): string => row[columns.indexOf(c)] ?? '';
    const id = cell('item');
    if (id === '') faults.addText(where, 'no name in "item"', 'a name for each row');
    else if (items.has(id)) faults.addText(where, `"${id.slice(0, 60)}" again`, 'each name once');
    if (row.length > columns.length) faults.addText(where, `${row.length} cells`, `${columns.length}, as in the first line`);
    const entry: Record<string, unknown> = {};
    for (const c of columns) {
      if (['item', 'price', 'priced', ''].includes(c) || (OWN as readonly string[]).includes(c) || cell(c) === '') continue;
      entry[c] = written(c, cell(c));
    }
    if (cell('price') !== '') {
      const priced = cell('priced');
      if ((PRICED as readonly string[]).includes(priced)) entry.price = { [priced]: written('price', cell('price')) };
      else faults.add(at(where, 'priced'), priced, oneOf('how the price is meant', priced, PRICED));
    }
    items.set(id, entry);
    const own = Object.fromEntries(OWN.filter((c) => columns.includes(c) && cell(c) !== '').map((c) => [c, cell(c)]));
    if (Object.keys(own).length > 0) materials.set(cell('material'), { ...(materials.get(cell('material')) as object | undefined), ...own });
  });
  if (rows.length === 0) faults.addText('table', 'no rows', 'a row for each material');
  faults.stop();
  const before = isPlain(into.value.items) ? into.value.items : {};
  return {
    value: { ...into.value, items: { ...before, ...Object.fromEntries(items) }, ...(materials.size > 0 ? { materials: Object.fromEntries(materials) } : {}) },
  };
}
