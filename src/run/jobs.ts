import type { Bag } from '../bag/types.ts';
import { layUp } from '../material/index.ts';
import type { BagLaminates, Band } from '../material/types.ts';
import { alike } from '../numerics/index.ts';
import type { Result } from '../report/types.ts';
import { drop } from '../solver/rigid.ts';
import { Cancelled, forward, isPromise, type PreviewProgress, type Told } from './progress.ts';
import { assertAsked, BANDS } from './scene.ts';
import { bandsOf, type PreviewOptions, withRuns } from './settle-bag.ts';
import { allTogether, createStop, type Stop, type StopSignal } from './stop.ts';

/** What a job is asked: a preview's options, without what cannot be sent elsewhere. Plain data. */
export type JobOptions = Omit<PreviewOptions, 'onProgress' | 'onWord' | 'now' | 'drop'>;

/** A preview, or a part of one, that may be run anywhere: in this thread, in a worker, on another machine. Plain data; its bag has been read and checked already. */
export interface PreviewJob {
  readonly bag: Bag;
  readonly options: JobOptions;
}

/** Who follows a job. */
export interface JobWatch {
  readonly onProgress?: Told<PreviewProgress>;
  /** Aborted: the job is not wanted any more; the promise should reject soon, with the signal's reason. */ readonly signal?: StopSignal;
}

/**
 * Runs a job: previewSync(job.bag, job.options) wherever it likes. preview() with an executor hands it every end of the band that is asked for by name, all at once; it may
 * take them in any order and as many at a time as it has hands. Without `bands` it is one job, because an end whose word follows from the middle's is not run. `slumpline/worker` has one over threads.
 */
export type Executor = (job: PreviewJob, watch: JobWatch) => Promise<Result>;

/** Order in which jobs are best begun: the middle may be asked again on another mesh and with its corners pressed, soft cloth takes longest to come down. */
const LONGEST_FIRST: readonly Band[] = ['mid', 'low', 'high'];

/** A preview in parts. Ends of the band with the same cloth stay together, because they are settled once. Throws BagError for what cannot be asked. */
function partsOf(bag: Bag, o: JobOptions): PreviewJob[] {
  const bands = bandsOf(o),
    { option } = assertAsked(bag, { ...o, drop });
  // Which ends are run hangs on the middle then.
  if (o.bands === undefined) return [{ bag, options: o }];
  const groups: { readonly cloth: BagLaminates; readonly bands: Band[] }[] = [];
  for (const band of LONGEST_FIRST.filter((b) => bands.includes(b))) {
    const cloth = layUp(bag, option.name, band),
      same = groups.find((g) => alike(g.cloth, cloth));
    if (same) same.bands.push(band);
    else groups.push({ cloth, bands: [band] });
  }
  return groups.map((g) => ({ bag, options: { ...o, bands: bands.filter((b) => g.bands.includes(b)) } }));
}

/** How far parts of a whole are, told as one. */
export interface Shared<P> {
  readonly tell: (i: number, at: P) => void;
  /** The part is done, whatever it told last: what comes next is told beside it. */ readonly finish: (i: number) => void;
}

/** Parts of a whole, each by its share. An answer of false, or a promise of it, stops the whole. */
export function shared<P extends { readonly fraction: number }>(shares: readonly number[], told: Told<P> | undefined, stop: Stop): Shared<P> {
  const total = shares.reduce((sum, s) => sum + s, 0),
    done = shares.map(() => 0);
  const heed = (answer: unknown): void => {
    if (answer === false) stop.stop(new Cancelled());
  };
  return {
    tell: (i, at) => {
      done[i] = Math.max(done[i]!, at.fraction);
      if (told === undefined || stop.signal.aborted) return;
      const answer = told({ ...at, fraction: done.reduce((sum, d, k) => sum + d * shares[k]!, 0) / total });
      if (isPromise(answer)) answer.then(heed, stop.stop);
      else heed(answer);
    },
    finish: (i) => {
      done[i] = 1;
    },
  };
}

/** previewBag() with its parts run by an executor. Same bytes, whatever the order in which they come back. Rejects as preview() does. */
export async function previewInParts(bag: Bag, o: JobOptions, executor: Executor, watch: JobWatch): Promise<Result> {
  const jobs = partsOf(bag, o),
    stop = createStop(watch.signal);
  const { tell, finish } = shared(
    jobs.map((j) => j.options.bands?.length ?? 1),
    watch.onProgress && forwardAny(watch.onProgress),
    stop,
  );
  try {
    const parts = await allTogether(
      jobs.map((job, i) => async () => {
        const part = await executor(job, { signal: stop.signal, onProgress: (at) => tell(i, at) });
        finish(i);
        return part;
      }),
      stop,
    );
    if (o.bands === undefined) return parts[0]!;
    const lead = parts.find((_, i) => jobs[i]!.options.bands!.includes('mid')) ?? parts[0]!;
    return withRuns(
      bag,
      lead,
      BANDS.filter((band) => bandsOf(o).includes(band)).map((band) => parts.flatMap((p) => p.runs).find((r) => r.band === band)!),
    );
  } finally {
    stop.release();
  }
}

/** Fractions that only go forward, with whatever is answered. */
function forwardAny(told: Told<PreviewProgress>): Told<PreviewProgress> {
  let answer: unknown;
  const on = forward<PreviewProgress>((at) => {
    answer = told(at);
    return undefined;
  });
  return (at) => {
    on(at);
    return answer;
  };
}
