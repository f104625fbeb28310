import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { createPool, type Workers, type WorkersOptions } from './pool.ts';
import type { OpenThread, Say } from './protocol.ts';

/** A worker thread of Node. Idle ones do not keep the program alive. */
const open: OpenThread = (heard, died) => {
  // Flags of the program itself, such as the kind of a script given by --eval, are no business of its threads.
  const worker = new Worker(new URL('./node-thread.js', import.meta.url), { execArgv: [] });
  worker.unref();
  worker.on('message', (say: Say) => heard(say));
  worker.on('error', (error) => died(error instanceof Error ? error : new Error(String(error))));
  worker.on('exit', (code) => died(new Error(`a worker thread ended by itself, exit code ${code}`)));
  return {
    post: (ask) => worker.postMessage(ask),
    end: () => void worker.terminate(),
    hold: (on) => (on ? worker.ref() : worker.unref()),
  };
};

/**
 * Threads that run previews beside your program, several at once. They start when they are needed and stay for the next job. Same bytes as previewSync(), whatever their
 * number. Throws BagError for a count that is none.
 */
export const startWorkers = (o: WorkersOptions = {}): Workers => createPool(open, availableParallelism(), o);
