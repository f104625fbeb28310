/** `slumpline/worker` where a browser asks: the same names over web workers. */

export { startWorkers } from '../workers/browser.ts';
export type { Workers, WorkersOptions } from '../workers/pool.ts';
