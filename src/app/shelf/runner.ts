import { OneJob } from '../page/one-job.ts';
import type { Ask, Say } from './protocol.ts';

/** The screen's one solver. */
export const shelfRunner = (): OneJob<Ask, Say> =>
  new OneJob<Ask, Say>(
    () => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }),
    (say) => say.kind === 'done' || say.kind === 'faults' || say.kind === 'failed',
  );
