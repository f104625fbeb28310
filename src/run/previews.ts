import type { AnchorSweep, ChangeReport, LoadSweep, SingleChange } from '../report/index.ts';
import { type ChangeOptions, changeSeries } from './changes.ts';
import type { Executor } from './jobs.ts';
import { assertKnown, RUN_KEYS, SERIES_KEYS } from './known-options.ts';
import { bagOf, preview, type Spec } from './preview-file.ts';
import type { SeriesProgress, Told } from './progress.ts';
import { runSeriesWith, type Series, type SeriesRun } from './series.ts';
import { type AnchorSweepOptions, anchorSeries, type LoadSweepOptions, loadSeries, type SingleChangeOptions, singleChangeSeries } from './sweep/index.ts';

/** In this thread, with a turn for others after every step. */
const here: Executor = (job, watch) => preview(job.bag, { ...job.options, ...watch });

const run = <T>(series: Series<T>, { signal, executor, onProgress }: SeriesRun & { readonly onProgress?: Told<SeriesProgress> }): Promise<T> =>
  runSeriesWith(series, executor ?? here, { signal, onProgress, ...(executor ? {} : { lanes: 1 }) });

/** rankChanges() of a bag file, letting others work, or with its previews run by an executor. Same figures. Rejects as preview() does. */
export async function previewChanges(spec: Spec, o: ChangeOptions & SeriesRun = {}): Promise<ChangeReport> {
  assertKnown(o, [...SERIES_KEYS, ...RUN_KEYS]);
  return run(changeSeries(bagOf(spec), o), o);
}

/** sweepAnchors() in the same way. onStep is told of hangings as they come, in whatever order. */
export const previewAnchors = async (spec: Spec, o: AnchorSweepOptions & SeriesRun): Promise<AnchorSweep> => run(anchorSeries(bagOf(spec), o), o);

/** sweepLoad() in the same way. */
export const previewLoads = async (spec: Spec, o: LoadSweepOptions & SeriesRun): Promise<LoadSweep> => run(loadSeries(bagOf(spec), o), o);

/** singleChanges() in the same way. */
export const previewSingleChanges = async (spec: Spec, o: SingleChangeOptions & SeriesRun = {}): Promise<readonly SingleChange[]> =>
  run(singleChangeSeries(bagOf(spec), o), o);
