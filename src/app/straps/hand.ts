import { BagError, type Band, type Fault, type PreviewJob, previewBag, type Result } from '../../index.ts';

/** One hanging for one of several workers, so that all cores are used. */
export interface HandAsk {
  readonly id: number;
  readonly job: PreviewJob;
}

export type HandSay =
  | { readonly id: number; readonly kind: 'at'; readonly band: Band; readonly stage: string; readonly fraction: number }
  | { readonly id: number; readonly kind: 'done'; readonly result: Result }
  | { readonly id: number; readonly kind: 'faults'; readonly faults: readonly Fault[] }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };

/** Words of progress are sent this often, ms. */
const BEAT = 150;

self.onmessage = ({ data: { id, job } }: MessageEvent<HandAsk>): void => {
  const say = (words: HandSay): void => self.postMessage(words);
  let told = 0;
  try {
    const result = previewBag(job.bag, {
      ...job.options,
      onProgress: ({ band, stage, fraction }) => {
        if (performance.now() - told < BEAT) return;
        told = performance.now();
        say({ id, kind: 'at', band, stage, fraction });
      },
    });
    say({ id, kind: 'done', result });
  } catch (error) {
    if (error instanceof BagError) say({ id, kind: 'faults', faults: error.faults });
    else say({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
