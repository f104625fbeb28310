/** `slumpline/shelf` as programs import it: the names of ../shelf.ts; what those functions take is looked at first (check.ts). */
import * as own from '../shelf.ts';
import { figure, guard, guardLater, like, list, maybe, orNull, text } from './check.ts';
import { bag, record, records } from './shapes.ts';

export * from '../shelf.ts';

const document = () => like('a document as parseShelfDocument() returns it', { value: record('the file as JSON') });
const soldItem = () => like('an item of a shelf', { sold: orNull(record('how it is sold')), stock: orNull(figure('', { least: 0 })) });
const items = () => list(like('an item of a shelf', { id: text(), material: text(), uses: list(text(), 'uses') }), 'items of a shelf');
const chosen = () =>
  like('what choose() returns', {
    bag: text(),
    option: text(),
    wanted: text(),
    by: text(),
    stacks: figure('', { least: 0, whole: true }),
    ranked: records('stacks'),
    settled: records('stacks'),
    ruledOut: record('numbers of stacks'),
  });

export const bought = /* @__PURE__ */ guard(own.bought, () => ({
  item: soldItem(),
  taken: like('what is taken of it', {
    area: figure('m2', { least: 0 }),
    length: maybe(figure('m', { least: 0 })),
    toBuy: maybe(figure('m2', { least: 0 })),
    sheets: maybe(figure('', { least: 0 })),
  }),
}));
export const boughtTrim = /* @__PURE__ */ guard(own.boughtTrim, () => ({
  item: soldItem(),
  taken: like('what is taken of it', { length: figure('m', { least: 0 }), count: figure('', { least: 0 }) }),
}));
export const choose = /* @__PURE__ */ guardLater(own.choose, () => ({
  bag: bag(),
  shelf: like('a shelf as parseShelf() returns it', { items: records('items') }),
  o: maybe(record('options')),
}));
export const chooseCsv = /* @__PURE__ */ guard(own.chooseCsv, () => ({ r: chosen() }));
export const chooseJson = /* @__PURE__ */ guard(own.chooseJson, () => ({ r: chosen() }));
export const choosePlot = /* @__PURE__ */ guard(own.choosePlot, () => ({ r: chosen() }));
export const chooseText = /* @__PURE__ */ guard(own.chooseText, () => ({ r: chosen() }));
export const isShelfText = /* @__PURE__ */ guard(own.isShelfText, () => ({ text: text('the text of a file') }));
export const itemFor = /* @__PURE__ */ guard(own.itemFor, () => ({ items: items(), material: text('the id of a material') }));
export const printShelf = /* @__PURE__ */ guard(own.printShelf, () => ({ document: document() }));
export const shelfCsv = /* @__PURE__ */ guard(own.shelfCsv, () => ({ document: document() }));
export const shelfFromCsv = /* @__PURE__ */ guard(own.shelfFromCsv, () => ({ source: text('the text of a table'), into: maybe(document()) }));
export const totalCost = /* @__PURE__ */ guard(own.totalCost, () => ({
  all: list(orNull(record('what bought() returns')), 'a list of what bought() returns'),
}));
export const trimFor = /* @__PURE__ */ guard(own.trimFor, () => ({ items: items(), kind: text('a kind of trim'), size: orNull(figure('m', { least: 0 })) }));
