import type { Bag } from '../bag/types.ts';
import { layUp } from '../material/index.ts';
import type { BagLaminates, Band } from '../material/types.ts';
import { alike } from '../numerics/index.ts';
import { endThatFollows, withFollowing } from '../report/index.ts';
import type { BandRun, Result } from '../report/types.ts';
import { drop } from '../solver/rigid.ts';
import { CHECK_STAGE, type Checked, checkedBy, checksOf } from './checks.ts';
import { Cancelled, forward, isPromise, type PreviewProgress, type Told } from './progress.ts';
import { assertAsked, BANDS } from './scene.ts';
import { bandsOf, type PreviewOptions, withRuns } from './settle-bag.ts';
import { allTogether, createStop, type Stop, type StopSignal } from './stop.ts';

/** What a job is asked: a preview's options, without what cannot be sent elsewhere. Plain data. */
export type JobOptions = Omit<PreviewOptions, 'onProgress' | 'onWord' | 'onUnchecked' | 'now' | 'drop'>;

/** A preview, or a part of one, that may be run anywhere: in this thread, in a worker, on another machine. Plain data; its bag has been read and checked already. */
export interface PreviewJob {
  readonly bag: Bag;
  readonly options: JobOptions;
}

/** Who follows a job. */
export interface JobWatch {
  readonly onProgress?: Told<PreviewProgress>;
  /** Told the word of a run as soon as it is certain, where who runs it can tell. */ readonly onWord?: PreviewOptions['onWord'];
  /** Aborted: the job is not wanted any more; the promise should reject soon, with the signal's reason. */ readonly signal?: StopSignal;
}

/**
 * Runs a job: previewSync(job.bag, job.options) wherever it likes. preview() with an executor hands it every end of the band that is asked for by name, all at once; without `bands`
 * the middle first, because an end whose word follows from the middle's is not run. When the middle is at rest, what it is asked once more (another mesh, its corners pressed) are jobs as well. It may
 * take them in any order and as many at a time as it has hands. `slumpline/worker` has one over threads.
 */
export type Executor = (job: PreviewJob, watch: JobWatch) => Promise<Result>;

/** Who follows a preview in parts. */
export interface PartsWatch extends JobWatch {
  readonly onUnchecked?: PreviewOptions['onUnchecked'];
  /** Begin an end of the band beside the middle, before it is known whether its word follows. */ readonly ahead?: boolean | undefined;
}

/** Order in which jobs are best begun: the middle may be asked again on another mesh and with its corners pressed, soft cloth takes longest to come down. */
const LONGEST_FIRST: readonly Band[] = ['mid', 'low', 'high'];

