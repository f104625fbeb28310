/** `slumpline/stages` as programs import it: the names of ../stages.ts; what those functions take is looked at first (check.ts). */
import * as own from '../stages.ts';
import { figure, guard, like, list, maybe, numbers, text, word } from './check.ts';
import { bag, band, draft, fits, mesh, points, record, run, wanted } from './shapes.ts';

export * from '../stages.ts';

const model = () => {
  const what = 'a model as prepare() has it';
  return like(what, {
    vertexCount: figure('', { least: 0, whole: true }),
    triVerts: numbers(what, 3),
    triRest: numbers(what, 6),
    triStretch: numbers(what, 4),
    triBend: numbers(what, 4),
    mass: numbers(what),
    held: numbers(what),
  });
};

export const checkBulk = /* @__PURE__ */ guard(own.checkBulk, () => ({ bag: bag(), draft: draft() }));
export const checkMembers = /* @__PURE__ */ guard(own.checkMembers, () => ({ bag: bag() }));
export const checkThread = /* @__PURE__ */ guard(own.checkThread, () => ({ bag: bag() }));
export const checkPattern = /* @__PURE__ */ guard(own.checkPattern, () => ({ bag: bag(), draft: draft() }));
export const coarseEdge = /* @__PURE__ */ guard(own.coarseEdge, () => ({ bag: bag() }));
export const cornersPressed = /* @__PURE__ */ guard(own.cornersPressed, () => ({ bag: bag() }));
export const countCrossings = /* @__PURE__ */ guard(own.countCrossings, () => ({
  positions: points(),
  triVerts: numbers('corners of triangles, 3 a triangle', 3),
}));
export const createFall = /* @__PURE__ */ guard(
  own.createFall,
  () => ({ model: model(), x0: points(), options: maybe(record('options')) }),
  ({ vertexCount }, x0) => fits(x0, vertexCount, 'x0'),
);
export const draftPanels = /* @__PURE__ */ guard(own.draftPanels, () => ({ bag: bag() }));
export const fall = /* @__PURE__ */ guard(own.fall, () => ({
  scene: like('a scene as prepare() returns it', { bag: bag(), mesh: mesh(), model: model(), start: points() }),
}));
export const judge = /* @__PURE__ */ guard(own.judge, () => ({
  runs: list(run(), 'a list of runs', 1),
  wanted: wanted(),
  pattern: maybe(list(text(), 'a list of sentences')),
}));
export const layUp = /* @__PURE__ */ guard(own.layUp, () => ({ bag: bag(), optionName: text('the name of an option'), band: band() }));
export const measure = /* @__PURE__ */ guard(own.measure, () => ({
  input: like('what is measured', {
    bag: bag(),
    mesh: mesh(),
    drafted: points(),
    settled: points(),
    overhangs: numbers('m'),
    panelMass: numbers('kg'),
    stance: word(() => ['standing', 'held', 'hung']),
  }),
}));
export const meshPanels = /* @__PURE__ */ guard(own.meshPanels, () => ({
  bag: bag(),
  draft: draft(),
  options: like('{ edgeLength }', {
    edgeLength: figure('m', { over: 0 }),
    kind: maybe(word(() => ['graded', 'structured', 'equilateral', 'irregular'])),
    seed: maybe(figure('', { least: 0, whole: true })),
  }),
}));
export const prepare = /* @__PURE__ */ guard(own.prepare, () => ({ bag: bag(), o: maybe(record('options')) }));
export const refuseUnsewable = /* @__PURE__ */ guard(own.refuseUnsewable, () => ({ bag: bag(), draft: draft() }));
export const settle = /* @__PURE__ */ guard(
  own.settle,
  () => ({ model: model(), x0: points(), o: maybe(record('options')) }),
  ({ vertexCount }, x0) => fits(x0, vertexCount, 'x0'),
);
export const settledMaps = /* @__PURE__ */ guard(own.settledMaps, () => ({
  settled: like('{ mesh, triRest, run }', { mesh: mesh(), triRest: numbers('rest corners, 6 numbers a triangle, m', 6), run: run() }),
}));
export const sew = /* @__PURE__ */ guard(own.sew, () => ({ bag: bag(), edgeLength: figure('m', { over: 0 }) }));
export const usualEdge = /* @__PURE__ */ guard(own.usualEdge, () => ({ bag: bag() }));
