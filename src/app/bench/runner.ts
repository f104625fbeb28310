import { OneJob } from '../page/one-job.ts';
import type { Ask, Say } from './protocol.ts';

const isLast = (say: Say): boolean =>
  say.kind === 'own' ||
  (say.kind === 'draped' && say.whole) ||
  say.kind === 'side' ||
  say.kind === 'faults' ||
  say.kind === 'failed' ||
  (say.kind === 'fall' && say.x === null);

/** One solver of the bench. */
export const benchRunner = (): OneJob<Ask, Say> => new OneJob<Ask, Say>(() => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), isLast);
