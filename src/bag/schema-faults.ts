/** What the schema objects to, in the words of a bag maker. */
import type { z } from 'zod';
import { at, type FaultList, shown } from './faults.ts';
import { SHAPES } from './schema-panels.ts';

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

/**
 * Adds every issue of a failed parse to `faults` and returns where they lie in the piece.
 * Parameters: path of the piece in the file; the piece as written; zod's issues. Mutates faults.
 */
function schemaFaults(faults: FaultList, base: string, input: unknown, issues: readonly Issue[]): PropertyKey[][] {
  const places: PropertyKey[][] = [];
  const walk = (issue: Issue, prefix: readonly PropertyKey[]): void => {
    const path = [...prefix, ...issue.path];
    const where = path.reduce<string>((p, key) => at(p, typeof key === 'number' ? key : String(key)), base);
    const value = valueAt(input, path);
    if (issue.code === 'unrecognized_keys') {
      const texts = issue.message.split('\n');
      issue.keys.forEach((key, i) => {
        places.push([...path, key]);
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
    places.push(path);
    faults.add(where, value, expectation(issue));
  };
  for (const issue of issues) walk(issue, []);
  return places;
}

/** A copy of JSON-like data without the values at the given places. List items stay: taking one out would renumber the others. */
function without(input: unknown, places: readonly (readonly PropertyKey[])[]): unknown {
  if (input === null || typeof input !== 'object') return input;
  if (Array.isArray(input)) {
    return input.map((v, i) =>
      without(
        v,
        places.filter((p) => p[0] === i && p.length > 1).map((p) => p.slice(1)),
      ),
    );
  }
  return Object.fromEntries(
    Object.entries(input)
      .filter(([key]) => !places.some((p) => p.length === 1 && p[0] === key))
      .map(([key, v]) => [
        key,
        without(
          v,
          places.filter((p) => p[0] === key && p.length > 1).map((p) => p.slice(1)),
        ),
      ]),
  );
}

/** Entries without which the rest of a piece would be blamed for lacking them ("a panel without a shape"). */
const STRUCTURE: ReadonlySet<PropertyKey> = new Set([
  ...SHAPES,
  'above',
  'below',
  'inside',
  'material',
  'loose',
  'fused',
  'bonded',
  'edge',
  'point',
  'like',
  'bending',
  'overhang',
]);

/**
 * One piece of the file checked against its schema: the piece, or null after its faults. Where only entries that may be left out are at fault, the rest
 * of the piece is returned, so that its names and geometry are looked at in the same run.
 */
export function validated<S extends z.ZodType>(faults: FaultList, path: string, input: unknown, schema: S): z.infer<S> | null {
  const parsed = schema.safeParse(input);
  if (parsed.success) return parsed.data;
  const places = schemaFaults(faults, path, input, parsed.error.issues);
  if (places.some((p) => p.length > 0 && STRUCTURE.has(p[p.length - 1]))) return null;
  const rest = schema.safeParse(without(input, places));
  return rest.success ? rest.data : null;
}
