/** `slumpline/swatch` as programs import it: the names of ../swatch.ts; what those functions take is looked at first (check.ts). */
import * as own from '../swatch.ts';
import { figure, flag, guard, like, list, maybe, mismatch, numbers, orNull, text, word, work } from './check.ts';
import { band, cloth, record, records } from './shapes.ts';

export * from '../swatch.ts';

const test = () => word(() => own.TEST_NAMES);
const unit = () => word(() => ['mm', 'in']);
const compared = () =>
  like('a cloth: { name, sheets, story }', { name: text(), sheets: list(cloth(), 'three sheets: soft, typical, stiff', 3), story: text() });
const draped = () =>
  like('a drape as drapedCloth() returns it', {
    name: text(),
    settled: flag,
    coefficient: figure('%'),
    folds: figure('', { least: 0, whole: true }),
    drop: figure('m'),
    outline: numbers('m'),
  });
const tested = () =>
  like('a result as swatchTest() returns it', {
    test: text(),
    reading: figure(''),
    quantity: text(),
    status: text(),
    more: record('further figures'),
    x: numbers('positions, m', 3),
  });
const figures = () =>
  like('a result as swatchTest() returns it', { test: text(), reading: figure(''), quantity: text(), status: text(), more: record('further figures') });
const piece = () =>
  like('what was tested', {
    title: text(),
    how: text(),
    cloth: text(),
    story: text(),
    bolt: text(),
    arealMass: figure('kg/m2', { over: 0 }),
    overhang: figure('m', { least: 0 }),
    cut: figure('rad'),
    mesh: figure('m', { over: 0 }),
    size: work("a length, m, in the reader's unit"),
    program: text(),
  });
const readings = () =>
  like('readings as parseReadings() returns them', { id: text(), name: text(), like: text(), mass: figure('kg', { over: 0 }), strips: records('strips') });
const read = () =>
  like('a material as swatchMaterial() returns it', {
    readings: readings(),
    arealMass: figure('kg/m2', { over: 0 }),
    directions: records('directions'),
    warnings: list(text(), 'warnings'),
  });
const pixels = () => list(numbers('a place in the picture, [x, y]', 2), 'places in the picture, [x, y] each');
const marks = () => like('the marks of a photograph', { card: orNull(pixels()), ruler: orNull(record('{ marks, apart }')), table: pixels(), strip: pixels() });

