import { type BagDocument, type Path, withValue } from '../bag/index.ts';
import { readAt, record } from './edit-document.ts';

/** Words of formulas that no size may be called by. */
const WORDS = [
  'edge',
  'length',
  'min',
  'max',
  'abs',
  'sqrt',
  'sin',
  'cos',
  'tan',
  'pi',
  'mm',
  'cm',
  'm',
  'in',
  'ft',
  'yd',
  'deg',
  'rad',
  'oz',
  'lb',
  'kg',
  'g',
  'N',
];

/** A name for formulas from a label in words: "Mouth dip" is mouth_dip. */
function nameFrom(label: string, taken: readonly string[]): string {
  const plain = label
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^[\d_]+|_+$/g, '')
    .slice(0, 40);
  const stem = plain === '' || WORDS.includes(plain) ? `${plain}size` : plain;
  for (let i = 1; ; i++) {
    const name = i === 1 ? stem : `${stem}_${i}`;
    if (!taken.includes(name)) return name;
  }
}

/** A size that stands somewhere made a size of the bag, which others can be written with: its name, and its label in words. */
export function makeParameter(document: BagDocument, path: Path, label: string): { readonly document: BagDocument; readonly name: string } | null {
  const written = readAt(document, path);
  if (typeof written !== 'string' && typeof written !== 'number') return null;
  const name = nameFrom(label, Object.keys(record(document.value.parameters) ?? {}));
  const named = withValue(withValue(document, ['parameters', name], written), path, name);
  return { document: labelled(named, name, label), name };
}

/** A size of the bag with another label; an empty one takes it away. */
export function labelled(document: BagDocument, parameter: string, label: string): BagDocument {
  const words = label.trim();
  const out = withValue(document, ['labels', parameter], words === '' ? undefined : words);
  return Object.keys(record(out.value.labels) ?? {}).length === 0 ? withValue(out, ['labels'], undefined) : out;
}
