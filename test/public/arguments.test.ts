/** Every function of the library with wrong arguments, one at a time beside right ones: a fault with its place, or an answer without NaN; never another error, never for ever. */
import { beforeAll, describe, expect, it } from 'vitest';
import { BagError } from '../../src/public/checked/slumpline.ts';
import { entries, samples } from './samples.ts';

type Entry = Readonly<Record<string, unknown>>;
type Callable = (...given: unknown[]) => unknown;

/** What a program without types may hand over. */
const WRONG: readonly (readonly [string, unknown])[] = [
  ['nothing', undefined],
  ['null', null],
  ['NaN', Number.NaN],
  ['Infinity', Number.POSITIVE_INFINITY],
  ['-1', -1],
  ['0', 0],
  ['1e300', 1e300],
  ['an empty text', ''],
  ['a text', 'x'],
  ['true', true],
  ['{}', {}],
  ['[]', []],
  ['[null]', [null]],
  ['[{}]', [{}]],
  ['[NaN, NaN, NaN, NaN]', [Number.NaN, Number.NaN, Number.NaN, Number.NaN]],
  ['{ optionn: 1 }', { optionn: 1 }],
  ['a function', () => undefined],
];

/** Those that settle for seconds when nothing is wrong with what they are given: an answer is not waited for, they are asked what must be refused alone. */
const SETTLES = new Set([
  'choose',
  'findNeed',
  'previewAnchors',
  'previewChanges',
  'previewLoads',
  'previewNeed',
  'previewSingleChanges',
  'rankChanges',
  'singleChanges',
  'sweepAnchors',
  'sweepLoad',
  'preview',
  'previewSync',
  'prepare',
  'settle',
  'createFall',
  'finishedParts',
  'swatchTest',
  'drapedCloth',
]);

/** Those that samples.ts has called with the same, and those that are the same in turns: they settle many times. */
const MADE = new Set([
  'choose',
  'findNeed',
  'rankChanges',
  'sweepAnchors',
  'previewNeed',
  'previewChanges',
  'previewAnchors',
  'previewLoads',
  'previewSingleChanges',
]);

const functionsOf = (entry: Entry): [string, Callable][] =>
  Object.entries(entry).filter((pair): pair is [string, Callable] => typeof pair[1] === 'function' && !/^[A-Z]/.test(pair[0]));

let given: Awaited<ReturnType<typeof samples>>;
beforeAll(async () => {
  given = await samples();
}, 120_000);

/** A number that is none in an answer: itself, in a list, or in a text. */
const noNumber = (made: unknown): boolean =>
  (typeof made === 'number' && Number.isNaN(made)) ||
  (typeof made === 'string' && /\bNaN\b|\bundefined\b/.test(made)) ||
  (Array.isArray(made) && made.some((m) => typeof m === 'number' && Number.isNaN(m)));

async function answer(f: Callable, args: readonly unknown[]): Promise<{ readonly made?: unknown; readonly error?: unknown }> {
  try {
    return { made: await f(...args) };
  } catch (error) {
    return { error };
  }
}

/** What is wrong with what came of a call, or null. */
function wrong({ made, error }: { readonly made?: unknown; readonly error?: unknown }): string | null {
  if (error !== undefined) {
    if (!(error instanceof BagError)) return `${(error as Error)?.name}: ${(error as Error)?.message?.slice(0, 90)}`;
    return error.faults.length > 0 && error.faults.every((f) => typeof f.path === 'string' && f.got !== '' && f.expected !== '')
      ? null
      : 'a fault without its place, value or what was expected';
  }
  return noNumber(made) ? `an answer that is no number: ${String(made).slice(0, 60)}` : null;
}

describe.each(Object.entries(entries))('slumpline/%s', (name, entry) => {
  const all = functionsOf(entry as Entry);

  it('has right arguments here for every function, and each takes them', async () => {
    expect(Object.keys(given[name]!).sort()).toEqual(all.map(([f]) => f).sort());
    for (const [f, call] of all) {
      if (MADE.has(f)) continue;
      const came = await answer(call, given[name]![f]!);
      expect(came.error, f).toBeUndefined();
      expect(wrong(came), f).toBeNull();
    }
  });

  it.each(all)(
    '%s: each argument wrong in 17 ways, and left out',
    async (f, call) => {
      const right = given[name]![f]!,
        faults: string[] = [];
      for (let i = 0; i < right.length; i++)
        for (const [told, value] of WRONG) {
          const args = right.map((r, k) => (k === i ? value : r));
          // Options that may be left out, and numbers that are none of nonsense, are right: what settles then is not asked again here.
          if (SETTLES.has(f) && i > 0 && (value === undefined || told === '{}')) continue;
          const why = wrong(await answer(call, args));
          if (why !== null) faults.push(`argument ${i + 1} ${told}: ${why}`);
        }
      for (let k = 0; k < right.length && !SETTLES.has(f); k++) {
        const why = wrong(await answer(call, right.slice(0, k)));
        if (why !== null) faults.push(`${k} arguments: ${why}`);
      }
      expect(faults).toEqual([]);
    },
    60_000,
  );
});