export const besidePublished = /* @__PURE__ */ guard(own.besidePublished, () => ({ r: tested(), preset: orNull(text('the id of a material')) }));
export const cantileverFromSlope = /* @__PURE__ */ guard(own.cantileverFromSlope, () => ({ slope: figure('N/m per unit of curvature', { over: 0 }) }));
export const cantileverReadings = /* @__PURE__ */ guard(own.cantileverReadings, () => ({
  slope: figure('', { over: 0 }),
  hysteresis: figure('', { least: 0 }),
  arealMass: figure('kg/m2', { over: 0 }),
}));
export const compareCloths = /* @__PURE__ */ guard(own.compareCloths, () => ({
  cloths: list(compared(), 'a list of cloths', 1),
  length: figure('m', { over: 0 }),
  unit: unit(),
  program: text(),
}));
export const drapedCloth = /* @__PURE__ */ guard(own.drapedCloth, () => ({
  cloth: compared(),
  mesh: maybe(figure('m', { over: 0, most: 0.05 })),
  onStep: maybe(work('whether to go on')),
}));
export const drapesCsv = /* @__PURE__ */ guard(own.drapesCsv, () => ({ cloths: list(draped(), 'a list of drapes'), program: text() }));
export const drapesPlot = /* @__PURE__ */ guard(own.drapesPlot, () => ({
  cloths: list(draped(), 'a list of drapes'),
  note: like('{ program, unit }', { program: text(), unit: unit() }),
}));
export const drapesTable = /* @__PURE__ */ guard(own.drapesTable, () => ({ cloths: list(draped(), 'a list of drapes'), unit: unit() }));
export const fabricPercentile = /* @__PURE__ */ guard(own.fabricPercentile, () => ({ bendingLength: figure('m', { least: 0 }) }));
export const heldWideFactor = /* @__PURE__ */ guard(own.heldWideFactor, () => ({
  setup: like('a setup, for its sheet and cut', { sheet: cloth(), cut: maybe(figure('rad')) }),
}));
export const isotropic = /* @__PURE__ */ guard(own.isotropic, () => ({
  arealMass: figure('kg/m2', { over: 0 }),
  D: figure('N*m', { over: 0 }),
  C: figure('N/m', { over: 0 }),
  nu: maybe(figure('', { over: -1, below: 1 })),
}));
export const lengthFor = /* @__PURE__ */ guard(own.lengthFor, () => ({ sheet: cloth(), K: figure('w L^3/B', { over: 0 }), cut: maybe(figure('rad')) }));
export const ownLength = /* @__PURE__ */ guard(own.ownLength, () => ({ test: test(), sheet: cloth(), cut: maybe(figure('rad')) }));
export const ownMaterialForm = /* @__PURE__ */ guard(own.ownMaterialForm, () => ({ s: read() }));
export const ownMesh = /* @__PURE__ */ guard(own.ownMesh, () => ({ test: test(), length: figure('m', { over: 0 }) }));
export const parsePhotos = /* @__PURE__ */ guard(own.parsePhotos, () => ({ text: text('the text of a file of photo marks') }));
export const parseReadings = /* @__PURE__ */ guard(own.parseReadings, () => ({ text: text('the text of a file of readings') }));
export const photoText = /* @__PURE__ */ guard(own.photoText, () => ({
  file: like('a file as parsePhotos() returns it', { directions: records('directions') }),
}));
export const presetCloth = /* @__PURE__ */ guard(own.presetCloth, () => ({ id: text('the id of a material'), band: maybe(band()) }));
export const readPhoto = /* @__PURE__ */ guard(own.readPhoto, () => ({ marks: marks() }));
export const sheetWithDrapes = /* @__PURE__ */ guard(own.sheetWithDrapes, () => ({
  sheet: text('a sheet of HTML'),
  names: list(text(), 'names of cloths'),
  rows: list(
    like('a row of drapesTable()', { label: text(), values: list(text(), 'a text for each cloth'), bands: list(text(), 'a text for each cloth') }),
    'rows',
  ),
  plot: text('an SVG'),
}));
export const slopeFromCantilever = /* @__PURE__ */ guard(own.slopeFromCantilever, () => ({ rigidity: figure('N*m', { over: 0 }) }));
export const swatchMaterial = /* @__PURE__ */ guard(own.swatchMaterial, () => ({ readings: readings() }));
export const swatchNotes = /* @__PURE__ */ guard(own.swatchNotes, () => ({
  setup: like('a setup, for its sheet and cut', { sheet: cloth(), cut: maybe(figure('rad')) }),
  r: tested(),
}));
export const swatchSource = /* @__PURE__ */ guard(own.swatchSource, () => ({ s: read() }));
export const swatchText = /* @__PURE__ */ guard(own.swatchText, () => ({ s: read() }));
export const testCsv = /* @__PURE__ */ guard(own.testCsv, () => ({ r: figures(), p: piece() }));
export const testDrawing = /* @__PURE__ */ guard(
  own.testDrawing,
  () => ({ r: figures(), p: piece(), triVerts: numbers('corners of triangles, 3 a triangle', 3), x: numbers('positions, m', 3) }),
  (_, __, triVerts, x) => {
    const most = triVerts.reduce((a, b) => Math.max(a, b), -1);
    return most < x.length / 3 ? [] : mismatch('x', `${x.length / 3} places`, `${most + 1}, as the triangles have corners`);
  },
);
export const testSheet = /* @__PURE__ */ guard(own.testSheet, () => ({ r: figures(), p: piece(), drawing: text('an SVG') }));
export const testWidth = /* @__PURE__ */ guard(own.testWidth, () => ({ test: test(), length: figure('m', { over: 0 }) }));
export const unfitSetup = /* @__PURE__ */ guard(own.unfitSetup, () => ({
  test: test(),
  setup: like('a setup with its length', { sheet: cloth(), length: figure('m', { over: 0 }), mesh: figure('m', { over: 0 }) }),
  chosen: flag,
}));
