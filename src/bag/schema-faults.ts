/** What the schema objects to, in the words of a bag maker. */
import type { z } from 'zod';
import { at, type FaultList, shown } from './faults.ts';

type Issue = z.core.$ZodIssue;

const TYPES: Readonly<Record<string, string>> = {
  string: 'text in quotes',
  number: 'a number',
  array: 'a list',
  tuple: 'a list',
  object: 'an object {...}',
  record: 'an object {...}',
  boolean: 'true or false',
};

function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value = input;
  for (const key of path) {
    if (value === null || typeof value !== 'object') return undefined;
    value = Object.hasOwn(value, key) ? (value as Record<PropertyKey, unknown>)[key] : undefined;
  }
  return value;
}

/** A union branch that failed at its very type says nothing; the one branch of the right type holds the real fault. */
const shallow = (issues: readonly Issue[]): boolean =>
  issues.every((i) => i.path.length === 0 && (i.code === 'invalid_type' || (i.code === 'invalid_union' && i.errors.every(shallow))));

function expectation(issue: Issue): string {
  if (issue.code === 'invalid_type' && issue.message.startsWith('Invalid')) return TYPES[issue.expected] ?? issue.expected;
  return issue.message;
}

/** Adds every issue of a failed parse to `faults`. Parameters: path of the piece in the file; the piece as written; zod's issues. Mutates faults. */
export function schemaFaults(faults: FaultList, base: string, input: unknown, issues: readonly Issue[]): void {
  const walk = (issue: Issue, prefix: readonly PropertyKey[]): void => {
    const path = [...prefix, ...issue.path];
    const where = path.reduce<string>((p, key) => at(p, typeof key === 'number' ? key : String(key)), base);
    const value = valueAt(input, path);
    if (issue.code === 'unrecognized_keys') {
      const texts = issue.message.split('\n');
      issue.keys.forEach((key, i) => {
        faults.addText(at(where, key), `an unknown entry with ${shown(valueAt(input, [...path, key]))}`, texts[i]);
      });
      return;
    }
    if (issue.code === 'invalid_union') {
      const deep = issue.errors.filter((branch) => !shallow(branch));
      if (deep.length === 1 && value !== undefined) {
        for (const inner of deep[0]) walk(inner, path);
        return;
      }
    }
    faults.add(where, value, expectation(issue));
  };
  for (const issue of issues) walk(issue, []);
}
