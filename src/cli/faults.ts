import type { Fault } from '../index.ts';
import { EXIT, Failure } from './io.ts';

export { nearestWord as nearest } from '../index.ts';

/** All faults of one file: where, what stands there, what was expected. */
export function faultFailure(file: string, faults: readonly Fault[]): Failure {
  const count = faults.length === 1 ? '1 fault' : `${faults.length} faults`;
  const lines = faults.flatMap((f) => [`  ${f.path === '' ? '(file)' : f.path}`, `    got       ${f.got}`, `    expected  ${f.expected}`]);
  return new Failure(`${[`${file}: ${count}; nothing was written`, ...lines].join('\n')}\n`, EXIT.input);
}