/** Ends of the band that are asked for, those with the same cloth together, because they are settled once. Throws BagError for what cannot be asked. */
function groupsOf(bag: Bag, o: JobOptions): readonly (readonly Band[])[] {
  const bands = bandsOf(o),
    { option } = assertAsked(bag, { ...o, drop });
  const groups: { readonly cloth: BagLaminates; readonly bands: Band[] }[] = [];
  for (const band of LONGEST_FIRST.filter((b) => bands.includes(b))) {
    const cloth = layUp(bag, option.name, band),
      same = groups.find((g) => alike(g.cloth, cloth));
    if (same) same.bands.push(band);
    else groups.push({ cloth, bands: [band] });
  }
  return groups.map((g) => bands.filter((b) => g.bands.includes(b)));
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

/**
 * previewBag() with its parts run by an executor: ends of the band, and what the middle is asked once more, beside one another as far as one does not hang on the other. Same
 * bytes, whatever the order in which they come back. Rejects as preview() does.
 */
export async function previewInParts(bag: Bag, o: JobOptions, executor: Executor, watch: PartsWatch): Promise<Result> {
  const groups = groupsOf(bag, o),
    // Which ends are run hangs on the middle where they are not named.
    waits = o.bands === undefined && groups.length > 1,
    first = groups.filter((g) => !waits || g.includes('mid')),
    stop = createStop(watch.signal);
  const lanes = [...groups.map((g) => g.length), 0, 0],
    { tell, finish } = shared(lanes, watch.onProgress && forwardAny(watch.onProgress), stop);
  const run = async (i: number, job: PreviewJob, lead: string, { signal }: Stop, onWord?: JobWatch['onWord']): Promise<Result> => {
    const part = await executor(job, { signal, onProgress: (at) => tell(i, { ...at, stage: `${lead}${at.stage}` }), ...(onWord ? { onWord } : {}) });
    finish(i);
    return part;
  };
  const settled = (bands: readonly Band[], own = stop): Promise<Result> =>
    run(groups.indexOf(bands), { bag, options: { ...o, bands, askAgain: false, corners: false } }, '', own, heard);
  // Begun while the middle is still on its way, and given up if its word follows.
  const ahead = beginner(settled, stop);
  const end = (band: Band) => groups.find((g) => waits && !g.includes('mid') && g.includes(band));
  const heard: JobWatch['onWord'] = (news) => {
    watch.onWord?.(news);
    if (!watch.ahead || news.band !== 'mid' || news.word !== 'slumps') return;
    // A bag that has come down comes down when it is softer, too.
    if (end('low')?.length === 1) ahead.giveUp(end('low')!);
    ahead.begin(end('high'));
  };
  const checked: Checked[] = [],
    parts: Result[] = [];
  let follows: Band | null = null;
  /** The middle's checks, and where they wait for it the other ends. */
  const after = (middle: Result): (() => Promise<void>)[] => {
    const mid = middle.runs.find((r) => r.band === 'mid');
    if (!mid) return [];
    const checks = checksOf(bag, mid, o);
    if (checks.length > 0) watch.onUnchecked?.({ result: withRuns(bag, middle, [mid]), checks: checks.map((c) => c.kind) });
    if (o.bands === undefined && !checks.some((c) => c.kind === 'again')) follows = endThatFollows(mid);
    const others = waits ? groups.filter((g) => !first.includes(g)) : [],
      rest = others.filter((g) => g.length > 1 || g[0] !== follows);
    for (const g of others)
      if (!rest.includes(g)) {
        ahead.giveUp(g);
        finish(groups.indexOf(g));
      }
    return [
      ...checks.map((check, k) => async () => {
        const options = { ...o, bands: ['mid'], edgeLength: check.edgeLength, seed: check.seed, askAgain: false, corners: false } as const,
          { runs } = await run(groups.length + k, { bag: check.bag, options }, `${CHECK_STAGE[check.kind]}, `, stop);
        checked[k] = checkedBy(check, runs[0]!);
      }),
      ...rest.map((g) => async () => {
        parts.push(await ahead.result(g));
      }),
    ];
  };
  try {
    const begun = allTogether(
      first.map((g) => async () => {
        const part = await settled(g);
        parts.push(part);
        await allTogether(after(part), stop);
      }),
      stop,
    );
    if (watch.ahead) ahead.begin(end('low'));
    await begun;
    return together(bag, parts, checked, follows);
  } finally {
    await ahead.end();
    stop.release();
  }
}

/** Work that is begun before it is known whether it is wanted. */
function beginner<K, T>(work: (key: K, stop: Stop) => Promise<T>, outer: Stop) {
  const begun = new Map<K, { readonly stop: Stop; readonly result: Promise<T> }>();
  const begin = (key: K | undefined): void => {
    if (key === undefined || begun.has(key) || outer.signal.aborted) return;
    const stop = createStop(outer.signal),
      result = work(key, stop);
    // What is given up, or fails while it may not be wanted, is nobody's fault yet.
    result.catch(() => {});
    begun.set(key, { stop, result });
  };
  return {
    begin,
    giveUp: (key: K): void => {
      begun.get(key)?.stop.stop(new Cancelled());
      begun.delete(key);
    },
    result: (key: K): Promise<T> => begun.get(key)?.result ?? work(key, outer),
    /** Waits until what was begun has let go. */
    end: async (): Promise<void> => {
      await Promise.allSettled([...begun.values()].map((b) => b.result));
      for (const b of begun.values()) b.stop.release();
    },
  };
}

/** The parts' result, as one thread would have come to it. follows: the end whose word follows from the middle's, and which is not run unless its cloth is another's. */
function together(bag: Bag, parts: readonly Result[], checked: readonly Checked[], follows: Band | null): Result {
  const found = parts.flatMap((p) => p.runs),
    bare = (run: BandRun): BandRun => ({ ...run, band: 'mid', seconds: NO_TIME }),
    // Ends with the same cloth are copies.
    same = (a: BandRun, b: BandRun): boolean => a === b || alike(bare(a), bare(b));
  const mid = found.find((r) => r.band === 'mid'),
    copied = found.some((r) => r.band === follows && found.some((other) => other !== r && same(r, other)));
  const runs = found
    .filter((r) => r.band !== follows || copied)
    .map((r) => {
      const run: BandRun = mid && same(r, mid) ? Object.assign({}, r, ...checked) : r;
      return run.band === 'mid' && follows !== null && !copied ? withFollowing(run) : run;
    });
  const lead = parts.find((p) => p.runs.some((r) => r.band === 'mid')) ?? parts[0]!;
  return withRuns(
    bag,
    lead,
    runs.sort((a, b) => BANDS.indexOf(a.band) - BANDS.indexOf(b.band)),
  );
}

const NO_TIME = { setup: 0, settle: 0, nudge: 0 } as const;

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
