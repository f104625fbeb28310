import { BagError, type SeriesProgress, sweepAnchors, sweepLoad } from '../../index.ts';
import type { Ask, Say } from './protocol.ts';

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

/** Loads of the second sweep. */
const LOADS = 4;
/** Words of progress are sent this often, ms: more would only fill the page's queue. */
const BEAT = 150;

self.onmessage = (event: MessageEvent<Ask>): void => {
  const { job, bag, strap, option, stance, from, to, steps, load, edgeLength } = event.data;
  const tell = (words: Words): void => self.postMessage({ job, ...words });
  const share = load > 0 ? (steps + 1) / (steps + 1 + LOADS) : 1;
  let told = 0;
  const part =
    (begin: number, length: number) =>
    ({ run, stage, fraction }: SeriesProgress): void => {
      if (performance.now() - told < BEAT) return;
      told = performance.now();
      tell({ kind: 'stage', words: `${run}: ${stage}`, fraction: begin + length * fraction });
    };
  try {
    const common = { strap, option, ...(stance === null ? {} : { stance }), edgeLength, pictures: true };
    const anchors = sweepAnchors(bag, { ...common, from, to, steps, load, onProgress: part(0, share) });
    const loads = load > 0 ? sweepLoad(bag, { ...common, from: 0, to: load, steps: LOADS, onProgress: part(share, 1 - share) }) : null;
    tell({ kind: 'done', anchors, load: loads });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
