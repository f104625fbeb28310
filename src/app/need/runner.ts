import { OneJob } from '../page/one-job.ts';
import type { Ask, Say } from './protocol.ts';

/** The one solver that looks for what a bag would need. */
export const needRunner = (): OneJob<Ask, Say> =>
  new OneJob<Ask, Say>(
    () => new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }),
    (say) => say.kind !== 'stage',
  );
