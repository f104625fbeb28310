import type { Command } from 'commander';
import type { Shelf, ShelfItem } from '../index.ts';
import type { Core } from './core.ts';
import { guarded } from './faults.ts';
import { EXIT, type Io, readText } from './io.ts';

/** Adds `shelf new`, `shelf export` and `shelf import` to the program. `done` is told the exit code. */
export function registerShelf(program: Command, io: Io, core: Core, done: (code: number) => void): void {
  const shelf = program.command('shelf').description('What you own or can buy (*.shelf.json): begin one, make it a table, and back.');
  shelf
    .command('new')
    .description('Print a shelf to start from, with notes; keep it as my.shelf.json and change it. slumpline check reads it.')
    .action(() => {
      io.out(core.newShelf());
      done(EXIT.ok);
    });
  shelf
    .command('export')
    .argument('<file>', 'shelf file (*.shelf.json), or "-" for standard input')
    .description('Print a shelf as a table (CSV). Swatches with a band of figures stay in the file.')
    .action(async (file: string) => {
      const text = await readText(io, file);
      const { document } = guarded(core, file, () => core.parseShelfDocument(text));
      io.out(core.shelfCsv(document));
      done(EXIT.ok);
    });
  shelf
    .command('import')
    .argument('<file>', 'table (CSV), with commas or semicolons; "-" for standard input')
    .description('Print the shelf that a table describes; every fault of the table and of the shelf is listed.')
    .option('--into <file>', 'shelf file that the rows are added to: rows of the same name take the place of what it has')
    .action(async (file: string, { into }: { into?: string }) => {
      const table = await readText(io, file),
        kept = into === undefined ? undefined : await readText(io, into);
      const before = kept === undefined ? undefined : guarded(core, into!, () => core.parseShelfDocument(kept)).document;
      const text = guarded(core, file, () => core.printShelf(core.parseShelfDocument(core.shelfFromCsv(table, before).value).document));
      io.out(text);
      done(EXIT.ok);
    });
}

/** What `check` finds in a shelf. */
export interface FoundShelf {
  readonly file: string;
  readonly shelf: string;
  readonly currency: string;
  readonly items: readonly ShelfItem[];
  readonly own: readonly string[];
  /** Uses that nothing on the shelf has. */ readonly without: readonly string[];
}

/** The shelf of a text as `check` tells it. Throws BagError. */
export function examineShelf(core: Core, file: string, text: string): FoundShelf {
  const shelf: Shelf = core.parseShelf(text);
  return {
    file,
    shelf: shelf.name,
    currency: shelf.currency,
    items: shelf.items,
    own: shelf.materials.map((m) => m.id),
    without: core.USES.filter((u) => !shelf.items.some((i) => i.uses.includes(u))),
  };
}

export function shelfWords(core: Core, f: FoundShelf): string {
  const money = (price: number): string => `${Number(price.toFixed(2))}${f.currency === '' ? '' : ` ${f.currency}`}`;
  const sold = ({ sold: s, stock, size: trim }: ShelfItem): string => {
    if (s === null) return 'no price';
    const size = [
      s.by === 'metre' ? `${core.formatMm(s.width, 0)} wide` : s.by === 'sheet' ? `${core.formatMm(s.width, 0)} x ${core.formatMm(s.length, 0)}` : '',
      s.by === 'area' ? 'hide' : s.by === 'reel' ? `reels of ${Number(s.length.toFixed(1))} m` : '',
      trim === null ? '' : `size ${core.formatMm(trim)}`,
    ];
    const unit = core.PRICED_BY[s.by].replace('per ', 'a '),
      there = stock === null ? '' : `${Number(stock.toFixed(2))} ${core.SOLD_UNIT[s.by]} there`;
    return [s.price === null ? 'no price' : `${money(s.price)} ${unit}`, ...size, there].filter((w) => w !== '').join(', ');
  };
  return [
    `${f.shelf}: no faults. ${f.items.length} materials${f.own.length > 0 ? `, ${f.own.length} of your own swatches` : ''}.`,
    ...f.items.map((i) => `  ${i.id}: ${i.name}; ${i.uses.join(', ')}; ${sold(i)}`),
    ...(f.without.length > 0 ? [`nothing here is used as: ${f.without.join(', ')}`] : []),
    '',
  ].join('\n');
}
