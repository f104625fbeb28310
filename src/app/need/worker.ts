import { BagError, type NeedProgress, previewNeed } from '../../index.ts';
import { Hands } from '../straps/hands.ts';
import type { Ask, Say } from './protocol.ts';

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

/** Progress is sent this often, ms: more would only fill the page's queue. */
const BEAT = 150;

const { executor, lanes } = new Hands();

/** Looks for what is needed, on all cores: it is stopped by ending the worker, and its hands end with it. */
self.onmessage = async ({ data: { job, bag, options } }: MessageEvent<Ask>): Promise<void> => {
  const tell = (words: Words): void => self.postMessage({ job, ...words });
  let told = 0;
  const onProgress = ({ factor, band, alone, finer, fraction }: NeedProgress): void => {
    if (performance.now() - told < BEAT) return;
    told = performance.now();
    tell({ kind: 'stage', at: { factor, band, alone, finer, fraction } });
  };
  try {
    tell({ kind: 'need', report: await previewNeed(bag, { ...options, onProgress, lanes, ...(executor ? { executor } : {}) }) });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
