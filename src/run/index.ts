/** The way through the house as code: a scene, a band's run, previews, maps, sweeps, changes, needs. */
export { type ChangeOptions, rankChanges } from './changes.ts';
export {
  type ChooseOptions,
  CRITERIA,
  choose,
  chooseAmong,
  type Kept,
  type PreparedShelf,
  prepareShelf,
  type WrittenChoice,
  writtenChoice,
} from './choose/index.ts';
export { cornersPressed } from './corners.ts';
export { finishedParts } from './finished-parts.ts';
export type { Executor, JobOptions, JobWatch, PreviewJob } from './jobs.ts';
export { GAP_REACH, type Settled, settledMaps } from './maps.ts';
export { coarseEdge, EDGE_RANGE, usualEdge } from './mesh-size.ts';
export { findNeed, type NeedOptions, type NeedProgress, type NeedRun, previewNeed } from './need/index.ts';
export * from './plan/index.ts';
export { prepare, previewBag } from './preview.ts';
export { type AsyncOptions, preview, previewSync } from './preview-file.ts';
export { previewAnchors, previewChanges, previewLoads, previewSingleChanges } from './previews.ts';
export { Cancelled, type EarlyNews, type PreviewProgress, type RunProgress, type SeriesProgress, type Told } from './progress.ts';
export { type OpenedResults, openResults, resultsAgain } from './results-again.ts';
export { BANDS, prepareScene, type Scene, type SceneOptions, sew } from './scene.ts';
export type { SeriesRun } from './series.ts';
export { type PreviewOptions, settleBag, settlingBag, type Unchecked, weigh } from './settle-bag.ts';
export type { StopSignal } from './stop.ts';
export {
  type AnchorSweepOptions,
  type LoadSweepOptions,
  type SingleChangeOptions,
  type SweepOptions,
  singleChanges,
  sweepAnchors,
  sweepLoad,
  usualDistances,
} from './sweep/index.ts';
export { fall, strapsAt } from './watch.ts';
export { type ListMaker, wholeReport } from './whole-report.ts';
