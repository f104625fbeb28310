import { BagError, findNeed, type NeedProgress } from '../../index.ts';
import type { Ask, Say } from './protocol.ts';

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

/** Progress is sent this often, ms: more would only fill the page's queue. */
const BEAT = 150;

/** Looks for what is needed at one go, without pausing: it is stopped by ending the worker. */
self.onmessage = ({ data: { job, bag, options } }: MessageEvent<Ask>): void => {
  const tell = (words: Words): void => self.postMessage({ job, ...words });
  let told = 0;
  const onProgress = ({ factor, band, alone, finer, fraction }: NeedProgress): void => {
    if (performance.now() - told < BEAT) return;
    told = performance.now();
    tell({ kind: 'stage', at: { factor, band, alone, finer, fraction } });
  };
  try {
    tell({ kind: 'need', report: findNeed(bag, { ...options, onProgress }) });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
