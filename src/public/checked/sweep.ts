/** `slumpline/sweep` as programs import it: the names of ../sweep.ts; what those functions take is looked at first (check.ts). */
import * as own from '../sweep.ts';
import { figure, flag, guard, guardLater, type Kind, like, list, maybe, text, work } from './check.ts';
import { axis, band, plan, plannedRun, plannedRuns } from './shapes.ts';

export * from '../sweep.ts';

/** A bag file as text or as an object: its reader tells the rest. */
const source = (): Kind => (v, path) =>
  typeof v === 'string' || (typeof v === 'object' && v !== null)
    ? []
    : [{ path, got: String(v), expected: 'a bag file, as text or as the object its JSON stands for' }];
const planOptions = () =>
  like("what is varied, { vary, ... }, such as { vary: 'W=260..340/5' }", {
    vary: text("what is varied, such as 'W=260..340/5'"),
    samples: maybe(figure('', { least: 1, most: 1e6, whole: true })),
    seed: maybe(figure('', { least: 0, most: 4294967295, whole: true })),
    bands: maybe(list(band(), 'a list of low, mid, high', 1)),
    edgeLength: maybe(figure('m', { over: 0 })),
  });
const planHands = () =>
  like('{ onRun, ... }', {
    onRun: work('it is told of each run'),
    onFailed: maybe(work('it is told of each run that failed')),
    lanes: maybe(figure('', { least: 1, most: 256, whole: true })),
    executor: maybe(work('it runs a job')),
  });
const shard = (): Kind => (v, path) =>
  Array.isArray(v) && v.length === 2 && v.every(Number.isInteger) && v[0] >= 1 && v[0] <= v[1]
    ? []
    : [{ path, got: JSON.stringify(v) ?? 'nothing', expected: 'two whole numbers [i, n], i from 1 to n' }];
const done = (): Kind => (v, path) => (v instanceof Set ? [] : [{ path, got: typeof v, expected: 'a Set of the numbers of runs' }]);

export const alongPlot = /* @__PURE__ */ guard(own.alongPlot, () => ({ title: text(), axis: axis(), runs: plannedRuns(), drawn: flag }));
export const firstOrderShares = /* @__PURE__ */ guard(own.firstOrderShares, () => ({
  axes: list(axis(), 'a list of axes'),
  runs: plannedRuns(),
  y: work('run -> its figure, or null'),
  drawn: maybe(flag),
}));
export const gatherRuns = /* @__PURE__ */ guard(own.gatherRuns, () => ({
  plan: plan(),
  files: list(like('a file', { name: text(), runs: plannedRuns() }), 'a list of files, each { name, runs }'),
}));
export const holdShare = /* @__PURE__ */ guard(own.holdShare, () => ({ runs: plannedRuns(), drawn: maybe(flag) }));
export const latinHypercube = /* @__PURE__ */ guard(own.latinHypercube, () => ({
  count: figure('', { least: 1, most: 1e6, whole: true }),
  axes: figure('', { least: 1, most: 1000, whole: true }),
  seed: figure('', { least: 0, most: 4294967295, whole: true }),
}));
export const lineOf = /* @__PURE__ */ guard(own.lineOf, () => ({ run: plannedRun() }));
export const manifestText = /* @__PURE__ */ guard(own.manifestText, () => ({ plan: plan() }));
export const numbersText = /* @__PURE__ */ guard(own.numbersText, () => ({
  numbers: list(figure('', { whole: true }), 'a list of whole numbers'),
  most: maybe(figure('', { least: 1, whole: true })),
}));
export const planDifferences = /* @__PURE__ */ guard(own.planDifferences, () => ({ kept: plan(), asked: plan() }));
export const planDigest = /* @__PURE__ */ guard(own.planDigest, () => ({ plan: plan() }));
export const planRuns = /* @__PURE__ */ guard(own.planRuns, () => ({ source: source(), o: planOptions() }));
export const planText = /* @__PURE__ */ guard(own.planText, () => ({ plan: plan() }));
export const readLines = /* @__PURE__ */ guard(own.readLines, () => ({
  text: text('the text of a file of runs'),
  name: text('the name of a file'),
  first: maybe(figure('', { least: 1, whole: true })),
}));
export const readManifest = /* @__PURE__ */ guard(own.readManifest, () => ({ text: text('the text of a manifest'), name: text('the name of a file') }));
export const runPlan = /* @__PURE__ */ guardLater(own.runPlan, () => ({ source: source(), plan: plan(), o: planHands() }));
export const runsCsv = /* @__PURE__ */ guard(own.runsCsv, () => ({ plan: plan(), runs: plannedRuns() }));
export const runsJson = /* @__PURE__ */ guard(own.runsJson, () => ({ plan: plan(), runs: plannedRuns() }));
export const runsOf = /* @__PURE__ */ guard(own.runsOf, () => ({ source: source(), plan: plan() }));
export const runsPlots = /* @__PURE__ */ guard(own.runsPlots, () => ({ plan: plan(), runs: plannedRuns() }));
export const runsText = /* @__PURE__ */ guard(own.runsText, () => ({ plan: plan(), runs: plannedRuns() }));
export const shardOf = /* @__PURE__ */ guard(own.shardOf, () => ({ plan: plan(), shard: shard(), done: maybe(done()) }));
export const valuesOf = /* @__PURE__ */ guard(own.valuesOf, () => ({ plan: plan() }));
export const verdictCells = /* @__PURE__ */ guard(own.verdictCells, () => ({ across: axis(), up: axis(), runs: plannedRuns() }));
export const verdictMap = /* @__PURE__ */ guard(own.verdictMap, () => ({ title: text(), across: axis(), up: axis(), runs: plannedRuns() }));
export const whatMatters = /* @__PURE__ */ guard(own.whatMatters, () => ({ plan: plan(), runs: plannedRuns() }));
export const wilson = /* @__PURE__ */ guard(own.wilson, () => ({
  k: figure('', { least: 0, whole: true }),
  n: figure('', { least: 0, whole: true }),
  z: maybe(figure('', { over: 0 })),
}));
