/** `slumpline/bag` as programs import it: the names of ../bag.ts; what those functions take is looked at first (check.ts). */
import * as own from '../bag.ts';
import { any, figure, guard, type Kind, like, list, maybe, text, word } from './check.ts';
import { bag, record, strap } from './shapes.ts';

export * from '../bag.ts';

const document = () => like('a document as parseBagDocument() returns it', { value: record('the file as JSON') });
/** Names one after another. */
const words = (): Kind => (v, path) =>
  typeof v === 'object' && v !== null && Symbol.iterator in v && [...(v as Iterable<unknown>)].every((w) => typeof w === 'string')
    ? []
    : [{ path, got: typeof v, expected: 'names: a list, a set' }];
const path = (): Kind => {
  const what = "a path of keys and list positions, such as ['parameters', 'W']";
  return list(
    (v, at) =>
      typeof v === 'string' || (typeof v === 'number' && Number.isInteger(v) && v >= 0 && v < 1e5) ? [] : [{ path: at, got: String(v), expected: what }],
    what,
  );
};

export const anchorPlace = /* @__PURE__ */ guard(own.anchorPlace, () => ({ bag: bag(), strap: strap(), end: figure('', { least: 0, most: 1, whole: true }) }));
export const anchorRange = /* @__PURE__ */ guard(own.anchorRange, () => ({ bag: bag(), strap: strap() }));
export const nearestWord = /* @__PURE__ */ guard(own.nearestWord, () => ({ word: text(), known: words() }));
export const newBag = /* @__PURE__ */ guard(own.newBag, () => ({
  name: text('the name of a template'),
  overrides: maybe(record('an object: parameter -> figure with its unit')),
}));
export const printBag = /* @__PURE__ */ guard(own.printBag, () => ({ document: document() }));
export const strapFamily = /* @__PURE__ */ guard(own.strapFamily, () => ({ bag: bag(), name: text('the name of a strap') }));
export const strapNames = /* @__PURE__ */ guard(own.strapNames, () => ({ bag: bag() }));
export const withAnchorsAt = /* @__PURE__ */ guard(own.withAnchorsAt, () => ({
  bag: bag(),
  name: text('the name of a strap'),
  distance: figure('m', { over: 0 }),
}));
/** Only a parameter that the file has can be written anew: a misspelt one would settle the bag as it was. */
const knownParameter: typeof own.withParameter = (document, name, text) => {
  const known = Object.keys(document.value.parameters ?? {});
  if (known.includes(name)) return own.withParameter(document, name, text);
  const near = own.nearestWord(name, known);
  throw new own.BagError([
    {
      path: 'name',
      got: JSON.stringify(name),
      expected: `a parameter of the file: ${known.join(', ') || 'it has none'}${near === null ? '' : `; did you mean "${near}"?`}`,
    },
  ]);
};
export const withParameter = /* @__PURE__ */ guard(knownParameter, () => ({
  document: document(),
  name: text('the name of a parameter'),
  text: text('a figure with its unit, or a formula'),
}));
export const withSize = /* @__PURE__ */ guard(own.withSize, () => ({ document: document(), path: path(), value: figure('m'), unit: word(() => ['mm', 'in']) }));
export const withValue = /* @__PURE__ */ guard(own.withValue, () => ({ document: document(), path: path(), value: any }));
