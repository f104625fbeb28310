import { BagError, openResults } from '../../index.ts';
import type { Reopened } from './reopen.ts';

/** Reads results back, apart from the page: meshing the bag and fitting a megabyte of places to it takes longer than a page may stand still. */
self.onmessage = ({ data }: MessageEvent<string>): void => {
  const tell = (say: Reopened): void => self.postMessage(say);
  try {
    const { bagText, results, settledBy } = openResults(data);
    tell({ bagText, results, settledBy });
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    tell({ faults: error.faults });
  }
};
