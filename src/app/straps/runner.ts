import { OneJob } from '../page/one-job.ts';
import type { Ask, Say } from './protocol.ts';

const isLast = (say: Say): boolean => say.kind === 'done' || say.kind === 'faults' || say.kind === 'failed';

/** The screen's one solver. */
export const strapsRunner = (): OneJob<Ask, Say> => new OneJob<Ask, Say>(() => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), isLast);
