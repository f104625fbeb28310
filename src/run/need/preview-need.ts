import { BagError } from '../../bag/types.ts';
import type { NeedReport } from '../../report/index.ts';
import type { Executor } from '../jobs.ts';
import { assertKnown, NEED_KEYS, RUN_KEYS } from '../known-options.ts';
import { bagOf, preview, type Spec } from '../preview-file.ts';
import { Cancelled, isPromise, type PreviewProgress, type Told } from '../progress.ts';
import type { SeriesRun } from '../series.ts';
import { createStop, heed, type Stop } from '../stop.ts';
import { type Asking, type NeedOptions, type NeedProgress, needQuestion } from './find-need.ts';
import { jobOf, type Trial, type Tried, triedOf } from './search.ts';

/** How a search is run elsewhere. */
export interface NeedRun extends SeriesRun {
  /**
   * Hands of the executor, 1 to 256. What is not needed for the answer yet is settled by idle ones: the two settles that could come next. Default: only what is needed.
   */
  readonly lanes?: number;
}

/** Thrown through a search that has to wait. */
const WAITS = Symbol('waits');

/** In this thread, with a turn for others after every step. */
const here: Executor = (job, watch) => preview(job.bag, { ...job.options, ...watch });

const keyOf = ({ subject, band, factor, edgeLength, until }: Trial): string =>
  JSON.stringify([subject.stance, subject.panels, band, factor, edgeLength, until]);

/** What a settle under way may come to: enough to see what would be asked next. */
const GUESSES: readonly ((of: Trial) => Tried)[] = [
  ({ factor }) => ({ it: { factor, word: 'slumps', fit: 'too soft', side: 'soft', margin: null, status: 'settled', residual: 0 }, vertices: 0 }),
  ({ factor }) => ({ it: { factor, word: 'holds', fit: 'meets', side: 'meets', margin: null, status: 'settled', residual: 0 }, vertices: 0 }),
];

/**
 * findNeed() of a bag file, letting others work, or with its settles run by an executor: searches that do not depend on one another at once, and with `lanes` what is likely to be asked next. Same
 * figures whatever the executor and the lanes. The search is asked anew after every answer: until one is missing it is only looked up. Rejects as preview() does.
 */
export async function previewNeed(spec: Spec, o: NeedOptions & NeedRun = {}): Promise<NeedReport> {
  assertKnown(o, [...NEED_KEYS, ...RUN_KEYS, 'lanes']);
  const { signal, executor = here, lanes = 1, onProgress, ...asked } = o;
  if (!(Number.isInteger(lanes) && lanes >= 1 && lanes <= 256))
    throw new BagError([{ path: 'lanes', got: JSON.stringify(lanes) ?? String(lanes), expected: 'a whole number from 1 to 256' }]);
  heed(signal);
  let answered: unknown;
  const told = (at: NeedProgress): undefined => {
    answered = onProgress?.(at);
  };
  const question = needQuestion(bagOf(spec), { ...asked, onProgress: told }),
    stop = createStop(signal),
    answers = new Map<string, { readonly made: Tried } | { readonly error: unknown }>(),
    running = new Map<string, Promise<void>>();

  /** Asks once, with what is known; gives what is missing, in order. `guess`: what is under way is taken to have come to this. */
  const ask = (guess: ((of: Trial) => Tried) | null): { readonly report: NeedReport | null; readonly missing: ReadonlyMap<string, Trial> } => {
    const missing = new Map<string, Trial>();
    const asking: Asking = {
      settle: (of) => {
        const key = keyOf(of),
          answer = answers.get(key);
        if (answer) {
          if ('error' in answer) throw answer.error;
          return answer.made;
        }
        if (guess !== null && running.has(key)) return guess(of);
        missing.set(key, of);
        throw WAITS;
      },
      ahead: (of) => {
        if (!answers.has(keyOf(of))) missing.set(keyOf(of), of);
      },
      attempt: (search) => {
        try {
          return search();
        } catch (error) {
          if (error !== WAITS) throw error;
          return null;
        }
      },
    };
    return { report: question(asking), missing };
  };
  const begin = (key: string, of: Trial): void => {
    if (running.has(key)) return;
    const { subject, factor, edgeLength } = of,
      tell = subject.settling(factor, edgeLength < subject.edgeLength),
      heeded = heeding((at) => {
        answered = undefined;
        tell(at);
        return answered;
      }, stop);
    const work = executor(jobOf(of), { signal: stop.signal, onProgress: heeded }).then(
      (result) => void answers.set(key, { made: triedOf(result, factor) }),
      (error: unknown) => void answers.set(key, { error }),
    );
    running.set(
      key,
      work.finally(() => running.delete(key)),
    );
  };
  try {
    for (;;) {
      heed(stop.signal);
      const { report, missing } = ask(null);
      if (report) return report;
      const needed = executor === here ? [...missing].slice(0, 1) : [...missing];
      for (const [key, of] of needed) begin(key, of);
      for (const guess of GUESSES) {
        if (running.size >= lanes) break;
        for (const [key, of] of likely(ask, guess)) if (running.size < lanes) begin(key, of);
      }
      await Promise.race(running.values());
    }
  } finally {
    // What was only likely to be asked is not wanted any more.
    stop.stop(new Cancelled());
    stop.release();
  }
}

/** What would be missing if what is under way came to this. What such a guess leads astray asks nothing. */
function likely<T>(ask: (guess: T) => { readonly missing: ReadonlyMap<string, Trial> }, guess: T): ReadonlyMap<string, Trial> {
  try {
    return ask(guess).missing;
  } catch {
    return new Map();
  }
}

/** Progress whose answer of false, or a promise of it, stops the whole search; what settles waits for a promise where it can. */
function heeding(told: (at: PreviewProgress) => unknown, stop: Stop): Told<PreviewProgress> {
  const heard = (answer: unknown): void => {
    if (answer === false) stop.stop(new Cancelled());
  };
  return (at) => {
    if (stop.signal.aborted) return undefined;
    try {
      const answer = told(at);
      if (isPromise(answer)) answer.then(heard, stop.stop);
      else heard(answer);
      return answer as ReturnType<Told<PreviewProgress>>;
    } catch (error) {
      stop.stop(error);
      return false;
    }
  };
}
