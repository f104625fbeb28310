/** A file's text, or what a program has already parsed, as plain data. */
import { at, type FaultList } from './faults.ts';
import { readJson } from './json.ts';
import { LIMITS } from './words.ts';

export type Plain = Readonly<Record<string, unknown>>;

export const isPlain = (v: unknown): v is Plain => v !== null && typeof v === 'object' && !Array.isArray(v);

/**
 * The parsed JSON of a text, or the object itself. Throws BagError, with every fault so far, for what cannot be looked at any further: too long, no JSON, keys that
 * come twice, no object. Parameters: text or data; where faults are told; how such a file begins, for the words.
 */
export function plainSource(source: unknown, faults: FaultList, begins: string): Plain {
  let value = source;
  if (typeof source === 'string') {
    if (source.length > LIMITS.bytes) faults.addText('file', `a file of ${source.length} characters`, `at most ${LIMITS.bytes}`);
    faults.stop();
    const read = readJson(source);
    if (!read.ok) faults.addText(`line ${read.fault.line}, column ${read.fault.column}`, read.fault.got, read.fault.expected);
    faults.stop();
    if (read.ok) {
      value = read.value;
      for (const r of read.repeated)
        faults.addText(
          r.path.reduce<string>((p, k) => at(p, k), ''),
          `the same key again in line ${r.line}`,
          'each key once',
        );
    }
  }
  if (!isPlain(value)) faults.add('file', value, `an object ${begins}`);
  faults.stop();
  return value as Plain;
}
