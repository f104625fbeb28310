/** `slumpline/report` as programs import it: the names of ../report.ts; what those functions take is looked at first (check.ts). */
import * as own from '../report.ts';
import { any, figure, guard, type Kind, like, list, maybe, numbers, text, word, work } from './check.ts';
import { bag, fits, indexOf, mesh, points, record, records, result, results, run, strap, style, trace } from './shapes.ts';

export * from '../report.ts';

const sweep = () =>
  like('what sweepAnchors() returns', {
    load: figure('kg', { least: 0 }),
    drawn: record('the bag as drawn'),
    steps: records('steps'),
    level: records('ranges'),
    limits: record('limits'),
  });
const hang = () => like('what is hung: { anchors, load, stitching }', { anchors: sweep(), load: any, stitching: any });
const changes = () =>
  like('what rankChanges() returns', {
    bag: text(),
    option: text(),
    stance: text(),
    wanted: text(),
    edgeLength: figure('m', { over: 0 }),
    asDrawn: record('the bag as drawn'),
    changes: records('changes'),
  });
const need = () =>
  like('what findNeed() returns', {
    bag: text(),
    option: text(),
    wanted: text(),
    edgeLength: figure('m', { over: 0 }),
    panels: list(text(), 'names of panels'),
    stacks: records('stacks'),
    stances: records('stances'),
    alone: records('groups of panels'),
  });
/** A value that JSON has. */
const json = (): Kind => (v, path) =>
  v === undefined || typeof v === 'function' ? [{ path, got: v === undefined ? 'nothing' : 'a function', expected: 'a value that JSON has' }] : [];
const maps = () => like('maps as settledMaps() returns them', { strain: record('strains'), gap: record('gaps'), seams: record('forces') });
const scale = () =>
  like('a scale', { top: figure(''), at: work('value -> place'), marks: list(text(), 'words'), write: work('value -> words'), floor: figure('') });

