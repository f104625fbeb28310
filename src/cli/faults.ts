import type { Fault } from '../index.ts';
import type { Core } from './core.ts';
import { EXIT, Failure, named } from './io.ts';

/** All faults of one file: where, what stands there, what was expected. */
export function faultFailure(file: string, faults: readonly Fault[]): Failure {
  const count = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  const lines = faults.flatMap((f) => [`  ${f.path === '' ? '(file)' : f.path}`, `    got       ${f.got}`, `    expected  ${f.expected}`]);
  return new Failure(`${[`${named(file)}: ${count}; nothing was written`, ...lines].join('\n')}\n`, EXIT.input);
}

/** What `run` gives; faults that the core finds in a file's contents become a Failure that lists them all. */
export function guarded<T>(core: Core, file: string, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (error instanceof core.BagError) throw faultFailure(file, error.faults);
    throw error;
  }
}

/** The same of work that takes its time. */
export async function guardedRun<T>(core: Core, file: string, run: () => Promise<T>): Promise<T> {
  try {
    return await run();
  } catch (error) {
    if (error instanceof core.BagError) throw faultFailure(file, error.faults);
    throw error;
  }
}

/** The known name nearest to a mistyped one, or null when nothing is near: edit distance up to a third of its length, or a shared beginning. */
export function nearest(name: string, known: readonly string[]): string | null {
  const wanted = name.toLowerCase();
  let best: string | null = null;
  let least = Math.max(2, Math.floor(wanted.length / 3)) + 0.5;
  for (const candidate of known) {
    const c = candidate.toLowerCase();
    // A name begun or contained is nearer than any typing slip.
    const d = wanted.length >= 3 && (c.startsWith(wanted) || c.includes(wanted)) ? 0.5 : editDistance(wanted, c);
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

/** Letters to insert, drop or change, or neighbours to swap, to turn a into b. Source: Damerau 1964, Levenshtein 1966 (from memory). */
export function editDistance(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) => [i, ...new Array<number>(b.length).fill(0)]);
  for (let j = 0; j <= b.length; j++) rows[0][j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      rows[i][j] = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) rows[i][j] = Math.min(rows[i][j], rows[i - 2][j - 2] + 1);
    }
  }
  return rows[a.length][b.length];
}
