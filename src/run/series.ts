import { BagError } from '../bag/types.ts';
import type { Result } from '../report/types.ts';
import type { Executor, JobOptions, PreviewJob } from './jobs.ts';
import { shared } from './jobs.ts';
import { previewBag } from './preview.ts';
import { CannotWait, forward, partOf, type SeriesProgress, type Told } from './progress.ts';
import { allTogether, createStop, heed, type StopSignal } from './stop.ts';

/** What became of a preview: its result, or the faults for which this bag could not be settled so. */
type Answer = Result | BagError;

/** One preview of a series. */
export interface Step {
  /** In words, for who is told where the work is: "80 mm, 2 of 4". */ readonly run: string;
  readonly job: PreviewJob;
  /** Takes the answer down. false: the rest of its chain need not be asked. */ readonly answered: (answer: Answer) => boolean;
}

/**
 * Previews of variations of one bag. Chains do not depend on one another and may be run in any order or at once; the steps of a chain follow one another. `result` is asked
 * for when every chain is done, and does not hang on the order in which they were.
 */
export interface Series<T> {
  readonly chains: readonly (readonly Step[])[];
  readonly result: () => T;
}

/** Where and how a series is run. */
export interface SeriesRun {
  /** Stops it: an AbortSignal. */ readonly signal?: StopSignal;
  /** Runs the previews elsewhere, several at once: see `slumpline/worker`. Default: here, one after another, with a turn for others after each step. */ readonly executor?: Executor;
}

const lengths = (series: Series<unknown>): number => series.chains.reduce((sum, c) => sum + c.length, 0);

/** A fault of this variation is an answer; a fault of how it was asked is not. */
function answerOf(error: unknown): Answer {
  if (error instanceof BagError && !(error instanceof CannotWait)) return error;
  throw error;
}

/** A series at one go, in order. Throws Cancelled. */
export function runSeries<T>(series: Series<T>, onProgress: Told<SeriesProgress> | undefined): T {
  const count = lengths(series);
  let at = 0;
  let begun = 0;
  for (const chain of series.chains) {
    at = begun;
    begun += chain.length;
    for (const { run, job, answered } of chain) {
      let answer: Answer;
      try {
        answer = previewBag(job.bag, { ...job.options, onProgress: partOf(onProgress, run, at++, count) });
      } catch (error) {
        answer = answerOf(error);
      }
      if (!answered(answer)) break;
    }
  }
  return series.result();
}

/** The same with each preview run by `run`, chains beside one another as far as there are `lanes`. Rejects as preview() does. */
export async function runSeriesWith<T>(
  series: Series<T>,
  run: Executor,
  { signal, onProgress, lanes }: { readonly signal?: StopSignal; readonly onProgress?: Told<SeriesProgress>; readonly lanes?: number },
): Promise<T> {
  heed(signal);
  const stop = createStop(signal);
  let answered: unknown;
  const forwards = forward<SeriesProgress>((at) => {
    answered = onProgress?.(at);
    return undefined;
  });
  const { tell, finish } = shared<SeriesProgress>(
    series.chains.map((c) => c.length),
    (at) => {
      forwards(at);
      return answered;
    },
    stop,
  );
  try {
    await allTogether(
      series.chains.map((chain, c) => async () => {
        for (const [k, step] of chain.entries()) {
          const watch = {
            signal: stop.signal,
            onProgress: ({ stage, fraction, positions }: { stage: string; fraction: number; positions: Float64Array }) =>
              tell(c, { run: step.run, stage, fraction: (k + fraction) / chain.length, positions }),
          };
          const answer = await run(step.job, watch).catch(answerOf);
          if (!step.answered(answer)) break;
        }
        finish(c);
      }),
      stop,
      lanes,
    );
  } finally {
    stop.release();
  }
  return series.result();
}

/** Plain options of a preview that a series asks for: the middle of the band, no nudge. */
export const quickLook = (option: string, stance: string, edgeLength: number): JobOptions => ({ option, stance, bands: ['mid'], edgeLength, skipNudge: true });
