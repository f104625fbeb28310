/** `slumpline/worker`: previews in threads beside your own program, in Node and in browsers: progress, AbortSignal, as many at once as there are cores. */

export { startWorkers } from '../workers/node.ts';
export type { Workers, WorkersOptions } from '../workers/pool.ts';
