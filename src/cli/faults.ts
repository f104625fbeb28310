import type { Fault } from '../index.ts';
import type { Core } from './core.ts';
import { EXIT, Failure, named } from './io.ts';

export { nearestWord as nearest } from '../index.ts';

/** All faults of one file: where, what stands there, what was expected. */
export function faultFailure(file: string, faults: readonly Fault[]): Failure {
  const count = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  const lines = faults.flatMap((f) => [`  ${f.path === '' ? '(file)' : f.path}`, `    got       ${f.got}`, `    expected  ${f.expected}`]);
  return new Failure(`${[`${named(file)}: ${count}; nothing was written`, ...lines].join('\n')}\n`, EXIT.input);
}

/** What `run` gives, or promises; faults that the core finds in a file's contents become a Failure that lists them all. */
export function guarded<T>(core: Core, file: string, run: () => T): T {
  const told = (error: unknown): never => {
    if (error instanceof core.BagError) throw faultFailure(file, error.faults);
    throw error;
  };
  try {
    const made = run();
    return made instanceof Promise ? (made.catch(told) as T) : made;
  } catch (error) {
    return told(error);
  }
}

/** Both, or one Failure with what is wrong with either. */
export function both<A, B>(first: () => A, second: () => B): [A, B] {
  const failed: Failure[] = [];
  const made = [first, second].map((read) => {
    try {
      return read();
    } catch (error) {
      if (!(error instanceof Failure)) throw error;
      failed.push(error);
      return null;
    }
  });
  if (failed.length > 0) throw new Failure(failed.map((f) => f.message).join(''), EXIT.input);
  return made as [A, B];
}
