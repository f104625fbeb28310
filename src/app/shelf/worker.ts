import { BagError, chooseAmong, parseShelfDocument, prepareShelf, type SeriesProgress, writtenChoice } from '../../index.ts';
import { Hands } from '../straps/hands.ts';
import type { Ask, Say } from './protocol.ts';

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

/** Progress is sent this often, ms: more would only fill the page's queue. */
const BEAT = 150;

const { executor } = new Hands();

/** Chooses, on all cores, and writes every settled stack as an option. It is stopped by ending the worker: what is settled was handed over as it came. */
self.onmessage = async ({ data: { job, bag, shelf: source, options, known } }: MessageEvent<Ask>): Promise<void> => {
  const tell = (words: Words): void => self.postMessage({ job, ...words });
  let told = 0;
  const onProgress = ({ run, stage, fraction }: SeriesProgress): void => {
    if (performance.now() - told < BEAT) return;
    told = performance.now();
    tell({ kind: 'stage', run, stack: stage.split(', ')[0]!, fraction });
  };
  try {
    const { document, shelf } = parseShelfDocument(source);
    const prepared = await prepareShelf(bag, shelf, options);
    tell({ kind: 'ready', stacks: prepared.all.length });
    const report = await chooseAmong(bag, shelf, prepared, {
      ...options,
      known,
      onProgress,
      onSettled: (kept) => tell({ kind: 'kept', kept }),
      ...(executor ? { executor } : {}),
    });
    const places = [...report.settled, ...(report.nearest ? [report.nearest.stack] : [])].map((s) => s.place);
    tell({
      kind: 'done',
      report,
      chosen: [...new Set(places)].map((place) => [place, writtenChoice(bag, prepared.all[place - 1]!.bag, document)] as const),
    });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
