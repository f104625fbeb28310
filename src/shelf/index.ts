/** What a maker owns or can buy: its file, its table, and what a use of it comes to. */

export { bought, boughtTrim, itemFor, totalCost, trimFor } from './cost.ts';
export { CSV_COLUMNS, csvRows, shelfCell, shelfCsv, shelfFromCsv } from './csv.ts';
export { shelfJsonSchema } from './json-schema.ts';
export { isShelfText, parseShelf, parseShelfDocument } from './parse.ts';
export { newShelf, printShelf, startShelf } from './start.ts';
export type * from './types.ts';
export { HIDE_WASTE, PRICED_BY, SOLD_UNIT, THREAD, TRIMS, trimSoldBy, USES, ZIP_SLIDER } from './words.ts';
