/** `slumpline/pattern` as programs import it: the names of ../pattern.ts; what those functions take is looked at first (check.ts). */
import * as own from '../pattern.ts';
import { figure, guard, type Kind, like, list, maybe, numbers, options, text, word } from './check.ts';
import { bag, draft, record } from './shapes.ts';

export * from '../pattern.ts';

const edge = (): Kind => {
  const what = "an edge of a panel's `outline`",
    point = numbers('a point, m', 2);
  return like(what, { name: text(what), kind: word(() => ['line', 'arc', 'cubic']), from: point, to: point });
};
const edges = () => list(edge(), "a list of edges, as a panel's `outline`", 1);
const deviation = () => figure('m', { least: 1e-9 });

export const checkPattern = /* @__PURE__ */ guard(own.checkPattern, () => ({ bag: bag(), draft: draft() }));
export const draftPanels = /* @__PURE__ */ guard(own.draftPanels, () => ({ bag: bag() }));
export const edgeLength = /* @__PURE__ */ guard(own.edgeLength, () => ({ e: edge() }));
export const flatLayout = /* @__PURE__ */ guard(own.flatLayout, () => ({
  draft: draft(),
  width: maybe(figure('m', { over: 0 })),
  text: maybe(figure('times the usual', { over: 0 })),
}));
export const flatSvg = /* @__PURE__ */ guard(own.flatSvg, () => ({
  bag: bag(),
  draft: draft(),
  o: options({
    option: text('the name of an option'),
    width: figure('m', { over: 0 }),
    units: word(() => ['metric', 'inch']),
    layout: record('a layout as flatLayout() returns it'),
    text: figure('times the usual', { over: 0 }),
  }),
}));
export const flatten = /* @__PURE__ */ guard(own.flatten, () => ({ e: edge(), deviation: maybe(deviation()) }));
export const outlineArea = /* @__PURE__ */ guard(own.outlineArea, () => ({ edges: edges() }));
export const pointAt = /* @__PURE__ */ guard(own.pointAt, () => ({ e: edge(), fraction: figure('share', { least: 0, most: 1 }) }));
export const polygonOf = /* @__PURE__ */ guard(own.polygonOf, () => ({ edges: edges(), deviation: maybe(deviation()) }));
export const refuseUnsewable = /* @__PURE__ */ guard(own.refuseUnsewable, () => ({ bag: bag(), draft: draft() }));
export const sideLengths = /* @__PURE__ */ guard(own.sideLengths, () => ({
  bag: bag(),
  draft: draft(),
  panel: text('the name of a panel'),
  edges: list(text('the name of an edge'), 'a list of names of edges'),
}));
export const topologyFindings = /* @__PURE__ */ guard(own.topologyFindings, () => ({ bag: bag(), draft: draft() }));
