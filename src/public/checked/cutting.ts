/** `slumpline/cutting` as programs import it: the names of ../cutting.ts; what those functions take is looked at first (check.ts). */
import * as own from '../cutting.ts';
import { figure, flag, guard, guardLater, like, list, maybe, numbers, options, text, word } from './check.ts';
import { bag, fits, indexOf, mesh, optionOf, points, record, records } from './shapes.ts';

export * from '../cutting.ts';

const pattern = () =>
  like('a pattern as cutPattern() returns it', {
    bag: text(),
    option: text(),
    pieces: records('pieces'),
    tapes: records('tapes'),
    notes: list(text(), 'notes'),
  });
const sheet = () =>
  like('a sheet as makeSheet() returns it', {
    title: text(),
    width: figure('m', { over: 0 }),
    height: figure('m', { over: 0 }),
    laid: records('what is laid'),
    lines: records('lines'),
    texts: records('texts'),
  });
const cards = () => list(like('a card as notchCards() returns it', { title: text(), lines: records('lines'), texts: records('texts') }), 'a list of cards');
const paper = () => word(() => ['a4', 'letter']);
const made = () =>
  like('a list as cutList() returns it', {
    bag: text(),
    option: text(),
    pieces: records('pieces'),
    materials: records('materials'),
    tapes: records('tapes'),
    parts: records('parts'),
    thread: records('thread'),
    mass: figure('kg', { least: 0 }),
    order: records('steps'),
    stated: record('what was stated'),
  });
const items = () =>
  list(
    like('a piece to lay', {
      name: text(),
      cut: list(list(numbers('a point, m', 2), 'a loop of points', 3), 'loops', 1),
      warp: figure('rad'),
      count: figure('', { least: 0, whole: true }),
      mirrored: figure('', { least: 0, whole: true }),
    }),
    'a list of pieces to lay',
  );
const laid = () =>
  like('a piece as nest() has laid it', { item: figure('', { least: 0, whole: true }), mirrored: flag, turn: figure('rad'), shift: numbers('a point, m', 2) });
const listed = () => like("a material of a cutting list's `materials`", { name: text(), lay: record('its lay'), items: items() });

export const bagGlb = /* @__PURE__ */ guardLater(
  own.bagGlb,
  () => ({ bag: bag(), optionName: text('the name of an option'), mesh: mesh(), x: points() }),
  (of, name, { vertexCount }, x) => [...optionOf(of, name), ...fits(x, vertexCount, 'x')],
);
export const bagStl = /* @__PURE__ */ guard(
  own.bagStl,
  () => ({ mesh: mesh(), x: points() }),
  ({ vertexCount }, x) => fits(x, vertexCount, 'x'),
);
export const cardNotes = /* @__PURE__ */ guard(own.cardNotes, () => ({ cards: cards() }));
export const cardsPdf = /* @__PURE__ */ guard(own.cardsPdf, () => ({ cards: cards(), paper: paper() }));
export const cutAreas = /* @__PURE__ */ guard(own.cutAreas, () => ({
  bag: bag(),
  optionName: maybe(text('the name of an option')),
  cut: maybe(record('margins and allowances')),
}));
export const cutList = /* @__PURE__ */ guard(own.cutList, () => ({
  bag: bag(),
  optionName: maybe(text('the name of an option')),
  cut: maybe(record('margins and allowances')),
  stated: maybe(record('widths, gap, waste, shelf, finished')),
}));
export const cutListCsv = /* @__PURE__ */ guard(own.cutListCsv, () => ({ list: made() }));
export const cutListRecord = /* @__PURE__ */ guard(own.cutListRecord, () => ({ list: made() }));
export const cutListText = /* @__PURE__ */ guard(own.cutListText, () => ({ list: made() }));
export const cutPattern = /* @__PURE__ */ guard(own.cutPattern, () => ({
  bag: bag(),
  optionName: maybe(text('the name of an option')),
  cut: maybe(record('margins and allowances')),
}));
export const cutWords = /* @__PURE__ */ guard(own.cutWords, () => ({
  piece: like('a piece, for how often it is cut', { count: figure('', { least: 0, whole: true }), mirrored: figure('', { least: 0, whole: true }) }),
}));
export const finishedParts = /* @__PURE__ */ guard(own.finishedParts, () => ({
  bag: bag(),
  optionName: maybe(text('the name of an option')),
  edgeLength: maybe(figure('m', { over: 0 })),
}));
export const laidLoops = /* @__PURE__ */ guard(
  own.laidLoops,
  () => ({ items: items(), l: laid() }),
  (all, l) => indexOf(l.item, all.length, 'l.item'),
);
export const laySvg = /* @__PURE__ */ guard(own.laySvg, () => ({ material: listed(), title: text() }));
export const makeSheet = /* @__PURE__ */ guard(own.makeSheet, () => ({ pattern: pattern() }));
export const meshObj = /* @__PURE__ */ guard(
  own.meshObj,
  () => ({
    mesh: mesh(),
    x: points(),
    title: text(),
    bag: maybe(like('a bag, for its panels', { panels: records('panels') })),
  }),
  ({ vertexCount }, x) => fits(x, vertexCount, 'x'),
);
export const nest = /* @__PURE__ */ guard(own.nest, () => ({
  items: items(),
  width: figure('m', { over: 0 }),
  o: options({
    gap: figure('m', { least: 0 }),
    anyWay: flag,
    sheet: figure('m', { over: 0 }),
    seed: figure('', { least: 0, whole: true }),
    tries: figure('', { least: 1, most: 1000, whole: true }),
  }),
}));
export const notchCards = /* @__PURE__ */ guard(own.notchCards, () => ({ bag: bag(), optionName: maybe(text('the name of an option')) }));
export const sheetDxf = /* @__PURE__ */ guard(own.sheetDxf, () => ({ sheet: sheet() }));
export const sheetPdf = /* @__PURE__ */ guard(own.sheetPdf, () => ({ sheet: sheet() }));
export const sheetSvg = /* @__PURE__ */ guard(own.sheetSvg, () => ({ sheet: sheet() }));
export const strapCards = /* @__PURE__ */ guard(own.strapCards, () => ({
  bag: bag(),
  pattern: pattern(),
  o: like('allowances, such as { strapTurn: 0.02 }', { strapTurn: figure('m', { least: 0 }) }),
}));
export const tiledPdf = /* @__PURE__ */ guard(own.tiledPdf, () => ({ sheet: sheet(), paper: paper() }));
export const tilesOf = /* @__PURE__ */ guard(own.tilesOf, () => ({ sheet: sheet(), paper: paper() }));
export const cutListParts = /* @__PURE__ */ guard(own.cutListParts, () => ({ list: made() }));
