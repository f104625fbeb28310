import { createPool, type Workers, type WorkersOptions } from './pool.ts';
import type { OpenThread, Say } from './protocol.ts';

/** A module worker of a browser. */
const open: OpenThread = (heard, died) => {
  // Written so that a bundler finds it. Its file needs no other: it also runs where there is no bundler.
  const worker = new Worker(new URL('./browser-thread.js', import.meta.url), { type: 'module' });
  worker.onmessage = (event: { readonly data: Say }) => heard(event.data);
  worker.onerror = (event: { readonly message?: string }) => died(new Error(event.message || 'the worker could not be started'));
  return { post: (ask) => worker.postMessage(ask), end: () => worker.terminate(), hold: () => {} };
};

/** As node.ts has it, with web workers. */
export const startWorkers = (o: WorkersOptions = {}): Workers => createPool(open, navigator.hardwareConcurrency || 2, o);
