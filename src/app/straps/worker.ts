import { BagError, previewAnchors, previewLoads, previewSingleChanges, recommend, type SeriesProgress } from '../../index.ts';
import { Hands } from './hands.ts';
import type { Ask, Say } from './protocol.ts';

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

/** Loads of the second sweep. */
const LOADS = 4;
/** Words of progress are sent this often, ms: more would only fill the page's queue. */
const BEAT = 150;

const { executor } = new Hands();

/** Tells each distance as it is hung; then, where it hangs level nowhere, single changes; then, apart, loads. */
self.onmessage = async (event: MessageEvent<Ask>): Promise<void> => {
  const { job, bag, strap, option, stance, from, to, steps, load, edgeLength } = event.data;
  const tell = (words: Words): void => self.postMessage({ job, ...words });
  let told = 0;
  const onProgress =
    (lead: string) =>
    ({ run, stage, fraction }: SeriesProgress): void => {
      if (performance.now() - told < BEAT) return;
      told = performance.now();
      tell({ kind: 'stage', words: `${lead}${run}: ${stage}`, fraction });
    };
  try {
    const common = { strap, option, stance, edgeLength, pictures: true, executor };
    const anchors = await previewAnchors(bag, {
      ...common,
      from,
      to,
      steps,
      load,
      onProgress: onProgress('anchors '),
      onStep: (soFar) => tell({ kind: 'anchors', anchors: soFar, whole: soFar.steps.length === steps }),
    });
    // What the bag does not hold it holds after no change either.
    const holds = !anchors.drawn.step.faults?.some((f) => f.path.includes('.contents'));
    // Where nothing comes to rest, a longer strap or a hem would be hung in vain as well.
    const tried = [anchors.drawn.step, ...anchors.steps].some((s) => s.status === 'settled' || s.status === 'refused');
    if (holds && tried && recommend(anchors).index === null)
      tell({ kind: 'changes', changes: await previewSingleChanges(bag, { ...common, pictures: false, load, onProgress: onProgress('single change: ') }) });
    if (load > 0 && holds)
      await previewLoads(bag, {
        ...common,
        pictures: false,
        from: 0,
        to: load,
        steps: LOADS,
        onProgress: onProgress('load '),
        onStep: (soFar) => tell({ kind: 'load', load: soFar }),
      });
    tell({ kind: 'done' });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
