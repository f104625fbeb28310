import { z } from 'zod';
import { at, FaultList, nearestWord } from '../bag/index.ts';
import { BagError } from '../bag/types.ts';
import { BATCH_FORMAT, RESULT_FORMAT, RESULT_VERSION } from './json.ts';
import { BatchFile, ResultsFile } from './result-schema.ts';
import type { BatchRecord, ResultsRecord } from './results-record.ts';

/** JSON schema (draft 2020-12) of a results file, for editors and other programs. */
export const resultsJsonSchema = (): object => z.toJSONSchema(ResultsFile, { unrepresentable: 'any' });

/** The same of what `settle A B --json` prints. */
export const batchJsonSchema = (): object => z.toJSONSchema(BatchFile, { unrepresentable: 'any' });

/**
 * A results file's text as a record. Throws BagError with every fault: no JSON, another kind of file, or results of another version of the shape, which
 * are named with the program that wrote them and never read as something they are not.
 */
export const readResults = (text: string): ResultsRecord => read(text, RESULT_FORMAT, 'a result.json of this program', ResultsFile);

/** The same of what `settle A B --json` prints. */
export const readBatch = (text: string): BatchRecord => read(text, BATCH_FORMAT, 'what settle prints for several bag files with --json', BatchFile);

function read<T>(text: string, format: string, kind: string, schema: z.ZodType<T>): T {
  let value: unknown;
  if (typeof text !== 'string') throw new BagError([{ path: '', got: JSON.stringify(text) ?? String(text), expected: `the text of ${kind}` }]);
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new BagError([{ path: '', got: (error as Error).message, expected: `the text of ${kind} (JSON)` }]);
  }
  const head = (typeof value === 'object' && value !== null ? value : {}) as Partial<Record<string, unknown>>;
  if (head.format !== format) throw new BagError([{ path: 'format', got: JSON.stringify(head.format) ?? 'nothing', expected: `"${format}": ${kind}` }]);
  if (head.formatVersion !== RESULT_VERSION) {
    const by = (head.program as { readonly version?: unknown } | undefined)?.version;
    throw new BagError([
      {
        path: 'formatVersion',
        got: `${JSON.stringify(head.formatVersion) ?? 'nothing'}${by === undefined ? '' : `, written by version ${String(by)}`}`,
        expected: `${RESULT_VERSION}, as this version writes it`,
      },
    ]);
  }
  const made = schema.safeParse(value);
  // As written, so that its keys keep their order: the schema changes no value.
  if (made.success) return value as T;
  const faults = new FaultList();
  for (const issue of made.error.issues) tell(faults, value, issue, []);
  faults.stop();
  throw new BagError([{ path: '', got: 'something else', expected: `the text of ${kind}` }]);
}

type Issue = z.core.$ZodIssue;

const TYPES: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  null: 'null',
  array: 'a list',
  tuple: 'a list of 3 numbers',
  object: 'an object',
  record: 'an object',
};

/** One issue as faults in words of our own, with what stands there. */
function tell(faults: FaultList, root: unknown, issue: Issue, above: readonly PropertyKey[]): void {
  const path = [...above, ...issue.path],
    where = path.reduce<string>((p, key) => at(p, typeof key === 'number' ? key : String(key)), '');
  const value = path.reduce<unknown>((v, key) => (typeof v === 'object' && v !== null ? (v as Record<PropertyKey, unknown>)[key] : undefined), root);
  if (issue.code === 'unrecognized_keys') {
    const known = Object.keys(ResultsFile.shape);
    for (const key of issue.keys) {
      const guess = nearestWord(key, known);
      faults.addText(at(where, key), 'an unknown entry', guess === null ? 'no entry of that name' : `no entry of that name (did you mean "${guess}"?)`);
    }
    return;
  }
  faults.add(where, value, expected(issue));
}

function expected(issue: Issue): string {
  if (issue.code === 'invalid_type') return TYPES[issue.expected] ?? 'another kind of value';
  if (issue.code === 'invalid_value') return `one of ${issue.values.map((v) => JSON.stringify(v)).join(', ')}`;
  if (issue.code === 'invalid_union') return [...new Set(issue.errors.flat().map(expected))].join(' or ');
  if (issue.code === 'too_small') return `at least ${issue.minimum}${issue.origin === 'array' ? ' entries' : ''}`;
  if (issue.code === 'too_big') return issue.origin === 'int' ? 'a whole number' : `at most ${issue.maximum}${issue.origin === 'array' ? ' entries' : ''}`;
  return 'a value as this program writes it';
}