export const bagAt = /* @__PURE__ */ guard(
  own.bagAt,
  () => ({ bag: bag(), a: sweep(), index: figure('', { least: -1, whole: true }) }),
  (_, a, index) => indexOf(index, a.steps.length, 'index'),
);
export const bagTextIn = /* @__PURE__ */ guard(own.bagTextIn, () => ({ text: text('the text of a file') }));
export const batchRecord = /* @__PURE__ */ guard(own.batchRecord, () => ({
  files: list(like('a file', { file: text(), results: results(), trace: maybe(trace()) }), 'a list of files, each { file, results }'),
}));
export const changesJson = /* @__PURE__ */ guard(own.changesJson, () => ({ r: changes() }));
export const changesSvg = /* @__PURE__ */ guard(own.changesSvg, () => ({ r: changes() }));
export const changesText = /* @__PURE__ */ guard(own.changesText, () => ({ r: changes() }));
export const compareText = /* @__PURE__ */ guard(own.compareText, () => ({ results: results(), style: maybe(style()) }));
export const cornerSheets = /* @__PURE__ */ guard(own.cornerSheets, () => ({
  bag: bag(),
  strap: text('the name of a strap'),
  paper: word(() => ['a4', 'letter']),
}));
export const cutLength = /* @__PURE__ */ guard(own.cutLength, () => ({ s: strap() }));
export const findingsOf = /* @__PURE__ */ guard(own.findingsOf, () => ({
  kind: word(() => ['strain', 'gap', 'seams']),
  bag: bag(),
  mesh: mesh(),
  maps: maps(),
  scale: scale(),
  run: run(),
}));
export const hangJson = /* @__PURE__ */ guard(own.hangJson, () => ({ r: hang() }));
export const hangSvg = /* @__PURE__ */ guard(own.hangSvg, () => ({
  r: hang(),
  unit: maybe(word(() => ['mm', 'in'])),
  pulls: maybe(word(() => ['N', 'weight'])),
}));
export const hangText = /* @__PURE__ */ guard(own.hangText, () => ({ r: hang() }));
export const holdsResults = /* @__PURE__ */ guard(own.holdsResults, () => ({ text: text('the text of a file') }));
export const htmlReport = /* @__PURE__ */ guard(own.htmlReport, () => ({
  results: results(),
  bag: maybe(text('the text of a bag file')),
  extras: maybe(record('{ question, parts, results }')),
}));
export const hungPicture = /* @__PURE__ */ guard(own.hungPicture, () => ({ result: result() }));
export const leadRun = /* @__PURE__ */ guard(own.leadRun, () => ({ runs: list(run(), 'a list of runs', 1) }));
export const mapPicture = /* @__PURE__ */ guard(own.mapPicture, () => ({
  name: word(() => own.MAP_NAMES),
  bag: bag(),
  results: results(),
  maps: list(maps(), 'a list of maps, one a result', 1),
}));
export const needJson = /* @__PURE__ */ guard(own.needJson, () => ({ r: need() }));
export const needText = /* @__PURE__ */ guard(own.needText, () => ({ report: need() }));
export const openResults = /* @__PURE__ */ guard(own.openResults, () => ({ text: text('the text of a results file or a report') }));
export const overStances = /* @__PURE__ */ guard(own.overStances, () => ({ results: results() }));
export const picture = /* @__PURE__ */ guard(own.picture, () => ({ results: results(), o: maybe(record('options of a picture')) }));
export const recommend = /* @__PURE__ */ guard(own.recommend, () => ({
  a: like('what sweepAnchors() returns', { drawn: record('the bag as drawn'), steps: records('steps'), limits: record('limits') }),
}));
export const resultJson = /* @__PURE__ */ guard(own.resultJson, () => ({ result: result(), trace: maybe(trace()) }));
export const resultRecord = /* @__PURE__ */ guard(own.resultRecord, () => ({ result: result() }));
export const resultsAgain = /* @__PURE__ */ guard(own.resultsAgain, () => ({
  record: like('a record as readResults() returns it', { results: records('results', 1) }),
  bag: bag(),
}));
export const resultsJson = /* @__PURE__ */ guard(own.resultsJson, () => ({ results: results(), trace: maybe(trace()) }));
export const resultsRecord = /* @__PURE__ */ guard(own.resultsRecord, () => ({ results: results(), trace: maybe(trace()) }));
export const resultsTextIn = /* @__PURE__ */ guard(own.resultsTextIn, () => ({ text: text('the text of a file') }));
export const rowsOf = /* @__PURE__ */ guard(own.rowsOf, () => ({ result: result() }));
export const settledMaps = /* @__PURE__ */ guard(own.settledMaps, () => ({
  settled: like('{ mesh, triRest, run }', { mesh: mesh(), triRest: numbers('rest corners, 6 numbers a triangle, m', 6), run: run() }),
}));
export const stancesText = /* @__PURE__ */ guard(own.stancesText, () => ({ results: results(), style: maybe(style()) }));
export const strapCard = /* @__PURE__ */ guard(
  own.strapCard,
  () => ({ swept: bag(), r: hang(), index: maybe(figure('', { least: -1, whole: true })) }),
  (_, r, index) => indexOf(index, r.anchors.steps.length, 'index'),
);
export const textReport = /* @__PURE__ */ guard(own.textReport, () => ({ result: result(), style: maybe(style()) }));
export const whereMeasured = /* @__PURE__ */ guard(
  own.whereMeasured,
  () => ({ bag: bag(), mesh: mesh(), drafted: points(), settled: points() }),
  (_, { vertexCount }, a, b) => [...fits(a, vertexCount, 'drafted'), ...fits(b, vertexCount, 'settled')],
);
export const wholeReport = /* @__PURE__ */ guard(own.wholeReport, () => ({
  results: results(),
  text: text('the text of a bag file'),
  bag: bag(),
  cutting: like('the functions of slumpline/cutting', { cutList: work('bag -> cutting list'), cutListParts: work('list -> parts of a report') }),
}));
export const meshObj = /* @__PURE__ */ guard(
  own.meshObj,
  () => ({ mesh: mesh(), x: points(), title: text(), bag: maybe(like('a bag, for its panels', { panels: records('panels') })) }),
  ({ vertexCount }, x) => fits(x, vertexCount, 'x'),
);
export const stableJson = /* @__PURE__ */ guard(own.stableJson, () => ({ value: json() }));
