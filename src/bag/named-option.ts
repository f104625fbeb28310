import { nearestWord } from './nearest-word.ts';
import { type Bag, BagError, type BagOption } from './types.ts';

/** The option of that name, the first without a name. Errors: BagError that names what there is. */
export function optionNamed(bag: Bag, name?: string): BagOption {
  const names = bag.options.map((o) => o.name);
  const found = name === undefined ? bag.options[0] : bag.options.find((o) => o.name === name);
  if (found) return found;
  const near = typeof name === 'string' ? nearestWord(name, names) : null;
  const hint = near === null ? '' : `; did you mean "${near}"?`;
  throw new BagError([{ path: 'options', got: JSON.stringify(name) ?? String(name), expected: `one of ${names.map((n) => `"${n}"`).join(', ')}${hint}` }]);
}
