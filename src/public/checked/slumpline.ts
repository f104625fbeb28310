/** `slumpline` as programs import it: the names of ../slumpline.ts; what those functions take is looked at first (check.ts). */
import * as own from '../slumpline.ts';
import { any, guard, guardLater, like, maybe, text } from './check.ts';
import { bag, record, result, style } from './shapes.ts';

export * from '../slumpline.ts';

export const findNeed = /* @__PURE__ */ guard(own.findNeed, () => ({ bag: bag(), o: maybe(record('options')) }));
export const previewAnchors = /* @__PURE__ */ guardLater(own.previewAnchors, () => ({
  spec: any,
  o: like('{ strap, ... }', { strap: text('the name of a strap') }),
}));
export const rankChanges = /* @__PURE__ */ guard(own.rankChanges, () => ({ bag: bag(), o: maybe(record('options')) }));
export const singleChanges = /* @__PURE__ */ guard(own.singleChanges, () => ({ bag: bag(), o: like('{ strap, distance, ... }', {}) }));
export const sweepAnchors = /* @__PURE__ */ guard(own.sweepAnchors, () => ({ bag: bag(), o: like('{ strap, ... }', { strap: text('the name of a strap') }) }));
export const sweepLoad = /* @__PURE__ */ guard(own.sweepLoad, () => ({ bag: bag(), o: like('{ strap, ... }', {}) }));
export const textReport = /* @__PURE__ */ guard(own.textReport, () => ({ result: result(), style: maybe(style()) }));
export const usualDistances = /* @__PURE__ */ guard(own.usualDistances, () => ({ bag: bag(), name: text('the name of a strap') }));
export const preview = /* @__PURE__ */ guardLater(own.preview, () => ({ spec: any, o: maybe(record('options')) }));
export const previewSync = /* @__PURE__ */ guard(own.previewSync, () => ({ spec: any, o: maybe(record('options')) }));
export const previewChanges = /* @__PURE__ */ guardLater(own.previewChanges, () => ({ spec: any, o: maybe(record('options')) }));
export const previewNeed = /* @__PURE__ */ guardLater(own.previewNeed, () => ({ spec: any, o: maybe(record('options')) }));
export const previewLoads = /* @__PURE__ */ guardLater(own.previewLoads, () => ({ spec: any, o: record('options') }));
export const previewSingleChanges = /* @__PURE__ */ guardLater(own.previewSingleChanges, () => ({ spec: any, o: record('options') }));
